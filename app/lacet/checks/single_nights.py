"""Not too many single nights on end: two nights a place is usual. Reckoned for each guest, told once."""

from collections.abc import Iterator

from lacet.checks.beds import Bed, beds
from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.checks.mending import rest_after
from lacet.checks.words import guests
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level, subject
from lacet.trip.party import Traveller

ID = "single_nights"
SAYS = "No more than three single nights on end; two nights a place is usual."
_MOST_FIXES = 3
_EVERYBODY = marked("{nights} single nights in a row from day {number}. Two nights a place is usual.")
_SOME = marked("{who:begun}: {nights} single nights in a row from day {number}. Two nights a place is usual.")


def check(case: Case) -> Iterator[Finding]:
    runs: dict[tuple[int, ...], list[str]] = {}
    after = [beds(case, number) for number in range(1, len(case.variant.days) + 1)]
    for guest in case.trip.party.travellers:
        for run in _runs(_houses(after, guest)):
            if len(run) > case.rules.single_nights:
                runs.setdefault(run, []).append(guest.id)
    for run, who in runs.items():
        yield _told(case, run, tuple(who))


def _houses(after: list[dict[str, Bed]], guest: Traveller) -> list[str | None]:
    """Where a guest sleeps after each day."""
    found = [each.get(guest.id) for each in after]
    houses = [None if each is None else each.night.lodging.id for each in found]
    stays = [guest.sleeps_after(number) for number in range(1, len(after) + 1)]
    return [house if sleeps else None for house, sleeps in zip(houses, stays, strict=True)]


def _runs(houses: list[str | None]) -> Iterator[tuple[int, ...]]:
    """Day numbers of single nights that follow one another."""
    run: list[int] = []
    for index, house in enumerate(houses):
        before = houses[index - 1] if index else None
        after = houses[index + 1] if index + 1 < len(houses) else None
        if house is not None and house not in (before, after):
            run.append(index + 1)
        else:
            yield tuple(run)
            run = []
    yield tuple(run)


def _told(case: Case, run: tuple[int, ...], who: tuple[str, ...]) -> Finding:
    everybody = len(who) == len(case.trip.party.travellers)
    return Finding(
        check=ID,
        level=Level.NOTE,
        code="on_end",
        subject=subject({"day": case.variant.days[run[0] - 1].id, "guest": () if everybody else who}),
        day=run[0],
        travellers=who,
        says=to_say(
            _EVERYBODY if everybody else _SOME, nights=len(run), number=run[0], who=guests(case, who)
        ),
        figure=float(len(run)),
        limit=float(case.rules.single_nights),
        unit="nights",
        fixes=_stay_on(case, run),
    )


def _stay_on(case: Case, run: tuple[int, ...]) -> tuple[Fix, ...]:
    """A second night in one of the houses, the middle one first: it breaks the run best."""
    middle = (run[0] + run[-1]) / 2
    chosen = sorted(run, key=lambda number: abs(number - middle))[:_MOST_FIXES]
    return tuple(
        fix(
            to_say("A second night after day {number}", number=number),
            edits.insert_day,
            case,
            number,
            rest_after(case, number),
        )
        for number in chosen
    )
