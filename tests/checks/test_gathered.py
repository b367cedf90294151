"""One line a cause: nothing is lost, nothing weighs less than it did, and the sentence names them all."""

from dataclasses import replace
from datetime import date
from random import Random

import pytest

from lacet.assess import Assessment, assess
from lacet.checks.gathered import Gathered, gathered
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.inputs import Inputs
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.edits import EditRefused
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.overrules import bind_overrules
from lacet.trip.trip import Overrule, Trip
from tests.trip.random_edits import random_edit

AS_OF = date(2026, 11, 25)
WEIGHT = {Level.STOP: 0, Level.WARN: 1, Level.NOTE: 2}


class Tracks(dict[str, Track]):
    """Tracks by id."""


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)


def assessed(trip: Trip, variant: int, verrin: Catalogue) -> Assessment:
    return assess(Inputs(trip, trip.variants[variant].id, verrin, HouseRules(), as_of=AS_OF))


def sound(findings: tuple[Finding, ...]) -> tuple[Gathered, ...]:
    lines = gathered(findings)
    inside = [id(each) for line in lines for each in line.whole]
    assert sorted(inside) == sorted(map(id, findings)), "each finding stands in exactly one line"
    for line in lines:
        assert line.level == min((each.level for each in line.whole), key=WEIGHT.__getitem__)
        assert all(each.day is None or each.day in line.days for each in line.whole)
        assert len({each.overruled_by is None for each in line.whole}) == 1
        assert str(line.says).strip()
    return lines


def test_every_finding_of_random_trips_stands_in_one_line_that_weighs_as_much(verrin: Catalogue) -> None:
    for trip in demo_trips():
        chance, now = Random(trip.id), trip
        for _ in range(40):
            try:
                now = random_edit(chance, now)(now)
            except EditRefused:
                continue
            for number in range(len(now.variants)):
                sound(assessed(now, number, verrin).findings)


def test_six_kitchens_of_one_guest_become_one_line_that_names_days_and_kitchens(verrin: Catalogue) -> None:
    coast = demo_trips()[0]
    findings = assessed(coast, 0, verrin).findings
    assert len(findings) == 6
    (line,) = sound(findings)
    assert line.days == (3, 6, 7, 8)
    assert str(line.says) == (
        "Gluten-free for Nell Alder: on request only at Weir Grill, The Burners' Arms and Kiln Rooms. "
        "Ask, then note the answers."
    )


def test_a_day_that_is_too_long_leads_and_what_comes_of_it_follows(verrin: Catalogue) -> None:
    coast = demo_trips()[0]
    lines = sound(assessed(coast, 1, verrin).findings)
    (fifth,) = (line for line in lines if line.days == (5,) and line.parts[0].code == "over")
    assert {each.check for each in fifth.follows} >= {"done_by_sunset", "water_and_food"}
    assert str(fifth.says).startswith("Too much for one day: 20.9 km on foot (at most 16.0 km for Nell Alder")
    assert not [line for line in lines if line.days == (5,) and line.parts[0].check == "done_by_sunset"]


def test_what_weighs_more_than_the_long_day_stays_a_line_of_its_own(verrin: Catalogue) -> None:
    findings = assessed(demo_trips()[0], 1, verrin).findings
    long = tuple(
        replace(each, level=Level.WARN)
        for each in findings
        if (each.check, each.code, each.day) == ("day_within_limits", "over", 5)
    )
    dark = next(each for each in findings if each.check == "done_by_sunset" and each.level is Level.STOP)
    dark = replace(dark, day=5)
    lines = sound((dark, *long))
    assert [line.level for line in lines] == [Level.STOP, Level.WARN]
    assert sound((replace(dark, level=Level.WARN), *long))[0].follows != ()


def test_what_somebody_let_stand_is_a_line_of_its_own(verrin: Catalogue) -> None:
    findings = assessed(demo_trips()[0], 1, verrin).findings
    access = [each for each in findings if each.code == "access"]
    assert len(access) == 2
    decided = tuple(
        Overrule(
            check=each.check, code=each.code, subject=each.subject, figure=each.figure, name="A", reason="b"
        )
        for each in access[:1]
    )
    lines = sound(bind_overrules(access, decided))
    assert [line.overruled_by for line in lines] == [decided[0], None]


def test_the_demo_has_half_as_many_lines_as_findings(verrin: Catalogue) -> None:
    found = [
        assessed(trip, number, verrin).findings
        for trip in demo_trips()
        for number in range(len(trip.variants))
    ]
    assert sum(len(gathered(each)) for each in found) * 19 <= sum(map(len, found)) * 10
