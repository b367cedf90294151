"""Two windows on one file: who comes second is asked, and neither's work is lost."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from lacet.service.session import Session
from lacet.store import open_project
from lacet.trip import edits
from lacet.window.app import open_window
from lacet.window.dialogs.race import KEEP, TAKE, RaceDialog
from lacet.window.dialogs.trips import TripChooser
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession
from tests.small_library import small_trip
from tests.window.conftest import TODAY


def test_what_another_program_changed_appears_by_itself_and_is_said(qtbot: QtBot, session: QtSession) -> None:
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    with open_project(session.session.project.path) as project:
        other = Session(project, today=lambda: TODAY)
        other.open_trip("trip")
        other.apply(lambda trip: edits.remove_day(trip, "v1", "d3"), "theirs")
    with qtbot.waitSignal(session.changed):
        pass
    assert session.opened is not None
    assert [day.id for day in session.opened.variant.days] == ["d1", "d2"]
    assert window.header.sentence.text() == "Changed elsewhere: this trip"


def test_an_open_list_of_trips_shows_what_others_add(qtbot: QtBot, session: QtSession) -> None:
    chooser = TripChooser(session)
    qtbot.addWidget(chooser)
    assert chooser.list.count() == 1
    with open_project(session.session.project.path) as project:
        Session(project, today=lambda: TODAY).add_trip(replace(small_trip(), id="more", name="One more"))
    qtbot.waitUntil(lambda: chooser.list.count() == 2)
    names = {chooser.list.item(row).text() for row in range(2)}
    assert "One more" in names
    assert chooser.chosen() == "trip"


def test_nothing_is_taken_from_others_under_a_drag(qtbot: QtBot, session: QtSession) -> None:
    session.session.start_preview(lambda trip: edits.remove_day(trip, "v1", "d1"))
    before = session.opened
    with open_project(session.session.project.path) as project:
        other = Session(project, today=lambda: TODAY)
        other.open_trip("trip")
        other.apply(lambda trip: edits.remove_day(trip, "v1", "d3"), "theirs")
    session.follow()
    assert session.opened is before
    session.session.stop_preview()
    session.follow()
    assert session.opened is not before


@pytest.mark.parametrize("keep", [True, False])
def test_the_second_to_edit_keeps_theirs_or_takes_what_is_there(
    qtbot: QtBot, session: QtSession, monkeypatch: pytest.MonkeyPatch, keep: bool
) -> None:
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    monkeypatch.setattr(RaceDialog, "ask", lambda *_: KEEP if keep else TAKE)
    with open_project(session.session.project.path) as project:
        other = Session(project, today=lambda: TODAY)
        other.open_trip("trip")
        other.apply(lambda trip: edits.remove_day(trip, "v1", "d3"), "theirs")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "mine"), "mine")
    assert session.opened is not None
    first, *more = session.opened.trip.variants
    assert [day.id for day in first.days] == ["d1", "d2"]
    assert first.days[0].note == ""
    assert [variant.days[0].note for variant in more] == (["mine"] if keep else [])
    assert session.opened.variant_id == (more[0].id if keep else "v1")
