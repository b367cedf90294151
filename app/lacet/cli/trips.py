"""`lacet trips` and `lacet assess`: what is planned, and whether it can be done."""

import argparse
from datetime import date
from typing import Any

from lacet.assess import Assessment, assess
from lacet.cli.telling import (
    hours,
    kilometres,
    metres,
    print_json,
    print_table,
    say,
    share,
    speech_of,
    verdict,
)
from lacet.inputs import Inputs
from lacet.language import to_count
from lacet.report import plain_assessment
from lacet.service.gathering import assessed, every_trip
from lacet.service.opening import project_at
from lacet.settle import settle
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant
from lacet.wording import NO_CURRENCY, UNKNOWN


def trips(arguments: argparse.Namespace) -> None:
    """List trips and variants with their totals as of today."""
    as_of = date.today()
    with project_at(arguments.project) as project:
        told = [_trip(trip, each) for trip, each in every_trip(project, as_of)]
    if arguments.json:
        print_json(told)
        return
    rows = []
    for number, trip in enumerate(told, start=1):
        for position, variant in enumerate(trip["variants"]):
            first = (str(number), trip["name"]) if position == 0 else ("", "")
            rows.append(
                (*first, chr(ord("A") + position), variant["name"], str(variant["days"]),
                 kilometres(variant["walking_m"]), kilometres(variant["cycling_m"]),
                 metres(variant["ascent_m"]), verdict(variant["works"]))
            )  # fmt: skip
    heads = ("No.", "Trip", "", "Variant", "Days", "On foot", "By bike", "Up", "")
    print_table(f"{len(told)} trips", heads, rows, right=(4, 5, 6, 7))


def assess_variant(arguments: argparse.Namespace) -> None:
    """Assess one variant and tell it day by day, with what is left to settle."""
    as_of = arguments.as_of or date.today()
    speech = speech_of(arguments)
    with project_at(arguments.project) as project:
        it = assessed(project, arguments.trip, arguments.variant, as_of)
        proved = settle(it.inputs, it.found)
        told = plain_assessment(it.inputs, it.found, proved, speech)
    if arguments.json:
        print_json(told)
    else:
        _tell(it.trip, it.variant, it.found, told, parts=arguments.parts)


def _trip(trip: Trip, inputs: list[Inputs]) -> dict[str, Any]:
    variants = []
    for each in inputs:
        variant, found = each.variant, assess(each)
        totals = found.figures.totals
        variants.append(
            {
                "id": variant.id,
                "name": variant.name,
                "days": totals.days,
                "walking_m": round(totals.walking_m, 1),
                "cycling_m": round(totals.cycling_m, 1),
                "ascent_m": round(totals.ascent_m, 1),
                "works": found.works,
            }
        )
    return {"id": trip.id, "name": trip.name, "variants": variants}


def _tell(trip: Trip, variant: Variant, assessment: Assessment, told: dict[str, Any], *, parts: bool) -> None:
    say(f"{trip.name} · {letter(trip, variant.id)} {variant.name}: {verdict(assessment.works)}")
    print_table(
        "", ("Day", "Date", "From", "To", "Length", "Up", "Moving", "Done", "Sunset", "Battery", "Night", ""),
        (_day_row(day) for day in told["days"]), right=(4, 5, 6, 7, 8, 9),
    )  # fmt: skip
    totals = told["totals"]
    price = assessment.quote.total
    heads = len(assessment.quote.per_traveller) or 1
    said = f"{'from ' if assessment.quote.is_from else ''}{price.amount} {price.currency}"
    if assessment.quote.nothing_known or price.currency == NO_CURRENCY:
        said = "price unknown"
    say(
        f"On foot {kilometres(totals['walking_m'])}, by bike {kilometres(totals['cycling_m'])}, "
        f"up {metres(totals['ascent_m'])}, moving {hours(totals['moving_s'])}; "
        f"{said} for {heads}"
    )
    for line in told["lines"]:
        _tell_line(line, told["findings"], parts=parts)
    say(
        "Times, battery and daylight are estimates for planning; local authorities and conditions come first."
    )


def _day_row(day: dict[str, Any]) -> tuple[str, ...]:
    return (
        str(day["day"]),
        day["date"] or UNKNOWN,
        day["start"] or UNKNOWN,
        day["end"] or UNKNOWN,
        kilometres(day["distance_m"]),
        metres(day["ascent_m"]),
        hours(day["moving_s"]),
        day["done_by"] or UNKNOWN,
        day["sunset"] or UNKNOWN,
        share(day["battery_left_share"]),
        ", ".join(day["lodgings"]) or UNKNOWN,
        verdict(day["works"]),
    )


def _tell_line(line: dict[str, Any], findings: list[dict[str, Any]], *, parts: bool) -> None:
    """A cause; opened, the findings it is made of; and every remedy once."""
    settled = f" (let stand by {line['overruled_by']})" if line["overruled_by"] else ""
    after = f" And {len(line['follows'])} that follow." if line["follows"] and not parts else ""
    say(f"{line['level']:>4}  {_where(line['days'])}: {line['says']}{settled}{after}")
    inside = [findings[index] for index in (*line["findings"], *line["follows"])]
    if parts and len(inside) > 1:
        for finding in inside:
            say(f"        {finding['level']}, {_where([finding['day']])}: {finding['says']}")
    fixes = [f"{fix['says']}: {fix['result']}" for finding in inside for fix in finding["fixes"]]
    for text in dict.fromkeys(fixes):
        say(f"        {text}")


def _where(days: list[int | None]) -> str:
    known = [day for day in days if day is not None]
    if not known:
        return "trip"
    return str(to_count("day {days:days}", "days {days:days}", len(known), days=tuple(known)))
