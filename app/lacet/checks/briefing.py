"""The rep talks the guests through the trip on the evening they come, or the next morning."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level

ID = "briefing"
SAYS = "The rep briefs the guests by the first morning."


def check(case: Case) -> Iterator[Finding]:
    days = case.variant.days
    if len(days) < 2 or any(day.briefing for day in days[:2]):
        return
    yield Finding(
        check=ID,
        level=Level.WARN,
        code="none",
        subject=(),
        day=1,
        says=to_say(
            "Nobody talks the guests through the trip by the first morning. Add a briefing to day 1."
        ),
        fixes=(fix(to_say("Briefing on day 1"), edits.set_briefing, case, days[0].id, True),),
    )
