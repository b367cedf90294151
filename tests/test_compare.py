"""Variants side by side."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.assess import assess
from lacet.compare import Comparison, Side, compare
from lacet.compare.align import DayKey, align, line_up
from lacet.compare.comparison import CannotCompare
from lacet.compare.figures import FigureRow
from lacet.compare.saying import difference_text
from lacet.compare.standard import standard_side
from lacet.inputs import Inputs
from lacet.trip import edits
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Day, Rest, Trip
from tests.small_library import cycle, day, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
MAY = date(2027, 5, 8)


def key(*stages: str, start: str = "", end: str = "") -> DayKey:
    return DayKey(frozenset(stages), start or None, end or None)


A, B, C, D = (key(each, start=each, end=f"{each}'") for each in "abcd")


def test_an_inserted_day_puts_no_later_day_out_of_step() -> None:
    assert align([A, B, C], [A, D, B, C]) == ((0, 0), (None, 1), (1, 2), (2, 3))


def test_a_dropped_day_leaves_a_gap() -> None:
    assert align([A, B, C], [A, C]) == ((0, 0), (1, None), (2, 1))


def test_alignment_is_that_of_the_textbook() -> None:
    """GCATGCG beside GATTACA, the worked example of textbooks, with match 1, mismatch and gap -1: score 0.

    With our scores, where a shared stage is worth far more than a gap costs, the longest common order of
    letters stands beside each other: its length is 4 (from memory: G, A, T, C or G, A, T, A...).
    """
    pairs = align([key(each) for each in "GCATGCG"], [key(each) for each in "GATTACA"])
    shared = [one for one, other in pairs if one is not None and other is not None
              and "GCATGCG"[one] == "GATTACA"[other]]  # fmt: skip
    assert len(shared) == 4


def test_a_day_of_arrival_stands_beside_that_of_the_other_and_not_beside_a_round_walk() -> None:
    arrives = key(start="port", end="port")
    round_walk, leaves = key("shore", start="port", end="port"), key("lane", start="port", end="weir")
    assert align([arrives, round_walk, leaves], [arrives, leaves]) == ((0, 0), (1, None), (2, 1))


def test_a_rest_somewhere_else_is_a_day_of_its_own() -> None:
    rest, onward = key(start="lake", end="lake"), key("track", start="lake", end="bay")
    assert align([A, onward, B], [A, rest, B]) == ((0, 0), (None, 1), (1, None), (2, 2))


days = st.lists(st.sampled_from([A, B, C, D]), max_size=8)


@given(days, days)
def test_every_day_stands_once_and_in_order(base: list[DayKey], other: list[DayKey]) -> None:
    pairs = align(base, other)
    assert [one for one, _ in pairs if one is not None] == list(range(len(base)))
    assert [two for _, two in pairs if two is not None] == list(range(len(other)))
    assert (None, None) not in pairs


@given(days, st.lists(days, min_size=1, max_size=3))
def test_lines_hold_every_day_of_every_variant(base: list[DayKey], others: list[list[DayKey]]) -> None:
    rows = line_up(base, others)
    for column, keys in enumerate([base, *others]):
        assert [row[column] for row in rows if row[column] is not None] == list(range(len(keys)))


def compared(trip: Trip) -> Comparison:
    catalogue, rules = small_catalogue(), HouseRules()
    sides = [
        Side(each, assess(Inputs(trip, each.id, catalogue, rules, as_of=AS_OF))) for each in trip.variants
    ]
    return compare(sides, catalogue)


def two_variants(*days: Day) -> Trip:
    trip = edits.copy_variant(small_trip(), "v1", "Other")
    return replace(trip, variants=(trip.variants[0], replace(trip.variants[1], days=days)))


def test_a_copy_differs_in_nothing() -> None:
    found = compared(edits.copy_variant(small_trip(), "v1", "Other"))
    assert found.differences == ()
    assert all(row.difference(1, 0) is None for row in found.rows)


def test_the_other_way_is_told_with_what_it_changes() -> None:
    trip = two_variants(
        day("d1", cycle("i1", "climb"), lodging="birch-house"),
        day("d2", Rest(id="i2"), lodging="birch-house"),
        day("d3", cycle("i3"), lodging="cedar-inn"),
    )
    (told,) = [each for each in compared(trip).differences if each.kind == "way"]
    assert told.day == 1
    assert told.says.startswith("by bike, Over the hill instead of on foot, Over the hill: ")
    assert "less" in told.says


def test_a_dropped_rest_day_and_another_house_are_told() -> None:
    trip = two_variants(
        day("d1", walk("i1"), lodging="quay-house"),
        day("d3", cycle("i3"), lodging="cedar-inn"),
    )
    found = compared(trip)
    assert found.lined_up == ((0, 0), (1, None), (2, 1))
    kinds = {each.kind: each.says for each in found.differences}
    assert kinds["dropped"] == "without rest at Birch (day 2)"
    assert kinds["lodging"] == "lodging: Quay House instead of Birch House"


def test_better_and_worse_are_told_by_more_than_colour() -> None:
    row = FigureRow("Climb", "height", (300.0, 500.0, 100.0, 300.0), less_is_better=True)
    assert difference_text(row, 1, 0) == "+200 m ▲"
    assert difference_text(row, 2, 0) == "−200 m ▽"
    assert difference_text(row, 3, 0) == ""


@pytest.mark.parametrize("count", [1, 5])
def test_only_two_to_four_can_be_compared(count: int) -> None:
    trip = small_trip()
    side = Side(trip.variants[0], assess(Inputs(trip, "v1", small_catalogue(), HouseRules(), as_of=AS_OF)))
    with pytest.raises(CannotCompare, match="From 2 to 4"):
        compare([side] * count, small_catalogue())


def test_a_trip_is_held_against_the_standard_it_was_begun_from() -> None:
    standard = edits.as_standard(small_trip(), "v1", "std", "Small standard")
    begun = edits.trip_from_standard(standard, "t9", "For the Hollins", small_trip().party, start=MAY)
    changed = edits.remove_day(begun, "v1", "d2")
    catalogue, rules = small_catalogue(), HouseRules()
    inputs = Inputs(changed, "v1", catalogue, rules, as_of=AS_OF)
    side = standard_side(standard, inputs)
    own = Side(changed.variants[0], assess(inputs))
    found = compare([side, own], catalogue)
    assert (side.letter, side.variant.name) == ("S", f"{standard.variants[0].name} (standard)")
    assert ("dropped", "without rest at Birch (day 2)") in [
        (each.kind, each.says) for each in found.differences
    ]
    with pytest.raises(CannotCompare, match="no variant"):
        standard_side(replace(standard, variants=()), inputs)
