"""The one function, on a library small enough to reckon by hand."""

from dataclasses import replace
from datetime import date, time

import orjson
import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs, UnknownVariant
from lacet.language import in_english
from lacet.report import plain_assessment
from lacet.settle import settle
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.overrules import bind_overrules
from lacet.trip.trip import Overrule, Trip
from lacet.wording import Wording
from tests.small_library import cycle, day, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def assessed(trip: Trip) -> Assessment:
    return assess(inputs_of(trip))


def inputs_of(trip: Trip) -> Inputs:
    return Inputs(trip, "v1", small_catalogue(), RULES, as_of=AS_OF)


def of(check: str, assessment: Assessment) -> list[Finding]:
    return [finding for finding in assessment.findings if finding.check == check]


def test_equal_inputs_give_equal_assessments() -> None:
    assert assessed(small_trip()) == assessed(small_trip())


def test_an_unknown_variant_is_refused_in_a_sentence() -> None:
    with pytest.raises(UnknownVariant, match="has no variant 'v9'"):
        assess(Inputs(small_trip(), "v9", small_catalogue(), RULES, as_of=AS_OF))


def test_a_day_that_does_not_join_up_is_a_stop_that_a_transfer_settles() -> None:
    trip = small_trip(day("d1", cycle("i1")))
    before = assessed(trip)
    (gap,) = of("days_join_up", before)
    assert (gap.level, gap.day) == (Level.STOP, 1)
    assert before.works is False
    proved = settle(Inputs(trip, "v1", small_catalogue(), RULES, as_of=AS_OF), before)
    fix = proved[before.findings.index(gap)][0]
    assert str(fix.says) == "Transfer Alder to Birch"
    assert not of("days_join_up", assessed(fix.edit(trip)))


def test_a_walk_that_ends_near_sunset_is_warned_of_and_after_dark_stopped() -> None:
    """Sunset on 8 May at 44.2 N 24.6 W is about 20:50 in Azores summer time (UTC)."""
    late = [of("done_by_sunset", assessed(small_trip(day("d1", walk("i1"), departs=at)))) for at in
            (time(9, 0), time(15, 45), time(17, 30))]  # fmt: skip
    assert late[0] == []
    assert [finding.level for finding in late[1]] == [Level.WARN]
    assert [finding.level for finding in late[2]] == [Level.STOP]


def test_an_overrule_binds_until_the_figure_gets_worse() -> None:
    def with_departure(at: time, overrules: tuple[Overrule, ...] = ()) -> Finding:
        trip = small_trip(day("d1", walk("i1"), departs=at))
        variant = replace(trip.variants[0], overrules=overrules)
        return of("done_by_sunset", assessed(replace(trip, variants=(variant,))))[0]

    found = with_departure(time(17, 30))
    decided = Overrule(
        check=found.check,
        code=found.code,
        subject=found.subject,
        figure=found.figure,
        name="A consultant",
        reason="head torches",
    )
    assert with_departure(time(17, 30), (decided,)).overruled_by == decided
    assert with_departure(time(17, 15), (decided,)).overruled_by == decided
    assert with_departure(time(17, 45), (decided,)).overruled_by is None


def test_an_overrule_of_one_finding_covers_no_other_of_the_same_check_and_subject() -> None:
    trip = small_trip(day("d1", cycle("i1")), day("d2", walk("i2", backward=True), departs=time(19, 0)))
    (late,) = (each for each in assessed(trip).findings if each.check == "done_by_sunset")
    decided = Overrule(
        check=late.check,
        code=late.code,
        subject=late.subject,
        figure=late.figure,
        name="A consultant",
        reason="head torches",
    )
    assert bind_overrules((late,), (decided,))[0].overruled_by == decided
    others = (
        replace(late, code="no_sun"),
        replace(late, subject=late.subject[:1]),
        replace(late, check="late_arrival"),
    )
    assert [each.overruled_by for each in bind_overrules(others, (decided,))] == [None] * 3


def test_the_report_gives_codes_and_values_and_says_them_in_a_language() -> None:
    trip = small_trip(day("d1", cycle("i1")), day("d2", walk("i2", backward=True), departs=time(19, 0)))
    before = assessed(trip)
    plain, imperial = (
        plain_assessment(inputs_of(trip), before, speech=in_english(wording))
        for wording in (Wording(), Wording(imperial=True))
    )
    late = next(each for each in plain["findings"] if each["check"] == "done_by_sunset")
    assert (late["code"], late["subject"][0]) == ("late", {"kind": "day", "id": "d2"})
    assert late["values"]["done_s"] > late["values"]["sunset_s"] > 0
    assert late["says"].startswith("Done by ")
    for one, other in zip(plain["findings"], imperial["findings"], strict=True):
        assert (one["code"], one["values"].keys()) == (other["code"], other["values"].keys())
    assert orjson.loads(orjson.dumps(plain)) == plain


def test_the_report_says_null_where_something_is_unknown() -> None:
    trip = small_trip(day("d1", walk("i1", "nowhere")))
    told = plain_assessment(inputs_of(trip), assessed(trip))
    assert told["days"][0]["distance_m"] is None
    assert told["totals"]["unknown_days"] == 1
    assert told["days"][0]["battery_left_share"] is None
