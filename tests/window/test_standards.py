"""Standard trips: saved without the client, begun from, and what differs since told in sentences."""

from datetime import date

import pytest
from pytestqt.qtbot import QtBot

from lacet.service.standards import standard_trip, trip_rows
from lacet.trip import edits
from lacet.trip.library import Place
from lacet.window.dialogs.trips import Enquiry, EnquiryDialog
from lacet.window.qt_session import QtSession
from lacet.window.standards import (
    NOT_FROM_ONE,
    SAME,
    NameDialog,
    SinceStandard,
    save_as_standard,
)


@pytest.fixture
def standard(session: QtSession, monkeypatch: pytest.MonkeyPatch) -> str:
    """The id of a standard trip saved from the small one, which stays open."""
    monkeypatch.setattr(NameDialog, "said_yes", lambda dialog: dialog.name.setText("Hill and lane") or True)
    assert save_as_standard(session)
    (row,) = [row for row in trip_rows(session.session.project) if row.standard]
    return row.id


def begin(session: QtSession, standard: str, start: date | None = None) -> None:
    enquiry = Enquiry("The Elders", 3, 7, start, None if start else 9, "alder", standard)
    hubs = session.session.catalogue.current(Place)
    trip = enquiry.trip("elders", hubs, standard_trip(session.session.project, standard))
    session.session.add_trip(trip)


def test_a_standard_trip_has_the_days_and_nothing_of_the_client(session: QtSession, standard: str) -> None:
    saved = standard_trip(session.session.project, standard)
    assert saved is not None
    assert session.opened is not None
    assert session.opened.trip.id == "trip"
    assert (saved.name, saved.start) == ("Hill and lane", None)
    assert [guest.name for guest in saved.party.travellers] == ["", ""]
    assert [day.items for day in saved.variants[0].days] == [day.items for day in session.opened.variant.days]


def test_an_enquiry_begins_from_a_standard_trip(session: QtSession, standard: str, qtbot: QtBot) -> None:
    hubs = session.session.catalogue.current(Place)
    rows = [row for row in trip_rows(session.session.project) if row.standard]
    dialog = EnquiryDialog(hubs, date(2026, 11, 25), None, rows)
    qtbot.addWidget(dialog)
    dialog.name.setText("The Elders")
    assert dialog.answer().standard is None
    dialog.standard.setCurrentIndex(1)
    assert not dialog.days.isEnabled(), "the standard trip has its own"
    assert dialog.answer().standard == standard
    begin(session, standard)
    opened = session.opened
    assert opened is not None
    assert (opened.trip.name, opened.trip.month, opened.trip.started_from) == ("The Elders", 9, standard)
    assert len(opened.trip.party.travellers) == 3
    assert [len(day.items) for day in opened.variant.days] == [1, 1, 1]
    assert opened.trip.arrivals[0].hub == "alder"


def test_what_differs_since_is_told_as_it_is_edited(session: QtSession, standard: str, qtbot: QtBot) -> None:
    view = SinceStandard(session)
    qtbot.addWidget(view)
    assert view.heading.text() == NOT_FROM_ONE
    begin(session, standard, date(2027, 6, 5))
    assert [view.list.item(row).text() for row in range(view.list.count())] == [SAME]
    assert session.apply(lambda trip: edits.remove_day(trip, "v1", "d2"), "no rest")
    told = [view.list.item(row).text() for row in range(view.list.count())]
    assert any(each.startswith("Day 2: without rest at Birch") for each in told)


def test_a_standard_trip_that_is_gone_is_no_standard_trip(session: QtSession) -> None:
    assert standard_trip(session.session.project, "nowhere") is None
    assert standard_trip(session.session.project, "trip") is None, "a client's trip is none"
    assert standard_trip(session.session.project, "") is None
