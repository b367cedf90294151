"""What others change in the file appears on the desks by itself; what is typed there stays, and is told."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from lacet.store import open_project
from lacet.tracks.drawn import renamed
from lacet.trip.library import Lodging, Stage
from lacet.window.library import dialogs
from lacet.window.library.desk import LibraryDesk
from lacet.window.library.field_editors import LineEditor
from lacet.window.library.kind_page import KindPage
from lacet.window.qt_session import QtSession
from lacet.window.stage_desk.desk import StageDesk


@pytest.fixture
def page(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> KindPage:
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.DROP)
    desk = LibraryDesk(session)
    qtbot.addWidget(desk)
    desk.show()
    shown = desk.show_kind("lodgings")
    shown.open_item(shown.list.model.rows[0].id)
    return shown


@pytest.fixture
def stage_desk(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> StageDesk:
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton.Discard)
    desk = StageDesk(session, "climb")
    qtbot.addWidget(desk)
    desk.show()
    qtbot.waitUntil(lambda: not desk._shading.busy)
    return desk


def save_elsewhere(session: QtSession, kind: type[Lodging] | type[Stage], item_id: str, name: str) -> None:
    """As another program does; then the window's clock strikes."""
    with open_project(session.session.project.path) as other, other.unit_of_work() as unit:
        item = unit.library.latest(kind, item_id)
        assert item is not None
        unit.library.add_version(replace(item, name=name))
        unit.commit()
    session.follow()
    QApplication.processEvents()


def type_name(page: KindPage, text: str) -> None:
    editor = page.editor.form.fields["name"]
    assert isinstance(editor, LineEditor)
    editor.line.setText(text)
    editor.line.textEdited.emit(text)


def test_list_and_form_show_what_another_saved(session: QtSession, page: KindPage) -> None:
    shown = page.editor.item.id
    save_elsewhere(session, Lodging, shown, "Renamed elsewhere")
    assert "Renamed elsewhere" in [row.name for row in page.list.model.rows]
    assert page.editor.form.draft().texts["name"] == "Renamed elsewhere"
    assert not page.editor.edited


def test_what_is_typed_stays_is_told_and_goes_on_top_only_when_saved_twice(
    session: QtSession, page: KindPage
) -> None:
    shown = page.editor.item.id
    type_name(page, "Mine")
    save_elsewhere(session, Lodging, shown, "Theirs")
    assert page.editor.form.draft().texts["name"] == "Mine"
    assert "saved elsewhere meanwhile, as version 2" in page.editor.facts.text()
    assert "Theirs" in [row.name for row in page.list.model.rows]
    assert not page.editor.save()
    assert page.editor.save()
    with session.session.project.reading() as unit:
        kept = unit.library.latest(Lodging, shown)
    assert kept is not None
    assert (kept.name, kept.version) == ("Mine", 3)


def test_the_stage_desk_shows_what_another_saved(session: QtSession, stage_desk: StageDesk) -> None:
    save_elsewhere(session, Stage, "climb", "Renamed elsewhere")
    assert stage_desk.name.text() == "Renamed elsewhere"
    assert "changed elsewhere" in stage_desk.sentence.text()
    assert not stage_desk.work.changed
    stage_desk.edit(lambda each: renamed(each, "Mine"), "rename")
    assert stage_desk.save()


def test_work_on_the_stage_desk_stays_and_is_told_before_it_is_saved(
    session: QtSession, stage_desk: StageDesk
) -> None:
    stage_desk.edit(lambda each: renamed(each, "Mine"), "rename")
    save_elsewhere(session, Stage, "climb", "Theirs")
    assert stage_desk.name.text() == "Mine"
    assert "as version 2" in stage_desk.sentence.text()
    assert not stage_desk.save()
    with session.session.project.reading() as unit:
        kept = unit.library.latest(Stage, "climb")
    assert kept is not None
    assert kept.name == "Theirs"


def test_another_stage_saved_elsewhere_says_nothing(session: QtSession, stage_desk: StageDesk) -> None:
    other = next(each for each in session.session.catalogue.current(Stage) if each.id != "climb")
    stage_desk.edit(lambda each: renamed(each, "Mine"), "rename")
    save_elsewhere(session, Stage, other.id, "Theirs")
    assert stage_desk.sentence.text() == ""
    assert stage_desk.work.changed
    assert stage_desk.save()
