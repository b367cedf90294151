"""The desk at work: lists, forms, saving as versions, undoing, and the sheet that follows."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.intake.health import Doubt
from lacet.service.library.fields import KINDS
from lacet.service.library.looking_after import remedy
from lacet.trip.library import Lodging, Ref, Restaurant, Transfer
from lacet.window.app import open_window
from lacet.window.library import dialogs
from lacet.window.library.desk import LibraryDesk
from lacet.window.library.field_editors import CalendarEditor, ChoiceEditor, LineEditor
from lacet.window.library.kind_page import KindPage
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession
from lacet.wording import Wording


@pytest.fixture
def desk(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> LibraryDesk:
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.DROP)
    made = LibraryDesk(session)
    qtbot.addWidget(made)
    made.show()
    return made


def type_into(page: KindPage, field: str, text: str) -> None:
    """As a person types: the form hears of it."""
    editor = page.editor.form.fields[field]
    if isinstance(editor, LineEditor):
        editor.line.setText(text)
        editor.line.textEdited.emit(text)
    else:
        editor.set_text(text)
        editor.changed.emit()


def save(page: KindPage) -> bool:
    """Save, and let the lists follow in the next turn of the loop."""
    done = page.editor.save()
    QApplication.processEvents()
    return done


def kept(session: QtSession, kind: type[Any], item_id: str) -> Any:
    with session.session.project.reading() as unit:
        return unit.library.latest(kind, item_id)


def test_every_list_is_a_sound_model_of_what_is_kept(desk: LibraryDesk, qtmodeltester: ModelTester) -> None:
    counts = {}
    for kind in KINDS:
        page = desk.show_kind(kind.name)
        qtmodeltester.check(page.list.model)
        counts[kind.name] = page.list.model.rowCount()
    assert counts == {
        "places": 3, "stages": 2, "lodgings": 3, "restaurants": 1, "transfers": 1, "bikes": 1, "tariffs": 0,
    }  # fmt: skip


def test_tables_in_forms_are_sound_models(desk: LibraryDesk, qtmodeltester: ModelTester) -> None:
    for kind in KINDS:
        page = desk.show_kind(kind.name)
        if page.list.model.rows:
            page.list.table.selectRow(0)
        for part in page.editor.form.parts.values():
            qtmodeltester.check(part.model)


def test_words_and_positions_find(desk: LibraryDesk, qtbot: QtBot) -> None:
    page = desk.show_kind("lodgings")
    page.list.finder.setText("ced")
    qtbot.waitUntil(lambda: page.list.model.rowCount() == 1)
    assert page.list.model.id_at(0) == "cedar-inn"
    page.list.finder.setText("44.2 -24.6")
    qtbot.waitUntil(lambda: page.list.model.id_at(0) == "quay-house")
    assert page.list.count.text() == "1 lodging"


def test_sorting_puts_unknown_last_either_way_and_keeps_the_choice(desk: LibraryDesk) -> None:
    page = desk.show_kind("transfers")
    with desk.session.session.project.unit_of_work() as unit:
        taxi = unit.library.latest(Transfer, "taxi")
        assert taxi is not None
        unit.library.add_version(replace(taxi, id="big", name="Big taxi", seats=8))
        unit.library.add_version(replace(taxi, id="unknown", name="Unknown", seats=None))
        unit.commit()
    page.list.refresh()
    page.open_item("taxi")
    for order, ids in (
        (Qt.SortOrder.AscendingOrder, ["taxi", "big", "unknown"]),
        (Qt.SortOrder.DescendingOrder, ["big", "taxi", "unknown"]),
    ):
        page.list.table.sortByColumn(4, order)
        assert [row.id for row in page.list.model.rows] == ids
        assert page.list.chosen_ids() == ["taxi"]


def test_saving_adds_a_version_and_the_sheet_takes_the_new_library(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot
) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    assert not page.editor.keep.isEnabled()
    type_into(page, "breakfast", "08:00-10:00")
    assert page.editor.keep.isEnabled()
    with qtbot.waitSignal(session.library_changed):
        assert save(page)
    house = kept(session, Lodging, "birch-house")
    assert (house.version, house.breakfast) == (2, "08:00-10:00")
    assert session.session.catalogue.latest(Lodging, "birch-house") == house
    assert page.list.chosen_ids() == ["birch-house"]
    assert not page.editor.edited
    assert page.editor.newer.text() == "1 trip has an older version…"
    assert session.opened is not None
    assert any(finding.check == "newer_version" for finding in session.opened.assessment.findings)


def test_undoing_is_one_more_version_like_the_one_before(desk: LibraryDesk, session: QtSession) -> None:
    before = kept(session, Lodging, "birch-house")
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    save(page)
    assert desk.back.isEnabled()
    desk.undo()
    assert kept(session, Lodging, "birch-house") == replace(before, version=3)
    assert not desk.back.isEnabled()
    desk.undo()
    assert "nothing to undo" in desk.sentence.text()


def test_what_is_wrong_is_told_beside_its_field_and_nothing_is_kept(
    desk: LibraryDesk, session: QtSession
) -> None:
    page = desk.show_kind("restaurants")
    page.open_item("net-loft")
    type_into(page, "opening", "whenever we like")
    editor = page.editor.form.fields["opening"]
    assert "can't be read" in editor.problem.text()
    assert not save(page)
    assert "nothing was saved" in desk.sentence.text()
    assert kept(session, Restaurant, "net-loft").version == 1


def test_opening_hours_are_told_in_a_sentence_and_for_two_weeks(desk: LibraryDesk) -> None:
    """25 November 2026, the day of these tests, is a Wednesday."""
    page = desk.show_kind("restaurants")
    page.open_item("net-loft")
    type_into(page, "opening", "We-Mo 18:00-22:00")
    editor = page.editor.form.fields["opening"]
    assert isinstance(editor, CalendarEditor)
    assert editor.sentence.text() == "Open daily 18:00 to 22:00, closed on Tuesdays."
    said = [cell.accessibleName() for cell in editor.weeks.cells]
    assert said[0] == "Wed 25 Nov: 18:00 to 22:00"
    assert said[6] == "Tue 1 Dec: closed"
    assert len(said) == 14


def test_a_new_item_is_begun_filled_and_kept(desk: LibraryDesk, session: QtSession) -> None:
    page = desk.show_kind("lodgings")
    page.begin()
    type_into(page, "name", "Gull Inn")
    type_into(page, "place", "alder")
    assert page.editor.form.map is not None
    page.editor.form.map.placed.emit(44.21, -24.59)
    assert save(page), desk.sentence.text()
    made = kept(session, Lodging, "gull-inn")
    assert (made.name, made.latitude_deg, made.longitude_deg) == ("Gull Inn", 44.21, -24.59)
    assert made.charging is None
    assert page.list.chosen_ids() == ["gull-inn"]
    desk.undo()
    assert kept(session, Lodging, "gull-inn").retired


def test_a_position_pasted_whole_is_shared_out(desk: LibraryDesk) -> None:
    page = desk.show_kind("places")
    page.open_item("alder")
    latitude = page.editor.form.fields["latitude"]
    assert isinstance(latitude, LineEditor)
    for end in range(1, len("44.25, -24.55") + 1):
        type_into(page, "latitude", "44.25, -24.55"[:end])
    assert latitude.text() == "44.25, -24.55"
    assert latitude.problem.isHidden()
    latitude.line.editingFinished.emit()
    texts = [page.editor.form.fields[name].text() for name in ("latitude", "longitude")]
    assert texts == ["44.25", "-24.55"]


def test_a_name_typed_into_a_list_is_understood(desk: LibraryDesk) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    editor = page.editor.form.fields["place"]
    assert isinstance(editor, ChoiceEditor)
    editor.box.setEditText("cedar")
    assert editor.text() == "cedar"
    editor.box.setEditText("ald")
    editor.settle()
    assert editor.text() == "alder"
    # Two names have an r and none is meant more than the other.
    editor.box.setEditText("r")
    editor.settle()
    assert editor.text() == "r"
    editor.box.setEditText("Nowhere")
    assert not save(page)
    assert "has no place 'Nowhere'" in editor.problem.text()


def test_a_version_kept_elsewhere_meanwhile_is_not_overwritten_unseen(
    desk: LibraryDesk, session: QtSession
) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    with session.session.project.unit_of_work() as unit:
        house = unit.library.latest(Lodging, "birch-house")
        assert house is not None
        unit.library.add_version(replace(house, telephone="1234"))
        unit.commit()
    assert not save(page)
    assert "was saved elsewhere meanwhile, as version 2" in desk.sentence.text()
    assert save(page)
    assert kept(session, Lodging, "birch-house").version == 3


def test_one_field_is_set_on_several_in_one_saving(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = desk.show_kind("lodgings")
    page.list.table.selectAll()
    assert page.editor.choose_one.text() == "3 lodgings are chosen."
    seen = []

    def answered(dialog: dialogs.ManyDialog) -> bool:
        dialog.field.setCurrentIndex(dialog.field.findText("E-bikes can be charged"))
        assert isinstance(dialog.editor, ChoiceEditor)
        dialog.editor.set_text("yes")
        dialog.preview()
        seen.append(dialog.summary.text())
        return True

    monkeypatch.setattr(dialogs.ManyDialog, "said_yes", answered)
    page.editor.set_field_on_many()
    qtbot.waitUntil(lambda: not page.editor.many_fields.work.busy)
    assert seen == ["2 of 3 change."]
    assert all(kept(session, Lodging, each).charging for each in ("quay-house", "birch-house", "cedar-inn"))
    assert kept(session, Lodging, "birch-house").version == 1
    desk.undo()
    assert kept(session, Lodging, "quay-house").charging is False


def test_retiring_tells_first_which_trips_use_it(
    desk: LibraryDesk, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    def asked(_: str, __: str, ___: str, consequences: tuple[str, ...], ____: object) -> bool:
        told.extend(consequences)
        return len(told) > 1

    monkeypatch.setattr(dialogs.SentencesDialog, "ask", asked)
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    page.editor.retire_or_offer()
    assert told == [
        "The trip 'Test trip' keeps version 1 as planned and sold; a finding will say that Birch House was "
        "retired and another should be chosen."
    ]
    assert not kept(session, Lodging, "birch-house").retired
    page.editor.retire_or_offer()
    assert kept(session, Lodging, "birch-house").retired
    QApplication.processEvents()
    assert page.list.model.rowCount() == 2
    page.list.retired.setChecked(True)
    page.open_item("birch-house")
    page.editor.retire_or_offer()
    assert not kept(session, Lodging, "birch-house").retired


def test_history_tells_each_version_and_takes_an_old_one_again(
    desk: LibraryDesk, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    save(page)
    shown: list[str] = []

    def answered(dialog: dialogs.HistoryDialog) -> bool:
        for row in range(dialog.table.rowCount()):
            item = dialog.table.item(row, 1)
            assert item is not None
            shown.append(item.text())
        dialog.table.selectRow(1)
        return True

    monkeypatch.setattr(dialogs.HistoryDialog, "said_yes", answered)
    page.editor.show_history()
    assert shown == ["Breakfast: '07:30-10:00' → '08:00-10:00'", "first version"]
    house = kept(session, Lodging, "birch-house")
    assert (house.version, house.breakfast) == (3, "07:30-10:00")


def test_a_trip_takes_the_newer_version_only_when_it_is_given(
    desk: LibraryDesk, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    save(page)

    def answered(dialog: dialogs.NewerDialog) -> bool:
        assert not dialog.does.isEnabled()
        dialog.boxes[0][0].setChecked(True)
        return True

    monkeypatch.setattr(dialogs.NewerDialog, "said_yes", answered)
    page.editor.give_newer()
    assert session.opened is not None
    nights = [day.nights[0].lodging for day in session.opened.trip.variants[0].days[:2]]
    assert nights == [Ref("birch-house", 2), Ref("birch-house", 2)]
    assert page.editor.newer.isHidden()


def test_leaving_what_was_typed_asks_and_staying_stays(
    desk: LibraryDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.STAY)
    other = page.list.model.row_of("cedar-inn")
    assert other is not None
    page.list.table.selectRow(other)
    assert page.list.chosen_ids() == ["birch-house"]
    assert page.editor.form.fields["breakfast"].text() == "08:00-10:00"
    assert not desk.close()
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.DROP)
    page.list.table.selectRow(other)
    assert page.editor.item.id == "cedar-inn"


def test_every_field_table_and_button_has_a_name_for_a_screen_reader(desk: LibraryDesk) -> None:
    for kind in KINDS:
        page = desk.show_kind(kind.name)
        for editor in page.editor.form.fields.values():
            assert editor.input.accessibleName()
            assert editor.input.accessibleDescription()
        for part in page.editor.form.parts.values():
            assert part.table.accessibleName()
        assert page.list.table.accessibleName() == f"List of {kind.name}"


def test_pictures_are_added_put_first_told_in_words_and_saved_with_the_item(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, tmp_path: Path
) -> None:
    paths = []
    for number, colour in enumerate(("navy", "maroon")):
        paths.append(tmp_path / f"view{number}.png")
        Image.new("RGB", (200, 150), colour).save(paths[-1])
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    row = page.editor.pictures
    row.add(paths)
    qtbot.waitUntil(lambda: len(row.ids) == 2)
    assert page.editor.keep.isEnabled()
    row.alt.setText("The house by the birches")
    row.alt.editingFinished.emit()
    last = row.ids[1]
    row._first()
    assert row.ids[0] == last
    assert save(page)
    assert kept(session, Lodging, "birch-house").picture_ids == row.ids
    with session.session.project.reading() as unit:
        picture = unit.pictures.get(last)
    assert picture is not None
    assert picture.alt == "The house by the birches"


def test_a_file_that_is_no_picture_is_refused_in_a_sentence(
    desk: LibraryDesk, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "notes.jpg").write_text("no picture")
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    page.editor.pictures.add([tmp_path / "notes.jpg"])
    qtbot.waitUntil(lambda: "is no JPEG" in page.editor.pictures.problem.text())
    assert page.editor.pictures.ids == ()


def test_stages_are_brought_in_with_their_lines(session: QtSession, qtbot: QtBot) -> None:
    wanted: list[tuple[Path, ...]] = []
    desk = LibraryDesk(session, None, lambda paths: wanted.append(tuple(paths)))
    qtbot.addWidget(desk)
    page = desk.show_kind("stages")
    assert page.list.new.text() == "Bring in…"
    page.list.new.click()
    assert wanted == [()]


def test_rates_and_surroundings_are_a_step_away(desk: LibraryDesk) -> None:
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    page.editor.show_near("restaurants")
    near = desk.current()
    assert near is not None
    assert near.kind.name == "restaurants"
    assert [row.id for row in near.list.model.rows] == ["net-loft"]
    page = desk.show_kind("lodgings")
    page.editor.show_rates()
    tariffs = desk.current()
    assert tariffs is not None
    texts = tariffs.editor.form.draft().texts
    assert (tariffs.kind.name, texts["subject"], texts["service"]) == ("tariffs", "birch-house", "lodging")


def test_lists_speak_as_the_office_does(desk: LibraryDesk, session: QtSession) -> None:
    model = desk.show_kind("stages").list.model
    row = model.row_of("climb")
    assert row is not None
    assert model.index(row, 4).data() == "9.0 km"
    session.session.speak(Wording(imperial=True))
    assert model.index(row, 4).data() == "5.6 mi"


def test_the_main_window_opens_the_desk_and_follows_it(
    session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Without a screen there is nothing to be raised above.
    monkeypatch.setattr(LibraryDesk, "raise_", lambda _: None)
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    window.commands.run("library")
    desk = window.library
    assert isinstance(desk, LibraryDesk)
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "name", "Birch Lodge")
    assert save(page)
    assert session.session.catalogue.latest(Lodging, "birch-house").name == "Birch Lodge"  # type: ignore[union-attr]  # a missing one fails as well
    desk.close()


def test_looking_for_something_else_does_not_leave_what_is_being_typed(
    desk: LibraryDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def stay(name: str, _: object) -> str:
        asked.append(name)
        return dialogs.STAY

    monkeypatch.setattr(dialogs.LeavingDialog, "ask", stay)
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    type_into(page, "breakfast", "08:00-10:00")
    page.list.finder.setText("cedar")
    page.list.refresh()
    assert not asked
    assert page.editor.edited
    page.list.finder.clear()
    page.list.refresh()
    assert page.editor.form.fields["breakfast"].text() == "08:00-10:00"
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.DROP)


def test_down_from_the_finder_chooses_the_first_and_enter_goes_on_to_its_form(
    desk: LibraryDesk, qtbot: QtBot
) -> None:
    page = desk.show_kind("lodgings")
    qtbot.keyClicks(page.list.finder, "ced")
    qtbot.keyClick(page.list.finder, Qt.Key.Key_Return)
    assert page.list.chosen_ids() == ["cedar-inn"]
    assert page.editor.item.id == "cedar-inn"
    page.list.table.activated.emit(page.list.model.index(0, 0))
    assert page.editor.form.fields["name"].input.hasFocus()


def test_only_what_a_stage_is_for_can_be_told_of_it(desk: LibraryDesk) -> None:
    page = desk.show_kind("stages")
    page.open_item("climb")
    fields = page.editor.form.fields
    assert fields["footing_walking"].isEnabled()
    assert fields["footing_cycling"].isEnabled()
    type_into(page, "ways", "walking")
    assert fields["footing_walking"].isEnabled()
    assert not fields["footing_cycling"].isEnabled()


def test_the_stage_desk_is_asked_for_a_stage(desk: LibraryDesk, session: QtSession) -> None:
    opened: list[tuple[str, object]] = []
    session.stage_desk_asked.connect(lambda stage, parent: opened.append((stage, parent)))
    page = desk.show_kind("stages")
    page.open_item("climb")
    assert not page.editor.stage_desk.isHidden()
    page.editor.stage_desk.click()
    assert opened == [("climb", desk)]
    doubt = Doubt(
        kind="stage", id="lane", name="The long lane", what="elevation", says="its climb is unknown."
    )
    desk.mend(remedy(doubt, session.session.catalogue))
    assert opened[1][0] == "lane"
    page = desk.show_kind("lodgings")
    page.open_item("birch-house")
    assert page.editor.stage_desk.isHidden()
