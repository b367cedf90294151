"""Two people's edits of one trip: put together they equal one order of the two, or the clash is told."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.edits.naming import named, without_ids
from lacet.trip.library import Ref
from lacet.trip.merge import Clash, Conflict, _parts, lay_beside, merge
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Crossing, Day, Hire, Meal, Move, Night, Note, Trip, Variant
from lacet.trip.words import Load, MealKind, Means
from tests.trip.random_edits import random_edit
from tests.trip.sound import assert_sound
from tests.trip.strategies import trips
from tests.trip.tables import four_days


def two_days() -> Trip:
    return edits.add_variant(edits.new_trip("trip", "Round the crater"), name="Low", days=2)


def with_note(trip: Trip, day: int, says: str) -> Trip:
    variant = trip.variants[-1]
    return edits.place_item(
        trip, variant_id=variant.id, day_id=variant.days[day].id, item=Note(id="", says=says)
    )


def numbered(trip: Trip) -> Trip:
    """The trip with its nights, meals, moves and hires numbered in their order: new ids may differ."""
    return replace(trip, variants=tuple(named(bare(variant)) for variant in trip.variants))


def bare(variant: Variant) -> Variant:
    hires = tuple(replace(hire, id="") for hire in variant.hires)
    return replace(variant, days=tuple(without_ids(day) for day in variant.days), hires=hires)


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
        orders = (after(trip, two, one), after(trip, one, two))
        assert numbered(both) in [numbered(order) for order in orders if order is not None]


def edited_on(chance: Random, trip: Trip, variant_id: str, days: set[str]) -> tuple[Trip, int]:
    """The trip after random edits of nothing but these days of a variant, and how many they were."""
    made = 0
    for _ in range(60):
        after_it = after(trip, random_edit(chance, trip))
        if after_it is None or after_it == trip:
            continue
        before, now = _parts(trip), _parts(after_it)
        parts = [each for each in {**before, **now} if before.get(each) != now.get(each)]
        if parts and all(each.variant == variant_id and each.day in days for each in parts):
            trip, made = after_it, made + 1
    return trip, made


def told_of(day: Day) -> Day:
    """A day without the ids of what is on it, which differ with the order of two people's edits."""
    cards = tuple(replace(each, id="") for each in day.items)
    others = tuple(
        replace(each, id="", items=tuple(replace(card, id="") for card in each.items))
        for each in day.alternatives
    )
    return replace(without_ids(day), items=cards, alternatives=others)


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(0, 2**32))
def test_many_edits_of_different_days_by_two_people_are_all_kept(trip: Trip, seed: int) -> None:
    chance = Random(seed)
    trip = replace(trip, fixed_through=None)
    variant = max(trip.variants, key=lambda each: len(each.days))
    days = [day.id for day in variant.days]
    own = set(chance.sample(days, len(days) // 2))
    mine, first = edited_on(chance, trip, variant.id, own)
    theirs, second = edited_on(chance, trip, variant.id, set(days) - own)
    event(f"edits of both: {bool(first and second)}")
    for one, other in ((mine, theirs), (theirs, mine)):
        both = merge(trip, one, other)
        assert isinstance(both, Trip), "nothing that is on different days can clash"
        assert_sound(both)
        whole, my, their = (each.variant(variant.id) for each in (both, mine, theirs))
        assert whole is not None
        assert my is not None
        assert their is not None
        wanted = [my.day(day) if day in own else their.day(day) for day in days]
        assert [told_of(day) for day in whole.days] == [told_of(day) for day in wanted if day is not None]
        assert replace(both, variants=()) == replace(trip, variants=())


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


def test_changes_of_different_parts_of_one_day_and_of_different_hires_all_stay() -> None:
    """She plans bed, dinner and bike of one guest; he the bags, a card and the bike of another."""
    trip = four_days()
    dinner = Meal(kind=MealKind.DINNER, travellers=("t1",))

    def hers(trip: Trip) -> Trip:
        trip = edits.set_night(trip, "v1", "d4", Night(lodging=Ref("h-lamp"), travellers=("t1",)))
        trip = edits.set_meal(trip, "v1", "d4", dinner)
        return edits.set_hire(trip, "v1", Hire(traveller="t1", to_day="d2"))

    def his(trip: Trip) -> Trip:
        trip = edits.set_night(trip, "v1", "d4", Night(lodging=Ref("h-weir"), travellers=("t2",)))
        trip = edits.set_move(trip, "v1", "d4", Move(load=Load.BAGS))
        trip = edits.place_item(trip, "v1", "d4", Note(id="", says="hat"))
        return edits.set_hire(trip, "v1", Hire(traveller="t2"))

    both = merge(trip, hers(trip), his(trip))
    assert isinstance(both, Trip)
    assert_sound(both)
    assert numbered(both) == numbered(hers(his(trip)))


def test_two_beds_or_two_bikes_for_one_guest_are_told() -> None:
    trip = four_days()

    def slept(house: str) -> Trip:
        return edits.set_night(trip, "v1", "d4", Night(lodging=Ref(house), travellers=("t1",)))

    def hired(bike: str) -> Trip:
        return edits.set_hire(trip, "v1", Hire(traveller="t2", bike=Ref(bike)))

    both = merge(trip, slept("h-lamp"), slept("h-weir"))
    assert isinstance(both, Conflict)
    assert [(clash.field, clash.day) for clash in both.clashes] == [("nights", "d4")]
    both = merge(trip, hired("b-hill"), hired("b-lake"))
    assert isinstance(both, Conflict)
    assert [clash.field for clash in both.clashes] == ["hires"]


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(0, 2**32))
def test_whatever_two_people_did_is_laid_beside_each_other_as_a_sound_trip(trip: Trip, seed: int) -> None:
    chance = Random(seed)
    for _ in range(12):
        mine, theirs = edited(chance, trip), edited(chance, trip)
        done = lay_beside(trip, mine, theirs, mine.variants[0].id)
        assert_sound(done.trip)
        added = [done.trip.variant(each) for each in done.added]
        if mine.party == trip.party == theirs.party:
            days = [numbered_days(each) for each in mine.variants]
            assert all(each is not None and numbered_days(each) in days for each in added)


def test_an_arrival_of_mine_and_a_departure_of_theirs_have_ids_of_their_own() -> None:
    trip = two_days()
    mine = edits.set_crossings(trip, arrivals=(Crossing(hub="quay", means=Means.FERRY),), departures=())
    theirs = edits.set_crossings(trip, arrivals=(), departures=(Crossing(hub="quay", means=Means.FERRY),))
    both = merge(trip, mine, theirs)
    assert isinstance(both, Trip)
    assert_sound(both)
    assert len(both.arrivals) == len(both.departures) == 1


def test_a_variant_that_names_a_guest_they_removed_comes_beside_without_that_guest() -> None:
    trip = four_days()
    mine = edits.set_hire(trip, "v1", Hire(traveller="t2"))
    theirs = edits.remove_traveller(trip, "t2")
    done = lay_beside(trip, mine, theirs, "v1")
    assert_sound(done.trip)
    assert done.added
    assert {hire.traveller for hire in done.trip.variants[-1].hires} == {"t1"}


def numbered_days(variant: Variant) -> tuple[object, ...]:
    """What a variant says of its days, whatever its cards are called."""
    made = named(bare(variant))
    return (*(tuple(replace(item, id="") for item in day.items) for day in made.days), made.hires)


def edited(chance: Random, trip: Trip) -> Trip:
    """The trip after up to eight edits, of which some are refused."""
    for _ in range(chance.randint(1, 8)):
        trip = after(trip, random_edit(chance, trip)) or trip
    return trip
