"""What is to be doubted about the price: unknown lines, gaps between seasons, prices risen."""

from collections import Counter
from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.words import begun
from lacet.price.doubt import Doubt, DoubtKind
from lacet.price.doubts import doubts
from lacet.trip.finding import Finding, Level
from lacet.wording import NO_CURRENCY

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
}
_WORSE_IS_LESS = (DoubtKind.MINIMUM_NIGHTS, DoubtKind.RELEASED)
_ADVICE = {
    DoubtKind.ASSUMED: " Check it before the quote goes out.",
    DoubtKind.MINIMUM_NIGHTS: " Stay longer, or ask the house for its price.",
    DoubtKind.ALLOTMENT: " Ask the house for more rooms, or share otherwise.",
    DoubtKind.RELEASED: "",
    DoubtKind.PAID_TWICE: " Take one of them out.",
    DoubtKind.BOOKED_FOR_LESS: " Hold the supplier to the booking, or raise the price.",
}
# A price that isn't known leaves the quote at 'from'; it doesn't keep a day from being walked.
_ABOUT_PRICE = "the quote then says 'from'"


NO_CURRENCY_SET = (
    "The currency to sell in isn't set, so nothing can be priced. Set it under 'Region' in the settings."
)


def check(case: Case) -> Iterator[Finding]:
    if case.quote.currency == NO_CURRENCY:
        # One cause, one sentence: every line would say the same.
        yield Finding(check=ID, level=Level.NOTE, subject="currency", says=NO_CURRENCY_SET)
        return
    told: set[str] = set()
    counts: Counter[str] = Counter()
    for doubt in doubts(case.quote, case.trip, case.catalogue, case.bookings, case.commitments):
        if doubt.says not in told:
            told.add(doubt.says)
            about = _about(case, doubt)
            counts[about] += 1
            yield _told(doubt, about if counts[about] == 1 else f"{about} {counts[about]}")


def _about(case: Case, doubt: Doubt) -> str:
    """What the doubt is about, the same from one assessment to the next: an overrule binds to it."""
    days = case.variant.days
    day = days[doubt.day - 1].id if doubt.day is not None and 1 <= doubt.day <= len(days) else ""
    return " ".join(part for part in (doubt.kind.value, doubt.subject, day) if part)


def _told(doubt: Doubt, about: str) -> Finding:
    says = doubt.says if doubt.says.endswith(".") else f"{doubt.says}."
    if doubt.kind in (DoubtKind.NO_PRICE, DoubtKind.SEASON_GAP, DoubtKind.EXPIRED_TARIFF):
        says = f"{says[:-1]}; {_ABOUT_PRICE}. Enter the tariff."
    return Finding(
        check=ID,
        level=_LEVELS[doubt.kind],
        subject=about,
        day=doubt.day,
        says=begun(says) + _ADVICE.get(doubt.kind, ""),
        figure=doubt.figure,
        limit=doubt.limit,
        unit=doubt.unit,
        worse_is_more=doubt.kind not in _WORSE_IS_LESS,
        source=doubt.source,
    )
