"""Closing: every window by its keys, all windows of a project with it, and nothing of it stays open."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from lacet.service.session import Session
from lacet.store import open_project
from lacet.trip import edits
from lacet.window import app as starting
from lacet.window.main_window import MainWindow
from lacet.window.qt_saver import QtSaver
from lacet.window.qt_session import QtSession
from tests.small_library import write_small_project

pytestmark = pytest.mark.qt_log_ignore(
    "Release of profile", "GPUInfo", "Rhi", "RHI", "This plugin does not support", extend=True
)

WINDOWS: dict[str, Callable[[MainWindow], object]] = {
    "price": lambda window: window.others.show("price"),
    "what if": lambda window: window.others.show("what if"),
    "compare": lambda window: window.others.show("compare"),
    "library": lambda window: window.show_library(),
    "drop table": lambda window: window.bring_in(),
    "stage desk": lambda window: window.open_stage_desk("climb", window),
}


@pytest.fixture
def window(tmp_path: Path, qtbot: QtBot) -> MainWindow:
    write_small_project(tmp_path / "small.lacet")
    made = starting.open_window(tmp_path / "small.lacet")
    qtbot.addWidget(made)
    made.show()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def others() -> list[QWidget]:
    return [each for each in QApplication.topLevelWidgets() if each.isVisible() and each.parentWidget()]


def to_front(other: QWidget, qtbot: QtBot) -> None:
    def is_active() -> bool:
        other.activateWindow()
        return other.isActiveWindow()

    qtbot.waitUntil(is_active)


@pytest.mark.parametrize("keys", [Qt.Key.Key_Escape, Qt.Key.Key_W])
@pytest.mark.parametrize("what", WINDOWS)
def test_every_window_closes_by_its_keys(what: str, keys: Qt.Key, window: MainWindow, qtbot: QtBot) -> None:
    WINDOWS[what](window)
    (other,) = others()
    to_front(other, qtbot)
    control = Qt.KeyboardModifier.ControlModifier if keys is Qt.Key.Key_W else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(other, keys, control)
    qtbot.waitUntil(lambda: not other.isVisible())
    assert window.isVisible()


def test_ctrl_q_closes_everything_from_any_window(window: MainWindow, qtbot: QtBot) -> None:
    for show in WINDOWS.values():
        show(window)
    other = window.others.made["price"]
    to_front(other, qtbot)
    qtbot.keyClick(other, Qt.Key.Key_Q, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: not window.isVisible())
    assert others() == []


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="open files are counted in /proc")
def test_another_project_lets_go_of_the_former_and_its_windows(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    former = window.session.session.project.path
    for show in WINDOWS.values():
        show(window)
    next_folder = tmp_path / "next"
    next_folder.mkdir()
    write_small_project(next_folder / "other.lacet")
    window.session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "last"), "last words")
    window.go_to(next_folder / "other.lacet")
    after = window.next_window
    assert after is not None
    qtbot.addWidget(after)
    assert others() == []
    assert not window.isVisible()
    names = [os.readlink(each) for each in Path("/proc/self/fd").iterdir() if each.exists()]
    assert [name for name in names if name.startswith(str(former))] == []
    with open_project(former) as project, project.reading() as unit:
        assert unit.trips.load("trip")[0].variants[0].days[0].note == "last"


def test_saved_is_said_after_the_commit(tmp_path: Path, qtbot: QtBot) -> None:
    write_small_project(tmp_path / "small.lacet")
    session = Session(open_project(tmp_path / "small.lacet"), saver=QtSaver())
    session.open_trip("trip")
    shown = QtSession(session)
    with qtbot.waitSignal(shown.kept) as told:
        shown.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "mine"), "note")
        # The gesture is over and seen; the answer comes with the events.
        assert session.opened is not None
        assert session.opened.variant.days[0].note == "mine"
    assert told.args == ["Saved: note"]
    with session.project.reading() as unit:
        assert unit.trips.load("trip")[0].variants[0].days[0].note == "mine"
    shown.stop_following()
    session.close()
