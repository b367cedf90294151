"""Two people's edits of one trip: put together they equal one order of the two, or the clash is told."""

from collections.abc import Callable
from random import Random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.merge import Clash, Conflict, lay_beside, merge
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Note, Trip
from tests.trip.random_edits import random_edit
from tests.trip.sound import assert_sound
from tests.trip.strategies import trips


def two_days() -> Trip:
    return edits.add_variant(edits.new_trip("trip", "Round the crater"), name="Low", days=2)


def with_note(trip: Trip, day: int, says: str) -> Trip:
    variant = trip.variants[-1]
    return edits.place_item(
        trip, variant_id=variant.id, day_id=variant.days[day].id, item=Note(id="", says=says)
    )


def after(trip: Trip, *steps: Callable[[Trip], Trip]) -> Trip | None:
    try:
        for step in steps:
            trip = step(trip)
    except EditRefused:
        return None
    return trip


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(0, 2**32))
def test_two_edits_put_together_equal_one_order_of_the_two_or_are_told(trip: Trip, seed: int) -> None:
    chance = Random(seed)
    for _ in range(60):
        one, two = random_edit(chance, trip), random_edit(chance, trip)
        mine, theirs = after(trip, one), after(trip, two)
        if mine is None or theirs is None:
            continue
        both = merge(trip, mine, theirs)
        if isinstance(both, Conflict):
            assert both.clashes
            continue
        assert_sound(both)
        assert both in (after(trip, two, one), after(trip, one, two))


def test_cards_put_on_different_days_both_stay_under_ids_of_their_own() -> None:
    trip = two_days()
    both = merge(trip, with_note(trip, 0, "hat"), with_note(trip, 1, "boots"))
    assert both == with_note(with_note(trip, 1, "boots"), 0, "hat")


def test_two_changes_of_one_day_are_told_with_the_day() -> None:
    trip = two_days()
    variant = trip.variants[-1]
    both = merge(trip, with_note(trip, 0, "hat"), with_note(trip, 0, "boots"))
    assert both == Conflict(clashes=(Clash(field="day", variant=variant.id, day=variant.days[0].id),))


def test_a_change_of_a_day_that_the_other_took_out_is_told() -> None:
    trip = two_days()
    variant = trip.variants[-1]
    without = edits.remove_day(trip, variant.id, variant.days[0].id)
    assert isinstance(merge(trip, with_note(trip, 0, "hat"), without), Conflict)
    assert isinstance(merge(trip, without, with_note(trip, 0, "hat")), Conflict)


def test_a_side_that_changed_nothing_takes_the_other() -> None:
    trip = two_days()
    mine = with_note(trip, 0, "hat")
    assert merge(trip, mine, trip) == mine == merge(trip, trip, mine)


def test_of_two_variants_the_one_that_clashes_is_laid_beside_and_the_other_is_put_together() -> None:
    trip = two_days()
    trip = edits.copy_variant(trip, trip.variants[-1].id)
    _, first, second = trip.variants
    mine = edits.set_day_note(with_note(trip, 0, "boots"), first.id, first.days[0].id, "mine")
    mine = edits.set_trip_note(mine, "in the trip itself")
    theirs = edits.set_day_note(trip, first.id, first.days[0].id, "theirs")
    done = lay_beside(trip, mine, theirs, second.id)
    _, low, copy, beside = done.trip.variants
    assert (low.days[0].note, beside.days[0].note) == ("theirs", "mine")
    assert copy == mine.variants[-1]
    assert (done.added, done.left_out) == ((beside.id,), ())
    assert done.trip.note == "in the trip itself"


def test_what_no_variant_can_hold_is_named() -> None:
    trip = two_days()
    mine, theirs = edits.set_trip_note(trip, "mine"), edits.set_trip_note(trip, "theirs")
    done = lay_beside(trip, mine, theirs, trip.variants[0].id)
    assert (done.trip, done.added, done.left_out) == (theirs, (), ("note",))


def test_a_new_variant_of_mine_that_i_proposed_comes_beside_what_they_changed() -> None:
    trip = two_days()
    mine = edits.copy_variant(trip, trip.variants[-1].id, "New")
    mine = edits.propose(mine, mine.variants[-1].id)
    done = lay_beside(trip, mine, with_note(trip, 0, "theirs"), trip.variants[0].id)
    assert [each.name for each in done.trip.variants][-2:] == ["Low", "New (mine)"]
    assert done.left_out == ("proposed",)


def test_changes_that_rest_on_days_or_guests_of_theirs_come_beside_them() -> None:
    trip = two_days()
    variant = trip.variants[-1]
    mine = edits.copy_variant(with_note(trip, 0, "hat"), variant.id, "New")
    mine = edits.remove_variant(mine, trip.variants[0].id)
    shorter = edits.remove_day(trip, variant.id, variant.days[1].id)
    larger = edits.set_party(trip, placeholder_party(2))
    for theirs in (shorter, larger):
        done = lay_beside(trip, mine, theirs, variant.id)
        days = [each.days for each in done.trip.variants]
        assert all(each.days in days for each in (*theirs.variants, *mine.variants))
        assert done.trip.party == theirs.party
