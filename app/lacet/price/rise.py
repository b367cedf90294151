"""A price that has risen since it was sold. Planning aid, not legal advice."""

from datetime import date
from fractions import Fraction

from lacet.language import Text, to_count, to_say
from lacet.price.amounts import to_minor
from lacet.price.doubt import Doubt, DoubtKind, said
from lacet.trip.money import Money

PACKAGE_DIRECTIVE = "Directive (EU) 2015/2302, Article 10"
MAY_TERMINATE_SHARE = 0.08
"""Above this rise of the package's price the traveller may terminate (Article 10(2), with 11(2))."""
NO_RISE_DAYS = 20
"""A rise has to be notified at least so many days before the start (Article 10(3))."""


def price_rise(sold: Money, now: Money) -> Fraction:
    """By what share of the price sold the price has risen; negative when it fell.

    Raises
    ------
    CurrencyMismatch
        When the two are in different currencies.
    """
    rise = to_minor(now - sold)
    return Fraction(rise, to_minor(sold)) if sold.amount else Fraction(0)


def package_doubts(sold: Money, now: Money, start: date | None, as_of: date) -> tuple[Doubt, ...]:
    """What a price risen since it was sold means under the package travel directive.

    References
    ----------
    Directive (EU) 2015/2302, Article 10: above 8 % the traveller may terminate; no rise at all may be
    notified later than 20 days before the start. Planning aid, not legal advice.
    """
    rise = price_rise(sold, now)
    if rise <= 0:
        return ()
    found = []
    left = None if start is None else (start - as_of).days
    if left is not None and left < NO_RISE_DAYS:
        found.append(
            Doubt(
                kind=DoubtKind.TOO_LATE_TO_RAISE,
                day=None,
                subject="price",
                says=to_count(
                    "sold at {sold}, now {now}: {count} day before the start the price can't be raised any "
                    "more",
                    "sold at {sold}, now {now}: {count} days before the start the price can't be raised any "
                    "more",
                    left,
                    sold=said(sold),
                    now=said(now),
                ),
                figure=float(left),
                limit=float(NO_RISE_DAYS),
                unit="days",
                source=PACKAGE_DIRECTIVE,
            )
        )
    found.append(
        Doubt(
            kind=DoubtKind.PRICE_RISEN,
            day=None,
            subject="price",
            says=_risen(said(sold), said(now), rise),
            figure=float(rise),
            limit=MAY_TERMINATE_SHARE,
            unit="share",
            source=PACKAGE_DIRECTIVE,
        )
    )
    return tuple(found)


def _risen(sold: str, now: str, rise: Fraction) -> Text:
    if rise > Fraction(str(MAY_TERMINATE_SHARE)):
        return to_say(
            "sold at {sold}, now {now}: {more} more, so the traveller may terminate",
            sold=sold,
            now=now,
            more=_percent(rise),
        )
    return to_say("sold at {sold}, now {now}: {more} more", sold=sold, now=now, more=_percent(rise))


def _percent(rise: Fraction) -> str:
    return f"{float(rise * 100):.1f} %"
