"""The first picture: what it says is what was last seen, and it needs nothing heavy."""

import os
import subprocess
import sys
from pathlib import Path

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

import lacet
from lacet.window.main_window import MainWindow
from lacet.window.opening import Opening, keep_last_seen, last_seen
from lacet.window.qt_session import QtSession

HEAVY = ("sqlalchemy", "numpy", "babel", "pyqtgraph", "PySide6.QtWebEngineCore", "lacet.session")


def test_it_says_the_totals_as_they_were_when_the_window_was_closed(qtbot: QtBot, session: QtSession) -> None:
    window = MainWindow(session)
    qtbot.addWidget(window)
    session.session.reload_library()
    window.close()
    path = session.session.project.path
    opening = Opening(path)
    qtbot.addWidget(opening)
    said = [each.text() for each in opening.findChildren(QLabel)]
    assert not any("Test trip" in text for text in said)
    assert any("3 days" in text and "€" not in text for text in said)
    assert f"Opening {path.name}…" in said


def test_projects_do_not_mix(tmp_path: Path) -> None:
    keep_last_seen(tmp_path / "a.lacet", "3 days")
    assert last_seen(tmp_path / "a.lacet") == "3 days"
    assert last_seen(tmp_path / "b.lacet") == ""


def test_the_first_picture_imports_nothing_heavy() -> None:
    code = (
        "import sys; from lacet.window import app; made = app.make_application(['lacet']);"
        f"app.show_opening(None); print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    environment = os.environ | {"PYTHONPATH": str(Path(lacet.__file__).parents[1])}
    command = [sys.executable, "-c", code]
    found = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
