"""Variants are known by their letters; days take everything in them along."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import time
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.hires import days_of
from lacet.trip.trip import Alternative, Day, Hire, Trip
from lacet.trip.words import Reason
from tests.trip.strategies import trips
from tests.trip.tables import FORGE, WEIR, day_ids, four_days, leg, trip_of


@pytest.mark.parametrize(
    ("index", "letter"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (702, "AAA")]
)
def test_letters_go_on_after_z(index: int, letter: str) -> None:
    assert edits.letter_at(index) == letter


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(trips())
def test_a_copy_is_equal_but_for_id_and_name(trip: Trip) -> None:
    copied = edits.copy_variant(trip, "v1", "Other")
    original, copy = trip.variants[0], copied.variants[-1]
    assert (copy.id, copy.name) == (f"v{len(trip.variants) + 1}", "Other")
    assert replace(copy, id=original.id, name=original.name) == original


def test_a_copy_without_a_name_is_called_by_its_letter() -> None:
    assert edits.copy_variant(four_days(), "v1").variants[1].name == "B"


def test_letters_follow_the_order_of_variants() -> None:
    trip = edits.add_variant(four_days(), "By the sea", days=2)
    assert edits.letter(trip, "v2") == "B"
    assert edits.letter(edits.move_variant(trip, "v2", 0), "v2") == "A"


def test_the_last_variant_and_the_accepted_one_stay() -> None:
    trip = four_days()
    with pytest.raises(EditRefused, match="at least one"):
        edits.remove_variant(trip, "v1")
    accepted = edits.accept(edits.copy_variant(trip, "v1"), "v2", revision=7)
    with pytest.raises(EditRefused, match="accepted 'B'"):
        edits.remove_variant(accepted, "v2")
    assert len(edits.remove_variant(edits.withdraw_acceptance(accepted), "v2").variants) == 1


def test_a_variant_thrown_away_is_no_longer_proposed() -> None:
    trip = edits.propose(edits.copy_variant(four_days(), "v1"), "v2")
    assert edits.remove_variant(trip, "v2").proposed is None
    assert edits.remove_variant(trip, "v1").proposed == "v2"


def test_a_new_day_has_a_fresh_id_and_hires_stay_with_their_days() -> None:
    trip = edits.insert_day(four_days(), "v1", 2)
    assert day_ids(trip) == ["d1", "d2", "d5", "d3", "d4"]
    (hire,) = trip.variants[0].hires
    assert list(days_of(hire, trip.variants[0])) == [4, 5]


def test_a_day_put_within_a_hire_lengthens_it() -> None:
    trip = edits.insert_day(four_days(), "v1", 3)
    (hire,) = trip.variants[0].hires
    assert list(days_of(hire, trip.variants[0])) == [3, 4, 5]


def test_a_day_put_before_the_first_is_covered_by_a_hire_from_the_first_day() -> None:
    trip = trip_of(Day(id="d1"), hires=(Hire(traveller="t1"),))
    trip = edits.insert_day(trip, "v1", 0)
    (hire,) = trip.variants[0].hires
    assert list(days_of(hire, trip.variants[0])) == [1, 2]


def test_a_hire_goes_on_to_cover_the_days_it_ran_between_when_one_of_them_moves() -> None:
    trip = edits.move_day(four_days(), "v1", "d4", 0)
    (hire,) = trip.variants[0].hires
    assert (hire.from_day, hire.to_day) == ("d4", "d3")
    assert list(days_of(hire, trip.variants[0])) == [1, 2, 3, 4]


def test_a_hire_that_loses_the_day_it_ends_on_ends_a_day_earlier() -> None:
    hires = (Hire(traveller="t1", from_day="d1", to_day="d2"),)
    trip = trip_of(Day(id="d1"), Day(id="d2"), Day(id="d3"), hires=hires)
    (hire,) = edits.remove_day(trip, "v1", "d2").variants[0].hires
    assert (hire.from_day, hire.to_day) == ("d1", "d1")
    (hire,) = edits.remove_day(trip, "v1", "d1").variants[0].hires
    assert (hire.from_day, hire.to_day) == ("d2", "d2")


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(0, 2**32))
def test_days_moved_about_keep_their_hires_and_what_is_fixed(trip: Trip, seed: int) -> None:
    """A hire covers the days named as its ends after every move; the fixed days are the same days still."""
    chance = Random(seed)
    variant = trip.variants[0]
    if len(variant.days) < 2 or not trip.party.travellers:
        return
    first, last = sorted(chance.sample(range(len(variant.days)), 2))
    begins, ends = variant.days[first].id, variant.days[last].id
    who = trip.party.travellers[0].id
    trip = edits.set_hire(trip, "v1", Hire(traveller=who, from_day=begins, to_day=ends))
    fixed = [day.id for day in variant.days[: trip.fixed_days(variant)]]
    for _ in range(12):
        day_id, to = chance.choice(variant.days).id, chance.randrange(len(variant.days))
        with suppress(EditRefused):
            trip = edits.move_day(trip, "v1", day_id, to)
        now = trip.variants[0]
        covered = {
            now.days[n - 1].id for hire in now.hires if hire.traveller == who for n in days_of(hire, now)
        }
        assert {begins, ends} <= covered
        assert [day.id for day in now.days[: trip.fixed_days(now)]] == fixed


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.data())
def test_putting_a_day_in_and_taking_it_out_again_is_nothing(trip: Trip, data: st.DataObject) -> None:
    count = len(trip.variants[0].days)
    trip = replace(trip, fixed_through=None)
    at = data.draw(st.integers(0, count))
    with_day = edits.insert_day(trip, "v1", at)
    assert edits.remove_day(with_day, "v1", with_day.variants[0].days[at].id) == trip


def test_a_hire_for_one_day_goes_with_that_day() -> None:
    trip = trip_of(Day(id="d1"), Day(id="d2"), hires=(Hire(traveller="t1", from_day="d2", to_day="d2"),))
    assert edits.remove_day(trip, "v1", "d2").variants[0].hires == ()
    (hire,) = edits.remove_day(trip, "v1", "d1").variants[0].hires
    assert (hire.from_day, hire.to_day) == ("d2", "d2")


def test_what_was_overruled_on_a_day_goes_with_it_since_ids_are_used_again() -> None:
    trip = edits.remove_day(four_days(), "v1", "d3")
    assert trip.variants[0].overrules == ()
    assert edits.remove_day(four_days(), "v1", "d4").variants[0].overrules


@pytest.mark.parametrize(
    ("day_id", "to", "order"),
    [
        ("d1", 3, ["d2", "d3", "d4", "d1"]),
        ("d4", 0, ["d4", "d1", "d2", "d3"]),
        ("d2", 2, ["d1", "d3", "d2", "d4"]),
    ],
)
def test_a_day_moves_and_the_others_close_up(day_id: str, to: int, order: list[str]) -> None:
    assert day_ids(edits.move_day(four_days(), "v1", day_id, to)) == order


def test_days_under_way_stay_where_they_are() -> None:
    trip = edits.set_fixed_through(four_days(), "d2")
    attempts: tuple[Callable[[], Trip], ...] = (
        lambda: edits.move_day(trip, "v1", "d4", 1),
        lambda: edits.move_day(trip, "v1", "d2", 3),
        lambda: edits.remove_day(trip, "v1", "d1"),
        lambda: edits.insert_day(trip, "v1", 1),
        lambda: edits.set_departs(trip, "v1", "d2", time(8)),
    )
    for attempt in attempts:
        with pytest.raises(EditRefused, match="fixed: the party is under way through day 2"):
            attempt()
    assert day_ids(edits.move_day(trip, "v1", "d4", 2)) == ["d1", "d2", "d4", "d3"]


def test_days_taken_from_another_variant_keep_their_order_and_get_fresh_ids() -> None:
    trip = edits.add_variant(four_days(), days=1)
    trip = edits.take_days(trip, "v1", ("d3", "d1"), "v2", 1)
    days = trip.variants[1].days
    assert days[0].id == "d1"
    assert len({day.id for day in days}) == 3
    assert [[item.id for item in day.items] for day in days] == [[], ["i3"], ["i1", "i2"]]
    assert [night.lodging for day in days[1:] for night in day.nights] == [WEIR, FORGE]
    assert [night.id for day in days[1:] for night in day.nights] == ["n2", "n1"]


def test_as_many_days_taken_as_give_way_take_over_their_hires() -> None:
    hires = (Hire(id="h1", traveller="t1", from_day="d2", to_day="d2"),)
    made = edits.copy_variant(four_days(), "v1")
    trip = replace(made, variants=(made.variants[0], replace(made.variants[1], hires=hires)))
    taken = edits.take_days(trip, "v1", ("d3",), "v2", 1, instead_of=("d2",))
    assert len(taken.variants[1].days) == 4
    assert [night.lodging for night in taken.variants[1].days[1].nights] == [FORGE]
    new = taken.variants[1].days[1].id
    assert taken.variants[1].hires == (replace(hires[0], from_day=new, to_day=new),)
    longer = edits.take_days(trip, "v1", ("d3",), "v2", 1)
    assert longer.variants[1].hires == hires


def test_alternatives_of_a_copied_day_are_numbered_on() -> None:
    short = Alternative(id="a1", reason=Reason.SHORTER, items=(leg("i2"),))
    trip = trip_of(Day(id="d1", items=(leg("i1"),), alternatives=(short,)))
    copy = edits.take_days(trip, "v1", ("d1",), "v1", 1).variants[0].days[1]
    assert (copy.id, copy.items[0].id) == ("d2", "i3")
    assert (copy.alternatives[0].id, copy.alternatives[0].items[0].id) == ("a2", "i4")


def test_what_the_trip_does_not_have_is_refused_by_name() -> None:
    with pytest.raises(EditRefused, match="no variant 'v9'"):
        edits.insert_day(four_days(), "v9", 0)
    with pytest.raises(EditRefused, match="no day 'd9'"):
        edits.remove_day(four_days(), "v1", "d9")
    with pytest.raises(EditRefused, match="no gap between days 5 here; it can be 0 to 4"):
        edits.insert_day(four_days(), "v1", 5)
