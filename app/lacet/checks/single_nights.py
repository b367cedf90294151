"""Not too many single nights on end: two nights a place is usual."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.stays import Stay, stays

ID = "single_nights"
SAYS = "No more than three single nights on end; two nights a place is usual."


def check(case: Case) -> Iterator[Finding]:
    run: list[Stay] = []
    for stay in (*stays(case.variant), None):
        if stay is not None and stay.nights == 1:
            run.append(stay)
            continue
        if len(run) > case.rules.single_nights:
            yield _told(case, run)
        run = []


def _told(case: Case, run: list[Stay]) -> Finding:
    middle = run[len(run) // 2]
    day = case.variant.days[middle.first]
    mend = fix(
        f"A second night after day {middle.first + 1}",
        edits.stretch_stay, case, day.id, nights=1, lodging_id=middle.lodging.id,
    )  # fmt: skip
    return Finding(
        check=ID,
        level=Level.NOTE,
        subject=f"from {case.variant.days[run[0].first].id}",
        day=run[0].first + 1,
        says=f"{len(run)} single nights on end from day {run[0].first + 1}. Two nights a place is usual.",
        figure=float(len(run)),
        limit=float(case.rules.single_nights),
        unit="nights",
        fixes=(mend,),
    )
