"""The page of variants side by side in a browser engine: no fault axe-core knows, no overflow."""

import json
from pathlib import Path

import pytest
from PySide6.QtWebEngineWidgets import QWebEngineView
from pytestqt.qtbot import QtBot

from tests.documents.side_by_side.test_documents import coast, page
from tests.window.test_proposal_page import AXE, RUN, Quiet, asked, load, view

__all__ = ["view"]
pytestmark = pytest.mark.qt_log_ignore("Release of profile", "GPUInfo", "Rhi", "RHI", extend=True)


@pytest.mark.parametrize("width", [1200, 360])
def test_axe_finds_no_violation_and_the_style_is_let_in(
    view: QWebEngineView, qtbot: QtBot, tmp_path: Path, width: int
) -> None:
    view.resize(width, 900)
    load(view, qtbot, page(coast()).encode(), tmp_path)
    assert asked(view, qtbot, "getComputedStyle(document.body).backgroundColor") == "rgb(255, 253, 248)"
    root = "document.documentElement"
    assert asked(view, qtbot, f"{root}.scrollWidth - {root}.clientWidth") == 0
    asked(view, qtbot, AXE.read_text(encoding="utf-8") + RUN + "1")
    qtbot.waitUntil(lambda: bool(asked(view, qtbot, "window.told")), timeout=60_000)
    told = json.loads(asked(view, qtbot, "window.told"))
    assert told["violations"] == []
    assert told["passes"] > 15
    leaf = view.page()
    assert isinstance(leaf, Quiet)
    assert leaf.complaints == []
