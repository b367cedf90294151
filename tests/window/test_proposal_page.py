"""The proposal's page in a browser engine: no fault that axe-core knows, no overflow, maps that move."""

import json
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, Qt, QUrl
from PySide6.QtWebEngineCore import QWebEnginePage
from PySide6.QtWebEngineWidgets import QWebEngineView
from pytestqt.qtbot import QtBot

from lacet.documents.proposal.html import write_html
from tests.documents.material.island import hostile, made, proposal

QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
# The engine runs outside this process: its first words are about a screen it hasn't got.
pytestmark = pytest.mark.qt_log_ignore("Release of profile", "GPUInfo", "Rhi", "RHI", extend=True)
AXE = files("axe_core_python") / "axe.min.js"
RUN = """
window.told = "";
axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(
  (found) => { window.told = JSON.stringify({
    passes: found.passes.length,
    violations: found.violations.map((each) => [each.id, each.nodes.map((node) => node.html.slice(0, 200))])
  }); });
"""


class Quiet(QWebEnginePage):
    """A page that remembers what its scripts complain of, and every address that is asked for."""

    def __init__(self, parent: QWebEngineView) -> None:
        super().__init__(parent)
        self.complaints: list[str] = []

    # --- Qt's own names

    def javaScriptConsoleMessage(self, level: Any, message: str, line: int, source: str) -> None:
        self.complaints.append(message)


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[QWebEngineView]:
    made_view = QWebEngineView()
    qtbot.addWidget(made_view)
    made_view.setPage(Quiet(made_view))
    made_view.resize(1200, 900)
    made_view.show()
    yield made_view
    # The page goes while its profile is still there; Python may end them in any order.
    shiboken6.delete(made_view.page())


def load(view: QWebEngineView, qtbot: QtBot, content: bytes, folder: Path) -> None:
    file = folder / "proposal.html"
    file.write_bytes(content)
    with qtbot.waitSignal(view.loadFinished, timeout=20_000):
        view.load(QUrl.fromLocalFile(str(file)))


def asked(view: QWebEngineView, qtbot: QtBot, script: str) -> Any:
    answers: list[Any] = []
    view.page().runJavaScript(script, 0, answers.append)
    qtbot.waitUntil(lambda: bool(answers), timeout=20_000)
    return answers[0]


@pytest.mark.parametrize(("trip", "tag", "width"), [(0, "en", 1200), (1, "en", 360), (0, "de", 360)])
def test_axe_finds_no_violation(
    view: QWebEngineView, qtbot: QtBot, tmp_path: Path, trip: int, tag: str, width: int
) -> None:
    view.resize(width, 900)
    load(view, qtbot, write_html(proposal(trip, 0, tag)), tmp_path)
    asked(view, qtbot, AXE.read_text(encoding="utf-8") + RUN + "1")
    qtbot.waitUntil(lambda: bool(asked(view, qtbot, "window.told")), timeout=60_000)
    told = json.loads(asked(view, qtbot, "window.told"))
    assert told["violations"] == []
    assert told["passes"] > 20


def test_a_phone_never_scrolls_sideways(view: QWebEngineView, qtbot: QtBot, tmp_path: Path) -> None:
    view.resize(360, 740)
    root = "document.documentElement"
    for material in (proposal(), proposal(1, 0), made(*hostile("x" * 5_000))):
        load(view, qtbot, write_html(material), tmp_path)
        assert asked(view, qtbot, f"{root}.scrollWidth - {root}.clientWidth") == 0


def test_the_policy_lets_our_style_and_script_work_and_nobody_complains(
    view: QWebEngineView, qtbot: QtBot, tmp_path: Path
) -> None:
    material = made(*hostile("</script><img src=x onerror=document.title='caught'>"))
    load(view, qtbot, write_html(material), tmp_path)
    assert asked(view, qtbot, "getComputedStyle(document.body).backgroundColor") == "rgb(253, 252, 248)"
    assert asked(view, qtbot, "document.querySelectorAll('.live').length > 3")
    assert asked(view, qtbot, "document.title") != "caught"
    page = view.page()
    assert isinstance(page, Quiet)
    assert page.complaints == []


def test_a_map_is_enlarged_by_button_and_key_and_comes_back(
    view: QWebEngineView, qtbot: QtBot, tmp_path: Path
) -> None:
    load(view, qtbot, write_html(proposal()), tmp_path)
    width = "document.querySelector('.frame img').clientWidth / document.querySelector('.frame').clientWidth"
    assert asked(view, qtbot, width) == 1
    asked(view, qtbot, "document.querySelector('[data-zoom=in]').click(); 1")
    assert asked(view, qtbot, width) == pytest.approx(1.5, abs=0.01)
    key = "document.querySelector('.frame').dispatchEvent(new KeyboardEvent('keydown', {key: '%s'})); 1"
    asked(view, qtbot, key % "+")
    assert asked(view, qtbot, width) == pytest.approx(2.25, abs=0.01)
    asked(view, qtbot, key % "ArrowRight")
    assert asked(view, qtbot, "document.querySelector('.frame').scrollLeft > 0")
    asked(view, qtbot, "document.querySelector('[data-zoom=whole]').click(); 1")
    assert asked(view, qtbot, width) == 1
