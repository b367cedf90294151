"""The file is lost under an open window: it is said, nothing is lost, and work goes on elsewhere."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from lacet.service.session import Session
from lacet.store import open_project
from lacet.store import project as project_room
from lacet.trip import edits
from lacet.window import lost_file
from lacet.window.app import open_window
from lacet.window.dialogs.lost import ELSEWHERE, LATER, LostDialog
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession
from tests.small_library import write_small_project
from tests.window.conftest import TODAY

pytestmark = pytest.mark.qt_log_ignore("Release of profile", "GPUInfo", "Rhi", "RHI", extend=True)


def remove(path: Path) -> None:
    path.unlink()


def replace(path: Path) -> None:
    shutil.copy(path, path.with_name("older"))
    path.with_name("older").replace(path)


def cut_short(path: Path) -> None:
    os.truncate(path, path.stat().st_size - 4096)


def rename_folder(path: Path) -> None:
    path.parent.rename(path.parent.with_name("renamed"))


LOSSES = [remove, replace, cut_short, rename_folder]


@pytest.fixture
def session(tmp_path: Path, qtbot: QtBot) -> Iterator[QtSession]:
    """In a folder that may be renamed."""
    path = tmp_path / "folder" / "small.lacet"
    path.parent.mkdir()
    write_small_project(path)
    with open_project(path) as project:
        inner = Session(project, today=lambda: TODAY)
        inner.open_trip("trip")
        yield QtSession(inner)


@pytest.fixture
def window(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> MainWindow:
    # Where no test says otherwise nobody answers, and a window that closes loses what it has.
    monkeypatch.setattr(LostDialog, "ask", lambda *_, **__: LATER)
    made = MainWindow(session, open_window)
    qtbot.addWidget(made)
    return made


def note(session: QtSession, says: str) -> bool:
    return session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", says), says)


def first_note(session: QtSession) -> str:
    assert session.opened is not None
    return session.opened.variant.days[0].note


@pytest.mark.parametrize("lose", LOSSES)
def test_a_lost_file_is_told_by_itself_once(
    lose: Callable[[Path], None],
    window: MainWindow,
    session: QtSession,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[str] = []

    def ask(says: str, *_: object) -> str:
        asked.append(says)
        return LATER

    monkeypatch.setattr(LostDialog, "ask", lambda says, *_, **__: ask(says))
    with qtbot.waitSignal(session.file_lost):
        lose(session.session.project.path)
    session.follow()
    qtbot.waitUntil(lambda: bool(asked))
    assert len(asked) == 1
    assert "'small.lacet'" in asked[0]
    assert window.header.sentence.text().startswith("Not saved: 'small.lacet'")
    assert not window.header.elsewhere.isHidden()


# The map's browser engine grumbles about a screen without a graphics card.
@pytest.mark.parametrize("lose", LOSSES)
def test_edits_of_a_lost_file_go_on_in_the_file_it_is_saved_to(
    lose: Callable[[Path], None],
    window: MainWindow,
    session: QtSession,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    lose(session.session.project.path)
    assert not note(session, "the first refused")
    assert not session.apply(lambda trip: edits.set_day_note(trip, "v1", "d2", "the second"), "second")
    assert first_note(session) == "the first refused"
    assert session.session.has_unsaved
    monkeypatch.setattr(lost_file, "ask_elsewhere", lambda *_: tmp_path / "saved.lacet")
    window.header.elsewhere.click()
    after = window.next_window
    assert after is not None
    qtbot.addWidget(after)
    assert not window.isVisible()
    assert after.session.session.project.path == tmp_path / "saved.lacet"
    assert after.session.opened is not None
    assert [day.note for day in after.session.opened.variant.days[:2]] == ["the first refused", "the second"]
    assert after.header.sentence.text().startswith("Saved as saved.lacet.")
    assert note(after.session, "goes on")


def test_what_was_edited_while_the_file_was_away_is_kept_when_it_comes_back(
    window: MainWindow, session: QtSession
) -> None:
    path = session.session.project.path
    rename_folder(path)
    note(session, "meanwhile")
    path.parent.with_name("renamed").rename(path.parent)
    session.follow()
    assert window.header.elsewhere.isHidden()
    assert not session.session.has_unsaved
    with open_project(path) as project, project.reading() as unit:
        kept, _ = unit.trips.load("trip")
        assert kept.variants[0].days[0].note == "meanwhile"
    assert session.undo()
    assert first_note(session) != "meanwhile"


def test_a_window_with_unsaved_edits_asks_before_it_closes(
    window: MainWindow, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    remove(session.session.project.path)
    note(session, "only here")
    monkeypatch.setattr(LostDialog, "ask", lambda *_, **__: ELSEWHERE)
    monkeypatch.setattr(lost_file, "ask_elsewhere", lambda *_: None)
    window.show()
    assert not window.close()
    assert window.isVisible()
    monkeypatch.setattr(LostDialog, "ask", lambda *_, **__: LATER)
    assert window.close()


def test_a_target_that_is_there_is_left_and_said(
    window: MainWindow, session: QtSession, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    remove(session.session.project.path)
    note(session, "only here")
    letter = tmp_path / "letter.lacet"
    letter.write_text("dear")
    monkeypatch.setattr(lost_file, "ask_elsewhere", lambda *_: letter)
    assert not window.lost_file.save_elsewhere()
    assert "is there already" in window.header.sentence.text()
    assert letter.read_text() == "dear"
    assert session.session.has_unsaved


def test_a_project_that_may_only_be_read_says_so_and_refuses_edits_by_one_sentence(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    # Root may write everything, so it is played.
    monkeypatch.setattr(project_room, "_may_be_written", lambda _: False)
    path.chmod(0o444)
    with open_project(path) as project:
        inner = Session(project, today=lambda: TODAY)
        inner.open_trip("trip")
        session = QtSession(inner)
        window = MainWindow(session, open_window)
        qtbot.addWidget(window)
        assert not window.header.read_only.isHidden()
        assert window.header.read_only.text() == "Read only"
        before = session.opened
        assert not note(session, "refused")
        assert session.opened is before
        assert "'small.lacet' may only be read." in window.header.sentence.text()
        assert not session.session.has_unsaved


def test_a_project_that_may_be_written_says_nothing_of_it(window: MainWindow) -> None:
    assert window.header.read_only.isHidden()
    assert window.header.elsewhere.isHidden()
