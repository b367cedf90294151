"""What other trips have taken, against counting by hand over the bookings."""

import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.store import Project, UnitOfWork, open_project, taken
from lacet.trip.bookings import Booking, Bookings, cancel
from lacet.trip.commitments import NO_COMMITMENTS
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service

DAY = date(2027, 2, 26)
AS_OF = date(2027, 1, 10)

BOOKINGS = st.builds(
    Booking,
    id=st.uuids().map(str),
    service=st.sampled_from((Service.LODGING, Service.BIKE)),
    supplier=st.sampled_from(("weir", "forge")),
    detail=st.sampled_from(("", "double")),
    from_day=st.integers(0, 6).map(lambda n: DAY + timedelta(n)),
    to_day=st.integers(3, 9).map(lambda n: DAY + timedelta(n)),
    quantity=st.integers(0, 3),
    state=st.sampled_from(BookingState),
    option_until=st.none() | st.integers(-3, 3).map(lambda n: AS_OF + timedelta(n)),
)


def by_hand(bookings: list[Booking], as_of: date | None) -> dict[object, int]:
    """A house is taken until the morning of the last day, everything else through it."""
    taken: Counter[object] = Counter()
    for one in bookings:
        ran_out = as_of is not None and one.option_until is not None and one.option_until < as_of
        holds = one.state is BookingState.CONFIRMED or (one.state is BookingState.OPTION and not ran_out)
        nights = max((one.to_day - one.from_day).days + (one.service is not Service.LODGING), 1)
        for n in range(nights if holds else 0):
            taken[one.service, one.supplier, one.detail, one.from_day + timedelta(n)] += one.quantity
    return {key: count for key, count in taken.items() if count}


def sound(bookings: list[Booking]) -> list[Booking]:
    return [one for one in bookings if one.from_day <= one.to_day]


def booked(unit: UnitOfWork, trip_id: str, bookings: list[Booking]) -> None:
    unit.trips.save(Trip(id=trip_id, name="x"), 0, "new")
    unit.bookings.place(trip_id, Bookings(tuple(bookings)), "new")


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(BOOKINGS, max_size=5).map(sound), st.lists(BOOKINGS, max_size=5).map(sound))
def test_other_trips_bookings_are_counted_by_date(
    project: Project, ours: list[Booking], theirs: list[Booking]
) -> None:
    with project.unit_of_work() as unit:
        unit.trips.remove("may", 1)
        booked(unit, "ours", ours)
        booked(unit, "theirs", theirs)
        assert unit.commitments("ours").taken == by_hand(theirs, None)
        assert unit.commitments("ours", AS_OF).taken == by_hand(theirs, AS_OF)
        assert unit.commitments("none", AS_OF).taken == by_hand(ours + theirs, AS_OF)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(BOOKINGS, max_size=4).map(sound), min_size=1, max_size=4))
def test_one_reading_for_a_list_equals_a_query_for_each_trip(
    project: Project, lists: list[list[Booking]]
) -> None:
    ids = [f"trip {number}" for number in range(len(lists))]
    with project.unit_of_work() as unit:
        for trip_id, bookings in zip(ids, lists, strict=True):
            booked(unit, trip_id, bookings)
        for as_of in (None, AS_OF):
            taken = unit.all_taken(as_of)
            for trip_id in (*ids, "may", "none"):
                assert taken.without(trip_id) == unit.commitments(trip_id, as_of)


def test_a_lone_trip_finds_nothing_taken(project: Project) -> None:
    with project.reading() as unit:
        assert unit.commitments("may") == NO_COMMITMENTS
        assert unit.commitments("other").count(Service.LODGING, "weir", "double", date(2027, 5, 4)) == 2
        assert unit.commitments("other").count(Service.LODGING, "weir", "double", date(2027, 5, 5)) == 0


def test_what_is_cancelled_frees_what_it_held_and_undo_of_the_trip_takes_nothing_back(
    project: Project,
) -> None:
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        revision = unit.trips.save(Trip(id="may", name="Bare"), unit.trips.revision("may"), "all out")
        assert unit.commitments("other") != NO_COMMITMENTS
        unit.bookings.put("may", held, cancel(held, "k1"), "cancel")
        assert unit.commitments("other") == NO_COMMITMENTS
        unit.trips.undo("may", revision)
        assert unit.commitments("other") == NO_COMMITMENTS


STEPS = st.lists(
    st.tuples(
        st.sampled_from(("ask", "change", "out", "remove", "erase", "undone")), st.integers(0, 2), BOOKINGS
    ),
    max_size=8,
)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(steps=STEPS)
def test_what_is_held_in_memory_follows_every_change_as_if_read_anew(
    path: Path, tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, int, Booking]]
) -> None:
    mine_at = Path(shutil.copy(path, tmp_path_factory.mktemp("taken")))
    with open_project(mine_at) as mine, open_project(mine_at) as theirs:
        for what, number, booking in steps:
            if booking.to_day < booking.from_day:
                continue
            does(theirs if number else mine, what, f"trip {number}", replace(booking, id=""))
            with mine.reading() as held, open_project(mine_at) as fresh, fresh.reading() as anew:
                for trip_id in ("may", "trip 0", "trip 1"):
                    assert held.commitments(trip_id, AS_OF) == anew.commitments(trip_id, AS_OF)
                assert held.all_taken(AS_OF).total == anew.all_taken(AS_OF).total


def does(project: Project, what: str, trip_id: str, booking: Booking) -> None:
    with project.unit_of_work() as unit:
        if trip_id not in {row.id for row in unit.trips.rows()}:
            unit.trips.save(Trip(id=trip_id, name="x"), 0, "new")
        held = unit.bookings.of(trip_id)
        if what == "remove":
            unit.trips.remove(trip_id, unit.trips.revision(trip_id))
        elif what == "erase":
            unit.bookings.begin_anew(trip_id, held, "erased")
        elif what == "out" and held:
            unit.bookings.place(trip_id, Bookings(held.held[:-1]), "out")
        elif what == "change" and held:
            now = replace(booking, id=held.held[0].id)
            unit.bookings.place(trip_id, Bookings((now, *held.held[1:])), "change")
        else:
            unit.bookings.place(
                trip_id, Bookings((*held.held, replace(booking, id=f"k{len(held) + 7}"))), "ask"
            )
        unit.commitments("none", AS_OF)
        if what != "undone":
            unit.commit()


def test_a_save_reads_no_booking_of_other_trips_and_an_act_is_read_alone(path: Path) -> None:
    many = [Booking(id=f"k{n}", service=Service.LODGING, supplier="weir", from_day=DAY, to_day=DAY,
                    state=BookingState.CONFIRMED) for n in range(300)]  # fmt: skip
    with open_project(path) as project, open_project(path) as other:
        with project.unit_of_work() as unit:
            booked(unit, "many", many)
            unit.commit()
        with project.reading() as unit:
            before = unit.commitments("may", AS_OF)
        with rows_read() as whole, open_project(path) as fresh, fresh.reading() as unit:
            unit.commitments("may", AS_OF)
        assert sum(whole) == 3, "one row for each slot: two nights of ours, and theirs"
        with rows_read() as read, project.unit_of_work() as unit:
            trip, revision = unit.trips.load("may")
            unit.trips.save(replace(trip, note="another"), revision, "note")
            assert unit.commitments("may", AS_OF) is before
            unit.commit()
        assert sum(read) == 0
        with other.unit_of_work() as unit:
            held = unit.bookings.of("many")
            unit.bookings.put("many", held, cancel(held, "k5"), "cancel")
            unit.commit()
        with rows_read() as read, project.reading() as unit:
            assert unit.commitments("may", AS_OF).count(Service.LODGING, "weir", "", DAY) == 299
        assert sum(read) == 1, "what the booking took before: cancelled it takes nothing"


@contextmanager
def rows_read() -> Iterator[list[int]]:
    """One for each row that a whole reading brings in, and for each booking of an act."""
    read: list[int] = []

    def counted(real: Callable[..., Iterator[Any]]) -> Callable[..., Iterator[Any]]:
        def count(*given: Any) -> Iterator[Any]:
            for each in real(*given):
                read.append(1)
                yield each

        return count

    with pytest.MonkeyPatch.context() as patch:
        for name in ("_taken", "_slots"):
            patch.setattr(taken, name, counted(getattr(taken, name)))
        yield read
