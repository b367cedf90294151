"""Bookings in the file: who did what when, and nothing lost between two who book for one trip."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from lacet.store import Project, open_project
from lacet.store.errors import UnknownTrip
from lacet.store.known_by import KnownBy
from lacet.store.tables import BOOKINGS
from lacet.trip.bookings import NO_BOOKINGS, BookedMeanwhile, add, cancel, change, take_out
from lacet.trip.words import BookingState
from tests.store.things import GUESTS, guests_bookings, raw

AT = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


def test_every_act_is_kept_with_who_when_and_what_was_before(project: Project) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        gone = unit.bookings.put("may", held, cancel(held, "k1"), "cancel Weir", by="anna", at=AT)
        unit.bookings.put("may", gone, take_out(gone, "k1"), "a mistake", by="bert", at=AT)
        unit.commit()
    with project.reading() as unit:
        assert unit.bookings.of("may") == NO_BOOKINGS
        first, second, third = unit.bookings.history("may")
    before = guests_bookings().held[0]
    assert (first.by, first.says, first.before, first.after) == ("consultant", "ask Weir", None, before)
    cancelled = replace(before, state=BookingState.CANCELLED)
    assert second[1:] == (2, before, cancelled, "cancel Weir", "anna", AT)
    assert third[1:] == (3, cancelled, None, "a mistake", "bert", AT)


def test_what_was_taken_out_leaves_its_numbers_behind(project: Project) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        unit.bookings.put("may", held, NO_BOOKINGS, "out")
        unit.bookings.put("may", NO_BOOKINGS, held, "again")
        assert [(each.booking_id, each.revision) for each in unit.bookings.history("may")] == [
            ("k1", 1), ("k1", 2), ("k1", 3)
        ]  # fmt: skip


def test_two_who_book_for_one_trip_in_turn_lose_nothing(path: Path) -> None:
    with open_project(path) as mine, open_project(path) as theirs:
        with mine.reading() as unit:
            held = unit.bookings.of("may")
        forge, lamp = (replace(held.held[0], supplier=name) for name in ("forge", "lamp"))
        with theirs.unit_of_work() as unit:
            unit.bookings.put("may", held, add(held, lamp), "ask the lamp")
            unit.commit()
        with mine.unit_of_work() as unit:
            now = unit.bookings.put("may", held, add(held, forge), "ask the forge")
            unit.commit()
        assert [(each.id, each.supplier) for each in now] == [("k1", "weir"), ("k2", "lamp"), ("k3", "forge")]
        with theirs.reading() as unit:
            assert unit.bookings.of("may") == now


def test_the_second_who_does_something_with_the_same_is_told_and_nothing_is_kept(project: Project) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        unit.bookings.put("may", held, cancel(held, "k1"), "cancel", by="anna")
        late = add(change(held, replace(held.held[0], quantity=3)), replace(held.held[0], supplier="forge"))
        with pytest.raises(BookedMeanwhile):
            unit.bookings.put("may", held, late, "one room more", by="bert")
        assert unit.bookings.of("may") == cancel(held, "k1")
        assert [each.by for each in unit.bookings.history("may")] == ["consultant", "anna"]


def test_an_act_whose_answer_was_lost_is_not_done_twice(project: Project) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        more = add(held, replace(held.held[0], supplier="forge"))
        for _ in range(2):
            assert unit.bookings.put("may", held, more, "ask the forge", act="f00d") == more
        assert len(unit.bookings.history("may")) == 2


def test_nothing_is_booked_for_a_trip_that_is_gone(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.trips.remove("may", unit.trips.revision("may"))
        with pytest.raises(UnknownTrip, match="holds no trip 'may'"):
            unit.bookings.put("may", NO_BOOKINGS, guests_bookings(), "ask")


def test_the_columns_show_what_the_body_says(project: Project, path: Path) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        now = change(held, replace(held.held[0], quantity=5, detail="single", state=BookingState.OPTION))
        unit.bookings.put("may", held, now, "five")
        unit.commit()
    assert raw(path, "SELECT revision, quantity, detail, state FROM bookings") == [(2, 5, "single", "option")]
    assert {column.name for column in BOOKINGS.columns} >= {"body", "revision"}


def test_names_are_taken_out_of_bookings_and_their_history(project: Project) -> None:
    known = KnownBy(frozenset({GUESTS[0]}))
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        unit.bookings.put("may", held, cancel(held, "k1"), f"{GUESTS[0]} is ill")
        unit.commit()
    project.redact(known)
    with project.reading() as unit:
        kept = unit.bookings.of("may")
        assert [each.reference for each in kept] == ["WF/[erased]"]
        steps = unit.bookings.history("may")
    assert steps[-1].after == kept.held[0]
    assert [each.says for each in steps] == ["ask Weir", "[erased] is ill"]
    assert GUESTS[0] not in repr(steps)
