"""What is found about a day rests on that day alone, and is kept for as long as it holds."""

import gc
import sys
import weakref
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from types import FrameType

import pytest

from lacet.assess import assess
from lacet.checks import registry
from lacet.checks.case import DayCase, case_of
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.figures.variant import follow
from lacet.inputs import Inputs
from lacet.language import ENGLISH_SPEECH, in_english
from lacet.tracks.track import Track
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.frame import frame_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import KEPT_LIBRARIES, Kept, forget_kept
from lacet.trip.trip import Day
from lacet.wording import Wording

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


class Tracks(dict[str, Track]):
    """Tracks by id."""


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)


def inputs(catalogue: Catalogue) -> Inputs:
    return Inputs(demo_trips()[0], "v1", catalogue, RULES, as_of=AS_OF)


def calls(work: Callable[[], object]) -> int:
    made = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal made
        made += event == "call"

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return made


def test_a_case_of_one_day_leads_to_no_other_day(verrin: Catalogue) -> None:
    given = inputs(verrin)
    found = assess(given)
    case = case_of(given, follow(given.trip, given.variant, verrin), found.figures, found.quote)
    day = registry.day_case(case, frame_of(given.trip, verrin), (), 3)
    assert not hasattr(day, "variant")
    assert day.trip.variants == ()
    assert not hasattr(day, "bookings")
    assert day.day(3) == given.variant.days[2]
    evening = given.variant.days[1]
    assert day.day(2) == Day(id=evening.id, nights=evening.nights, meals=evening.meals)
    for number in (1, 4):
        with pytest.raises(ValueError, match=f"Day {number} can't be seen from day 3"):
            day.day(number)
    assert isinstance(day, DayCase)


def test_every_check_says_whether_it_rests_on_a_day_or_the_trip() -> None:
    for module in registry.CHECKS:
        assert hasattr(module, "check") or hasattr(module, "check_day"), module.__name__


def test_moving_a_stage_asks_a_part_of_what_a_whole_assessment_asks(verrin: Catalogue) -> None:
    given = inputs(verrin)
    leg = next(item for item in given.variant.items() if hasattr(item, "stage"))
    moved = replace(given, trip=edits.move_item(given.trip, "v1", leg.id, given.variant.days[4].id, 0))
    assess(given)
    assess(moved)
    forget_kept()
    whole = calls(lambda: assess(moved))
    forget_kept()
    assess(given)
    assert calls(lambda: assess(moved)) < whole * 0.35
    assert calls(lambda: assess(moved)) < whole * 0.16, "the same again"


def test_another_wording_says_the_same_findings_in_its_own_units(verrin: Catalogue) -> None:
    findings = assess(replace(inputs(verrin), rules=replace(RULES, walking_limit_m=1000.0))).findings
    metric, imperial = ENGLISH_SPEECH, in_english(Wording(imperial=True))
    over = [each.says for each in findings if each.code == "over"]
    assert over
    assert all(" km" in metric.say(each) and " mi" in imperial.say(each) for each in over)


def test_old_libraries_are_let_go() -> None:
    kept: Kept[object] = Kept(8)
    libraries = [Catalogue() for _ in range(KEPT_LIBRARIES + 3)]
    seen = [weakref.ref(each) for each in libraries]
    for number, library in enumerate(libraries):
        kept.get(library, (), number, object)
    del libraries, library
    gc.collect()
    assert [each() is not None for each in seen] == [False] * 3 + [True] * KEPT_LIBRARIES


def test_answers_of_one_library_are_bounded() -> None:
    kept: Kept[object] = Kept(4)
    library, first = Catalogue(), object()
    assert kept.get(library, (first,), 0, lambda: first) is first
    for number in range(10):
        kept.get(library, (first,), number, object)
    assert kept.get(library, (first,), 0, lambda: "made anew") == "made anew"
