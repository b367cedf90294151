"""Windows on the small library, for tests that need one."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from lacet.service.session import Session
from lacet.store import open_project
from lacet.window.qt_session import QtSession
from tests.small_library import write_small_project

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def _no_settings_from_before() -> None:
    """Qt keeps settings in memory, whatever home it was given."""
    QSettings().clear()


@pytest.fixture(autouse=True)
def _sessions_end_with_their_test(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Else one is garbage with its timer running, and another test's thread may be the one to collect it."""
    made: list[QtSession] = []
    begin = QtSession.__init__

    def begin_remembered(self: QtSession, inner: Session) -> None:
        made.append(self)
        begin(self, inner)

    monkeypatch.setattr(QtSession, "__init__", begin_remembered)
    yield
    for each in made:
        each.stop_following()


@pytest.fixture
def session(tmp_path: Path, qtbot: QtBot) -> Iterator[QtSession]:
    """A session on the small trip, which is open."""
    path = tmp_path / "small.lacet"
    write_small_project(path)
    with open_project(path) as project:
        inner = Session(project, today=lambda: TODAY)
        inner.open_trip("trip")
        yield QtSession(inner)
