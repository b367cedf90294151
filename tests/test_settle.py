"""Which remedies are kept: those that ease their own finding and leave less to settle in all."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.language import to_say
from lacet.settle import settle, settle_one, weight
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import About, Overrule, Trip
from tests.small_library import cycle, day, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def inputs(trip: Trip) -> Inputs:
    return Inputs(trip, "v1", small_catalogue(), RULES, as_of=AS_OF)


def assessed(trip: Trip) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(), RULES, as_of=AS_OF))


def gap_and_dusk() -> Trip:
    """Day 1 begins where nobody is; day 2 ends after dark."""
    return small_trip(day("d1", cycle("i1")), day("d2", walk("i2", backward=True), departs=time(19, 0)))


def finding(check: str, assessment: Assessment) -> Finding:
    return next(each for each in assessment.findings if each.check == check)


def with_fix(found: Finding, edit: Callable[[Trip], Trip]) -> Finding:
    return replace(found, fixes=(Fix(says=to_say("Try this"), edit=edit),))


def earlier(trip: Trip) -> Trip:
    return edits.set_departs(trip, "v1", "d2", time(9, 0))


def test_a_remedy_of_another_finding_is_not_offered_for_this_one() -> None:
    trip = gap_and_dusk()
    before = assessed(trip)
    assert weight(assessed(earlier(trip))) < weight(before)
    gap, dusk = finding("days_join_up", before), finding("done_by_sunset", before)
    assert settle_one(inputs(trip), before, with_fix(gap, earlier)) == ()
    (kept,) = settle_one(inputs(trip), before, with_fix(dusk, earlier))
    assert kept.settles == weight(before) - weight(assessed(earlier(trip))) > 0


def test_what_leaves_as_much_to_settle_as_before_is_no_remedy() -> None:
    trip = gap_and_dusk()
    before = assessed(trip)
    gone = replace(finding("days_join_up", before), subject=(About("day", "d9"),))
    assert settle_one(inputs(trip), before, with_fix(gone, lambda trip: trip)) == ()


def test_a_remedy_that_has_no_meaning_here_is_left_out() -> None:
    trip = gap_and_dusk()
    before = assessed(trip)

    def meaningless(trip: Trip) -> Trip:
        raise edits.EditRefused("There is no such day.")

    assert settle_one(inputs(trip), before, with_fix(finding("days_join_up", before), meaningless)) == ()


def test_what_somebody_overruled_needs_no_remedy_and_weighs_nothing() -> None:
    trip = gap_and_dusk()
    before = assessed(trip)
    dusk = finding("done_by_sunset", before)
    decided = Overrule(
        check=dusk.check,
        code=dusk.code,
        subject=dusk.subject,
        figure=dusk.figure,
        name="A consultant",
        reason="torches",
    )
    variant = replace(trip.variants[0], overrules=(decided,))
    trip = replace(trip, variants=(variant,))
    after = assessed(trip)
    assert weight(before) - weight(after) == 100
    proved = settle(inputs(trip), after)
    assert len(proved) == len(after.findings)
    assert proved[after.findings.index(finding("done_by_sunset", after))] == ()


def test_remedies_stand_by_what_they_settle() -> None:
    before = assessed(gap_and_dusk())
    for proved in settle(inputs(gap_and_dusk()), before):
        assert [each.settles for each in proved] == sorted((each.settles for each in proved), reverse=True)


@pytest.mark.parametrize("level_weight", [("stop", 100), ("warn", 10), ("note", 1)])
def test_a_stop_weighs_more_than_warnings_and_these_more_than_notes(level_weight: tuple[str, int]) -> None:
    level, weighs = level_weight
    before = assessed(gap_and_dusk())
    known = [each for each in before.findings if each.level.value == level and not each.unknown]
    for found in known:
        rest = tuple(each for each in before.findings if each is not found)
        assert weight(before) - weight(replace(before, findings=rest)) == weighs


def test_what_nobody_knows_weighs_five_more() -> None:
    before = assessed(small_trip(day("d1", walk("i1", "nowhere"))))
    unknown = next(each for each in before.findings if each.unknown)
    known = tuple(replace(each, unknown=False) if each is unknown else each for each in before.findings)
    assert weight(before) - weight(replace(before, findings=known)) == 5
