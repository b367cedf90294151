"""What is to be doubted about the price: unknown lines, gaps between seasons, prices risen."""

from collections import Counter
from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.several import Several
from lacet.language import Text, marked, to_say
from lacet.price.doubt import Doubt, DoubtKind
from lacet.price.doubts import doubts
from lacet.trip.finding import Finding, Level, subject
from lacet.trip.trip import About
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
_UNKNOWN = (DoubtKind.NO_PRICE, DoubtKind.SEASON_GAP, DoubtKind.EXPIRED_TARIFF)
# A price that isn't known leaves the quote at 'from'; it doesn't keep a day from being walked.
_ENTER = to_say("the quote then says 'from'. Enter the tariff.")
_ADVICE = {
    DoubtKind.ASSUMED: to_say("Check it before the quote goes out."),
    DoubtKind.MINIMUM_NIGHTS: to_say("Stay longer, or ask the house for its price."),
    DoubtKind.ALLOTMENT: to_say("Ask the house for more rooms, or share otherwise."),
    DoubtKind.PAID_TWICE: to_say("Take one of them out."),
    DoubtKind.BOOKED_FOR_LESS: to_say("Hold the supplier to the booking, or raise the price."),
}


NO_CURRENCY_SET = to_say(
    "The currency to sell in isn't set, so nothing can be priced. Set it under 'Region' in the settings."
)


SEVERAL = {
    **dict.fromkeys(
        (kind.value for kind in _UNKNOWN),
        Several(
            says=marked(
                "No price for {service:some} on the dates of the trip; the quote then says 'from'. "
                "Enter the tariffs."
            )
        ),
    ),
    DoubtKind.ASSUMED.value: Several(
        says=marked("{service:some}: {assumed}. Check before the quote goes out."), by=("assumed",)
    ),
    DoubtKind.RELEASED.value: Several(
        says=marked("{service:some}: held until {until:date} only, ask whether it is still to be had."),
        by=("until",),
    ),
}


def check(case: Case) -> Iterator[Finding]:
    if case.quote.currency == NO_CURRENCY:
        # One cause, one sentence: every line would say the same.
        yield Finding(check=ID, code="no_currency", level=Level.NOTE, subject=(), says=NO_CURRENCY_SET)
        return
    told: set[Text] = set()
    counts: Counter[tuple[About, ...]] = Counter()
    for doubt in doubts(case.quote, case.trip, case.catalogue, case.bookings, case.commitments):
        if doubt.says not in told:
            told.add(doubt.says)
            about = _about(case, doubt)
            counts[about] += 1
            more = subject({"nth": str(counts[about])}) if counts[about] > 1 else ()
            yield _told(doubt, about[1:] + more)


def _about(case: Case, doubt: Doubt) -> tuple[About, ...]:
    """What the doubt is about, the same from one assessment to the next: an overrule binds to it."""
    days = case.variant.days
    day = days[doubt.day - 1].id if doubt.day is not None and 1 <= doubt.day <= len(days) else ""
    return subject({"doubt": doubt.kind.value, "supplier": doubt.subject, "day": day})


def _told(doubt: Doubt, about: tuple[About, ...]) -> Finding:
    return Finding(
        check=ID,
        code=doubt.kind.value,
        level=_LEVELS[doubt.kind],
        subject=about,
        day=doubt.day,
        says=_sentence(doubt),
        figure=doubt.figure,
        limit=doubt.limit,
        unit=doubt.unit,
        worse_is_more=doubt.kind not in _WORSE_IS_LESS,
        source=doubt.source,
    )


def _sentence(doubt: Doubt) -> Text:
    """The doubt with what to do about it; its own values are there by name."""
    own = doubt.says.named
    if doubt.kind in _UNKNOWN:
        return to_say("{doubt:begun}; {advice}", doubt=doubt.says, advice=_ENTER, **own)
    advice = _ADVICE.get(doubt.kind)
    if advice is None:
        return to_say("{doubt:begun}.", doubt=doubt.says, **own)
    return to_say("{doubt:begun}. {advice}", doubt=doubt.says, advice=advice, **own)
