"""The first picture: what it says is what was last seen, and it needs nothing heavy."""

import os
import subprocess
import sys
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

import lacet
from lacet.trip.edits import add_variant
from lacet.window.app import open_window
from lacet.window.main_window import MainWindow
from lacet.window.opening import Opening, keep_last_seen, last_seen
from lacet.window.qt_session import QtSession

HEAVY = ("sqlalchemy", "numpy", "babel", "pyqtgraph", "PySide6.QtWebEngineCore", "lacet.service.session")


def test_it_says_the_totals_as_they_were_when_the_window_was_closed(qtbot: QtBot, session: QtSession) -> None:
    window = MainWindow(session, open_window)
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


def test_no_sentence_and_no_name_makes_the_window_wider_than_a_small_screen(
    qtbot: QtBot, session: QtSession
) -> None:
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    session.session.apply(lambda trip: replace(trip, name="A trip with a name " * 8), "rename")
    for number in range(6):
        longer = partial(add_variant, name=f"A long name for variant {number}")
        session.session.apply(longer, "one more")
    window.header.show_sentence("A sentence that explains itself at length. " * 6)
    window.sheet.hover_text.setText("on day 3, before card 2. Enter drops, Esc puts back. " * 6)
    assert window.minimumSizeHint().width() <= 1280
