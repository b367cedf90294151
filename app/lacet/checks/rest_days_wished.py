"""As many rest days as the party asked for."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.trip import Day, Rest

ID = "rest_days_wished"
SAYS = "The trip has as many rest days as the party wishes."


def check(case: Case) -> Iterator[Finding]:
    wished, given = case.trip.party.wishes.rest_days, case.figures.totals.rest_days
    if wished is None or given >= wished:
        return
    middle = max(1, len(case.variant.days) // 2)
    nights = case.variant.days[middle - 1].nights if case.variant.days else ()
    mend = fix(
        f"A rest day after day {middle}",
        edits.insert_day, case, min(middle, len(case.variant.days)),
        Day(id="", items=(Rest(id=""),), nights=nights),
    )  # fmt: skip
    yield Finding(
        check=ID,
        level=Level.WARN,
        subject="trip",
        says=f"The party asked for {wished} rest day{'s' if wished > 1 else ''}, the trip gives {given}.",
        figure=float(given),
        limit=float(wished),
        unit="days",
        worse_is_more=False,
        source="the party's own wish",
        fixes=(mend,),
    )
