"""Cards are put down, moved, parted, turned round, cut; services go with the day."""

from dataclasses import replace

import pytest

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.library import Lodging, Ref, Stage
from lacet.trip.trip import About, Alternative, Day, Hire, Leg, Meal, Move, Note, Overrule, Trip
from lacet.trip.words import Load, MealKind, Reason
from tests.trip.tables import card_ids, day_ids, four_days, leg, trip_of


def cut_of(trip: Trip) -> tuple[float | None, float | None]:
    item = trip.variants[0].days[0].items[0]
    assert isinstance(item, Leg)
    return item.cut_from_m, item.cut_to_m


def test_a_card_put_down_gets_an_id_of_its_own() -> None:
    trip = edits.place_item(four_days(), "v1", "d3", leg("i1"), 1)
    assert card_ids(trip) == [["i1"], ["i2"], ["i3", "i6", "i4"], ["i5"]]


def test_a_card_between_days_makes_a_day() -> None:
    trip = edits.place_item_in_new_day(four_days(), "v1", 1, leg(""))
    assert day_ids(trip) == ["d1", "d5", "d2", "d3", "d4"]
    assert card_ids(trip)[1] == ["i6"]


@pytest.mark.parametrize(
    ("item", "day", "at", "after"),
    [
        ("i3", "d3", 1, [["i1"], ["i2"], ["i4", "i3"], ["i5"]]),
        ("i1", "d3", 1, [[], ["i2"], ["i3", "i1", "i4"], ["i5"]]),
        ("i1", "d3", None, [[], ["i2"], ["i3", "i4", "i1"], ["i5"]]),
    ],
)
def test_a_card_moves_within_its_day_or_to_another(
    item: str, day: str, at: int | None, after: list[list[str]]
) -> None:
    assert card_ids(edits.move_item(four_days(), "v1", item, day, at)) == after


def test_a_card_left_where_it_stands_changes_nothing() -> None:
    trip = four_days()
    assert edits.move_item(trip, "v1", "i3", "d3", 0) is trip


def test_a_card_cannot_leave_or_reach_a_day_under_way() -> None:
    trip = edits.set_fixed_through(four_days(), "d1")
    with pytest.raises(EditRefused, match="Day 1 is fixed"):
        edits.move_item(trip, "v1", "i1", "d3")
    with pytest.raises(EditRefused, match="Day 1 is fixed"):
        edits.move_item(trip, "v1", "i3", "d1")


def test_ways_part_by_name_and_the_whole_party_is_everybody() -> None:
    parted = edits.set_item_travellers(four_days(), "v1", "i1", ("t3", "t1", "t3"))
    assert parted.variants[0].days[0].items[0].travellers == ("t1", "t3")
    assert edits.set_item_travellers(parted, "v1", "i1", ("t1", "t2", "t3")) == four_days()


def test_a_card_for_nobody_or_for_a_stranger_is_refused() -> None:
    with pytest.raises(EditRefused, match="at least one traveller"):
        edits.set_item_travellers(four_days(), "v1", "i1", ())
    with pytest.raises(EditRefused, match="Nobody in this party is called 't9'"):
        edits.place_item(four_days(), "v1", "d1", leg("", travellers=("t9",)))


def test_turning_a_leg_round_twice_is_nothing_and_keeps_its_cut() -> None:
    trip = edits.cut_leg(four_days(), "v1", "i1", from_m=1_000, to_m=4_000, stage_length_m=9_000)
    turned = edits.reverse_leg(trip, "v1", "i1")
    assert turned != trip
    assert cut_of(turned) == (1_000, 4_000)
    assert edits.reverse_leg(turned, "v1", "i1") == trip


def test_a_cut_at_the_ends_of_the_stage_is_no_cut() -> None:
    trip = edits.cut_leg(four_days(), "v1", "i1", from_m=1_000, stage_length_m=9_000)
    assert cut_of(trip) == (1_000, None)
    assert edits.cut_leg(trip, "v1", "i1", from_m=0, to_m=9_000, stage_length_m=9_000) == four_days()


@pytest.mark.parametrize(
    ("from_m", "to_m"), [(-1, 500), (500, 9_001), (500, 500), (600, 500), (float("nan"), 500)]
)
def test_a_cut_outside_the_stage_or_without_length_is_refused(from_m: float, to_m: float) -> None:
    with pytest.raises(EditRefused, match=r"doesn't fit a stage of 9\.0 km"):
        edits.cut_leg(four_days(), "v1", "i1", from_m=from_m, to_m=to_m, stage_length_m=9_000)


def test_only_a_leg_is_turned_round() -> None:
    with pytest.raises(EditRefused, match="Only a stage"):
        edits.reverse_leg(four_days(), "v1", "i2")


def test_a_newer_version_is_taken_across_the_variant_but_not_on_days_under_way() -> None:
    trip = edits.set_fixed_through(four_days(), "d1")
    newer = edits.use_version(trip, "v1", Stage, "s-moor", 2)
    assert [day.legs()[0].stage.version for day in newer.variants[0].days if day.legs()] == [1, 1, 2]
    assert edits.uses(newer, "v1", Stage) == (Ref("s-moor"), Ref("s-ridge"), Ref("s-lane"), Ref("s-moor", 2))
    assert edits.use_version(trip, "v1", Lodging, "h-nowhere", 2) is trip


def test_a_card_replaced_keeps_its_id() -> None:
    trip = edits.replace_item(four_days(), "v1", "i2", Note(id="zz", says="market day"))
    assert trip.variants[0].days[1].items == (Note(id="i2", says="market day"),)


def test_a_dinner_for_some_leaves_the_others_theirs() -> None:
    inn, forge = Ref("r-inn"), Ref("r-forge")
    trip = edits.set_meal(four_days(), "v1", "d1", Meal(kind=MealKind.DINNER, restaurant=inn))
    trip = edits.set_meal(trip, "v1", "d1", Meal(kind=MealKind.BREAKFAST, at_lodging=True))
    trip = edits.set_meal(trip, "v1", "d1", Meal(kind=MealKind.DINNER, restaurant=forge, travellers=("t2",)))
    dinners = {
        meal.restaurant: meal.travellers
        for meal in trip.variants[0].days[0].meals
        if meal.kind is MealKind.DINNER
    }
    assert dinners == {inn: ("t1", "t3"), forge: ("t2",)}
    open_again = edits.clear_meal(trip, "v1", "d1", MealKind.DINNER)
    assert [meal.kind for meal in open_again.variants[0].days[0].meals] == [MealKind.BREAKFAST]


def test_a_meal_at_two_tables_is_refused() -> None:
    with pytest.raises(EditRefused, match="not at both"):
        edits.set_meal(
            four_days(), "v1", "d1", Meal(kind=MealKind.DINNER, restaurant=Ref("r-inn"), at_lodging=True)
        )


def test_moves_are_told_apart_by_their_ids() -> None:
    bags, bikes = Move(load=Load.BAGS), Move(load=Load.BIKES, count=2)
    trip = edits.set_move(edits.set_move(four_days(), "v1", "d1", bags), "v1", "d1", bikes)
    trip = edits.set_move(trip, "v1", "d1", Move(id="mv1", load=Load.BAGS, count=3))
    assert [(move.load, move.count) for move in trip.variants[0].days[0].moves] == [
        (Load.BAGS, 3),
        (Load.BIKES, 2),
    ]
    assert edits.clear_move(trip, "v1", "d1", "mv1").variants[0].days[0].moves == (replace(bikes, id="mv2"),)
    with pytest.raises(EditRefused, match="no move 'mv5'"):
        edits.clear_move(trip, "v1", "d1", "mv5")


def test_a_hire_over_the_same_days_takes_the_place_of_the_old_one() -> None:
    trip = edits.set_hire(four_days(), "v1", Hire(traveller="t1", from_day="d1", to_day="d2"))
    assert [(hire.from_day, hire.to_day) for hire in trip.variants[0].hires] == [("d1", "d2"), ("d3", "d4")]
    own = edits.set_hire(trip, "v1", Hire(traveller="t1", from_day="d2"))
    assert own.variants[0].hires == (Hire(id="h2", traveller="t1", from_day="d2"),)
    assert edits.remove_hire(own, "v1", "t1").variants[0].hires == ()
    with pytest.raises(EditRefused, match="no such hire for Bo"):
        edits.remove_hire(own, "v1", "t2")


def test_taking_an_alternative_puts_the_plan_by_and_taking_it_again_brings_it_back() -> None:
    trip = edits.add_alternative(four_days(), "v1", "d3", reason=Reason.SHORTER, items=(leg("", "s-pans"),))
    taken = edits.take_alternative(trip, "v1", "d3", "a1")
    assert card_ids(taken)[2] == ["i6"]
    assert [item.id for item in taken.variants[0].days[2].alternatives[0].items] == ["i3", "i4"]
    assert edits.take_alternative(taken, "v1", "d3", "a1") == trip
    assert edits.remove_alternative(trip, "v1", "d3", "a1") == four_days()


def test_alternatives_set_at_once_keep_their_ids_and_cards_and_number_what_is_new() -> None:
    trip = edits.add_alternative(four_days(), "v1", "d3", reason=Reason.SHORTER, items=(leg("", "s-pans"),))
    (old,) = trip.variants[0].days[2].alternatives
    planned = trip.variants[0].days[2].items
    new = Alternative(id="", reason=Reason.WET_WEATHER, items=planned, says="along the lane")
    said = replace(old, says="the short way", items=(*old.items, leg("", "s-pans")))
    both = edits.set_alternatives(trip, "v1", "d3", (new, said))
    first, second = both.variants[0].days[2].alternatives
    assert (first.id, second.id) == ("a2", "a1")
    assert [item.id for item in first.items] == ["i7", "i8"]
    assert [item.id for item in second.items] == ["i6", "i9"]
    assert both.variants[0].days[2].items == planned
    assert edits.set_alternatives(both, "v1", "d3", (old,)) == trip
    with pytest.raises(EditRefused, match="no alternative 'a9'"):
        edits.set_alternatives(trip, "v1", "d3", (replace(old, id="a9"),))


def test_an_overrule_needs_a_name_and_a_reason_and_replaces_the_one_before() -> None:
    nameless = Overrule(
        check="ascent", code="over", subject=(About("day", "d3"),), figure=900.0, name=" ", reason="fit"
    )
    with pytest.raises(EditRefused, match="a name and a reason"):
        edits.overrule(four_days(), "v1", nameless)
    worse = Overrule(
        check="ascent",
        code="over",
        subject=(About("day", "d3"),),
        figure=950.0,
        name="Consultant",
        reason="very fit",
    )
    trip = edits.overrule(four_days(), "v1", worse)
    assert trip.variants[0].overrules == (worse,)
    lifted = edits.lift_overrule(trip, "v1", worse)
    assert lifted.variants[0].overrules == ()
    with pytest.raises(EditRefused, match="Nobody has overruled"):
        edits.lift_overrule(lifted, "v1", worse)


def test_an_empty_day_is_allowed_and_left_to_the_checks() -> None:
    trip = trip_of(Day(id="d1", items=(leg("i1"),)))
    assert edits.remove_item(trip, "v1", "i1").variants[0].days == (Day(id="d1"),)
