"""As many rest days as the party asked for."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.checks.mending import rest_after
from lacet.language import to_count, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level

ID = "rest_days_wished"
SAYS = "The trip has as many rest days as the party wishes."


MOST_FIXES = 3


def check(case: Case) -> Iterator[Finding]:
    wished, given = case.trip.party.wishes.rest_days, case.figures.totals.rest_days
    if wished is None or given >= wished:
        return
    yield Finding(
        check=ID,
        level=Level.WARN,
        code="too_few",
        subject=(),
        says=to_count(
            "The party asked for {count} rest day, the trip gives {given}. Add one, or agree with them.",
            "The party asked for {count} rest days, the trip gives {given}. Add one, or agree with them.",
            wished,
            given=given,
        ),
        figure=float(given),
        limit=float(wished),
        unit="days",
        worse_is_more=False,
        source="the party's own wish",
        fixes=tuple(
            fix(
                to_say("A rest day after day {number}", number=number),
                edits.insert_day,
                case,
                number,
                rest_after(case, number),
            )
            for number in _middle_first(len(case.variant.days))
        ),
    )


def _middle_first(days: int) -> list[int]:
    """Days after which a night follows, those nearest the middle of the trip first."""
    return sorted(range(1, days), key=lambda number: abs(2 * number - days))[:MOST_FIXES]
