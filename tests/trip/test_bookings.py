"""Acts on bookings, and those of two people put together: nothing is lost, and what meets is told."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lacet.trip import bookings as asked
from lacet.trip.bookings import (
    LIVE,
    NO_BOOKINGS,
    BookedMeanwhile,
    Booking,
    Bookings,
    Change,
    changes,
    put_onto,
)
from lacet.trip.edits import EditRefused
from lacet.trip.words import BookingState, Service
from tests.trip.strategies import booked, bookings

WEIR = Booking(
    id="", service=Service.LODGING, supplier="weir", from_day=date(2027, 5, 8), to_day=date(2027, 5, 10)
)
FORGE = replace(WEIR, supplier="forge")
ONE = asked.add(NO_BOOKINGS, WEIR)


def with_state(state: BookingState, booking_id: str = "k1") -> Callable[[Bookings], Bookings]:
    return lambda held: asked.change(held, replace(held.get(booking_id) or WEIR, state=state))


def test_a_booking_gets_a_fresh_id_and_runs_forward() -> None:
    two = asked.add(ONE, FORGE)
    assert [each.id for each in two] == ["k1", "k2"]
    with pytest.raises(EditRefused, match="the same day or a later one"):
        asked.change(ONE, replace(ONE.held[0], to_day=date(2027, 5, 1)))
    with pytest.raises(EditRefused, match="for at least one"):
        asked.add(ONE, replace(FORGE, quantity=0))
    with pytest.raises(EditRefused, match="at least one traveller"):
        asked.add(ONE, replace(FORGE, travellers=()))


@pytest.mark.parametrize("act", [asked.cancel, asked.take_out])
def test_what_is_not_booked_is_neither_cancelled_nor_taken_out(act: Callable[..., Bookings]) -> None:
    with pytest.raises(EditRefused, match="no booking 'k9'"):
        act(ONE, "k9")


def test_a_cancelled_booking_stays_written_down_and_a_mistake_goes() -> None:
    cancelled = asked.cancel(ONE, "k1")
    assert [each.state for each in cancelled] == [BookingState.CANCELLED]
    assert asked.take_out(cancelled, "k1") == NO_BOOKINGS


def test_two_who_book_different_things_lose_nothing_and_ids_stay_apart() -> None:
    mine, theirs = asked.add(ONE, FORGE), asked.add(ONE, replace(WEIR, supplier="lamp"))
    both, done = put_onto(ONE, mine, theirs)
    assert [(each.id, each.supplier) for each in both] == [("k1", "weir"), ("k2", "lamp"), ("k3", "forge")]
    assert done == (Change(None, replace(FORGE, id="k3")),)


@pytest.mark.parametrize(
    ("theirs", "meets"),
    [
        (WEIR, True),
        (replace(WEIR, from_day=date(2027, 5, 9), to_day=date(2027, 5, 12)), True),
        (replace(WEIR, from_day=date(2027, 5, 10), to_day=date(2027, 5, 12)), False),
        (replace(WEIR, state=BookingState.CANCELLED), False),
        (replace(WEIR, service=Service.RESTAURANT), False),
        (FORGE, False),
        (replace(FORGE, made_for=("n3",)), False),
        (replace(FORGE, made_for=("n1",)), True),
        (replace(FORGE, service=Service.BIKE, made_for=("n1",)), False),
    ],
)
def test_the_second_who_asks_for_the_same_is_told(theirs: Booking, meets: bool) -> None:
    mine = asked.add(NO_BOOKINGS, replace(WEIR, made_for=("n1", "n2")))
    there = asked.add(NO_BOOKINGS, theirs)
    if not meets:
        assert len(put_onto(NO_BOOKINGS, mine, there)[0]) == 2
        return
    with pytest.raises(BookedMeanwhile, match="Somebody else has meanwhile") as refusal:
        put_onto(NO_BOOKINGS, mine, there)
    assert refusal.value.booking == there.held[0]


@pytest.mark.parametrize(
    "theirs",
    [
        with_state(BookingState.CONFIRMED),
        with_state(BookingState.REFUSED),
        lambda held: asked.take_out(held, "k1"),
    ],
    ids=["the same", "otherwise", "taken out"],
)
@pytest.mark.parametrize(
    "mine",
    [with_state(BookingState.CONFIRMED), lambda held: asked.take_out(held, "k1")],
    ids=["change", "out"],
)
def test_the_second_who_changes_the_same_booking_is_told(
    mine: Callable[[Bookings], Bookings], theirs: Callable[[Bookings], Bookings]
) -> None:
    with pytest.raises(BookedMeanwhile):
        put_onto(ONE, mine(ONE), theirs(ONE))


def test_one_who_confirms_and_one_who_takes_out_another_are_both_heard() -> None:
    two = asked.add(ONE, FORGE)
    both, _ = put_onto(two, with_state(BookingState.CONFIRMED)(two), asked.take_out(two, "k2"))
    assert [(each.supplier, each.state) for each in both] == [("weir", BookingState.CONFIRMED)]


ACTS = st.one_of(
    bookings().map(lambda new: lambda held: asked.add(held, new)),
    st.tuples(st.integers(0, 3), st.sampled_from(BookingState)).map(
        lambda pick: (
            lambda held: with_state(pick[1], held.held[pick[0] % len(held)].id)(held) if held else held
        )
    ),
    st.integers(0, 3).map(
        lambda pick: lambda held: asked.take_out(held, held.held[pick % len(held)].id) if held else held
    ),
)


def done(held: Bookings, acts: list[Callable[[Bookings], Bookings]]) -> Bookings:
    for act in acts:
        held = act(held)
    return held


def touched(before: Bookings, after: Bookings) -> tuple[set[str], list[Booking]]:
    """Ids of what was there and is another now, and what stands that is new or another."""
    found = changes(before, after)
    was = {each.before.id for each in found if each.before is not None}
    return was, [each.after for each in found if each.after is not None and each.after.state in LIVE]


@given(booked(), st.lists(ACTS, max_size=4), st.lists(ACTS, max_size=4))
def test_two_peoples_bookings_equal_one_order_of_the_two_or_are_told(
    base: Bookings, own: list[Callable[[Bookings], Bookings]], other: list[Callable[[Bookings], Bookings]]
) -> None:
    mine, theirs = done(base, own), done(base, other)
    (was_mine, new_mine), (was_theirs, new_theirs) = touched(base, mine), touched(base, theirs)
    same = any(
        one.service is two.service and (one.supplier == two.supplier or set(one.made_for) & set(two.made_for))
        for one in new_mine
        for two in new_theirs
    )
    try:
        both, _ = put_onto(base, mine, theirs)
    except BookedMeanwhile:
        assert was_mine & was_theirs or same, "only what both did is told"
        return
    assert not was_mine & was_theirs
    # One order of the two: theirs first, then each change of mine as it was made.
    expected = theirs
    for each in changes(base, mine):
        if each.after is None:
            expected = asked.take_out(expected, each.booking_id)
        elif each.before is None:
            expected = asked.add(expected, each.after)
        else:
            expected = asked.change(expected, each.after)
    anonymous = [[replace(one, id="") for one in held] for held in (both, expected)]
    assert anonymous[0] == anonymous[1]
    assert len({each.id for each in both}) == len(both)


@given(booked(), st.lists(ACTS, max_size=4))
def test_what_one_did_alone_is_what_is_kept(
    base: Bookings, own: list[Callable[[Bookings], Bookings]]
) -> None:
    mine = done(base, own)
    assume(mine != base)
    assert put_onto(base, mine, base)[0] == mine
    assert put_onto(base, base, mine) == (mine, ())
