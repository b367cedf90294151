"""What is to be doubted about the price: unknown lines, gaps between seasons, prices risen."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.price.doubt import Doubt, DoubtKind
from lacet.price.doubts import doubts
from lacet.trip.finding import Finding, Level

ID = "price_known"
SAYS = "Every service has a tariff for its date, and booked prices hold."
_LEVELS = {
    DoubtKind.NO_PRICE: Level.NOTE,
    DoubtKind.SEASON_GAP: Level.WARN,
    DoubtKind.EXPIRED_TARIFF: Level.WARN,
    DoubtKind.ASSUMED: Level.NOTE,
    DoubtKind.MINIMUM_NIGHTS: Level.WARN,
    DoubtKind.ALLOTMENT: Level.WARN,
    DoubtKind.RELEASED: Level.WARN,
    DoubtKind.PAID_TWICE: Level.WARN,
    DoubtKind.BOOKED_FOR_LESS: Level.NOTE,
    DoubtKind.PRICE_RISEN: Level.WARN,
    DoubtKind.TOO_LATE_TO_RAISE: Level.STOP,
}
# A price that isn't known leaves the quote at 'from'; it doesn't keep a day from being walked.
_ABOUT_PRICE = "the quote then says 'from'"


def check(case: Case) -> Iterator[Finding]:
    told: set[str] = set()
    for number, doubt in enumerate(doubts(case.quote, case.trip, case.catalogue, case.commitments)):
        if doubt.says not in told:
            told.add(doubt.says)
            yield _told(doubt, number)


def _told(doubt: Doubt, number: int) -> Finding:
    says = doubt.says if doubt.says.endswith(".") else f"{doubt.says}."
    if doubt.kind in (DoubtKind.NO_PRICE, DoubtKind.SEASON_GAP, DoubtKind.EXPIRED_TARIFF):
        says = f"{says[:-1]}; {_ABOUT_PRICE}. Enter the tariff."
    return Finding(
        check=ID,
        level=_LEVELS[doubt.kind],
        subject=f"{doubt.kind.value} {doubt.subject} {doubt.day or ''} {number}".strip(),
        day=doubt.day,
        says=says[:1].upper() + says[1:],
        figure=doubt.figure,
        limit=doubt.limit,
        unit=doubt.unit,
        source=doubt.source,
    )
