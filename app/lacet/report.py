"""An assessment as plain data: what `lacet assess --json` prints and what scripts rely on.

Lengths in metres, times in seconds, clock times as HH:MM, shares 0..1. Unknown is null. A day's own
figures are those of the group that moves longest; totals add the days that are known.
"""

from collections.abc import Sequence
from datetime import date, time
from typing import Any

from lacet.assess import Assessment
from lacet.checks.gathered import gathered
from lacet.figures.values import DayFigures, GroupFigures, VariantTotals
from lacet.inputs import Inputs
from lacet.language import ENGLISH_SPEECH, Language, Text
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Finding, ProvedFix
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.trip import Day, Meal, Trip
from lacet.trip.words import MealKind
from lacet.wording import Amount, rounded


def plain_assessment(
    inputs: Inputs,
    assessment: Assessment,
    proved: Sequence[tuple[ProvedFix, ...]] = (),
    speech: Language = ENGLISH_SPEECH,
) -> dict[str, Any]:
    """The whole assessment as plain data; `proved` runs parallel to its findings where given.

    What is said is said in `speech`; codes, subjects and values are the same in every language.
    """
    trip = inputs.trip
    return {
        "trip": trip.name,
        "variant": inputs.variant.name,
        "as_of": assessment.as_of.isoformat(),
        "works": assessment.works,
        "days": [_day(inputs, assessment, day) for day in assessment.figures.days],
        "totals": plain_totals(assessment.figures.totals),
        "travellers": [
            {
                "name": trip.party.name_of(totals.traveller),
                "walking_m": rounded(totals.walking_m),
                "cycling_m": rounded(totals.cycling_m),
                "ascent_m": rounded(totals.ascent_m),
                "moving_s": rounded(totals.moving_s),
            }
            for totals in assessment.figures.travellers
        ],
        "findings": [
            _finding(trip, finding, proved[index] if index < len(proved) else (), speech)
            for index, finding in enumerate(assessment.findings)
        ],
        "lines": _lines(assessment, speech),
    }


def _lines(assessment: Assessment, speech: Language) -> list[dict[str, Any]]:
    """What is to be resolved, a line a cause; `findings` counts the findings each is made of."""
    index = {id(finding): number for number, finding in enumerate(assessment.findings)}
    return [
        {
            "level": line.level.value,
            "days": list(line.days),
            "says": speech.sentence(line.says),
            "overruled_by": line.overruled_by.name if line.overruled_by else None,
            "findings": [index[id(each)] for each in line.parts],
            "follows": [index[id(each)] for each in line.follows],
        }
        for line in gathered(assessment.findings)
    ]


def plain_totals(totals: VariantTotals) -> dict[str, Any]:
    """Totals of a variant; sums over the days that are known."""
    return {
        "days": totals.days,
        "nights": totals.nights,
        "rest_days": totals.rest_days,
        "walking_m": rounded(totals.walking_m),
        "cycling_m": rounded(totals.cycling_m),
        "distance_m": rounded(totals.distance_m),
        "ascent_m": rounded(totals.ascent_m),
        "descent_m": rounded(totals.descent_m),
        "moving_s": rounded(totals.moving_s),
        "unknown_days": totals.unknown_days,
    }


def clock_text(seconds: float | None) -> str | None:
    """HH:MM of a clock value; a day that runs past midnight says 25:10 for ten past one."""
    if seconds is None:
        return None
    minutes = round(seconds / 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _day(inputs: Inputs, assessment: Assessment, day: DayFigures) -> dict[str, Any]:
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    planned = variant.days[day.number - 1]
    group = day.group
    return {
        "day": day.number,
        "date": day.on.isoformat() if day.on else None,
        "start": _place(catalogue, group.start_place if group else None),
        "end": _place(catalogue, group.end_place if group else None),
        "ways": [way.value for way in group.ways] if group else [],
        **_group_figures(group),
        "departs": clock_text(group.departs_s) if group else None,
        "done_by": clock_text(group.done_s) if group else None,
        "sunset": clock_text(day.sunset_s),
        "battery_left_share": _share(group.battery_left_share) if group else None,
        "lodgings": _lodgings(planned, catalogue),
        "dinners": _dinners(planned, catalogue),
        "works": assessment.day_works(day.number),
        "groups": [
            {
                "travellers": [trip.party.name_of(who) for who in each.travellers],
                "ways": [way.value for way in each.ways],
                **_group_figures(each),
            }
            for each in day.groups
        ],
        "findings": [index for index, finding in enumerate(assessment.findings) if finding.day == day.number],
    }


def _group_figures(group: GroupFigures | None) -> dict[str, Any]:
    if group is None:
        return dict.fromkeys(("distance_m", "ascent_m", "descent_m", "moving_s"))
    missing = bool(group.missing)
    return {
        "distance_m": None if missing else rounded(group.distance_m),
        "ascent_m": None if missing else rounded(group.ascent_m),
        "descent_m": None if missing else rounded(group.descent_m),
        "moving_s": None if missing or not group.known else rounded(group.moving_s),
    }


def _finding(trip: Trip, finding: Finding, proved: tuple[ProvedFix, ...], speech: Language) -> dict[str, Any]:
    return {
        "check": finding.check,
        "code": finding.code,
        "subject": [{"kind": each.kind, "id": each.id} for each in finding.subject],
        "level": finding.level.value,
        "day": finding.day,
        "travellers": [trip.party.name_of(who) for who in finding.travellers],
        "says": speech.sentence(finding.says),
        "values": {name: _plain(value, speech) for name, value in finding.says.values},
        "figure": finding.figure,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "unknown": finding.unknown,
        "overruled_by": finding.overruled_by.name if finding.overruled_by else None,
        "fixes": [{"says": speech.sentence(fix.says), "result": speech.say(fix.result)} for fix in proved],
    }


def _plain(value: object, speech: Language) -> Any:
    """A value of a sentence: numbers stay numbers, in the unit its name ends in; texts are said."""
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return round(value, 4)
    if isinstance(value, Text):
        return speech.say(value)
    if isinstance(value, tuple | list):
        return [_plain(each, speech) for each in value]
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Amount):
        return {"amount": str(value.amount), "currency": value.currency}
    return str(value)


def _place(catalogue: Catalogue, place_id: str | None) -> str | None:
    place = catalogue.place(place_id) if place_id else None
    return place_id if place is None else place.name


def _share(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _lodgings(planned: Day, catalogue: Catalogue) -> list[str]:
    found = [(night.lodging.id, catalogue.get(Lodging, night.lodging)) for night in planned.nights]
    return [lodging.name if lodging else item_id for item_id, lodging in found]


def _dinners(planned: Day, catalogue: Catalogue) -> list[str]:
    return [_dinner(meal, planned, catalogue) for meal in planned.meals if meal.kind is MealKind.DINNER]


def _dinner(meal: Meal, planned: Day, catalogue: Catalogue) -> str:
    if meal.restaurant is not None:
        restaurant = catalogue.get(Restaurant, meal.restaurant)
        return restaurant.name if restaurant else meal.restaurant.id
    if meal.at_lodging:
        return ", ".join(_lodgings(planned, catalogue)) or "at the lodging"
    return "own choice"
