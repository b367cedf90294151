"""Whether the variant the client said yes to can still be had at the price it was sold for.

Planning aid, not legal advice: whether a rise may be passed on at all is for the contract to say.
"""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.language import Text, to_say
from lacet.price.doubt import Doubt, DoubtKind, said
from lacet.price.rise import PACKAGE_DIRECTIVE, package_doubts
from lacet.trip.finding import Finding, Level
from lacet.trip.money import Money

ID = "price_sold"
SAYS = "What was sold costs no more now; above 8 % the client may go, and in the last 20 days nothing rises."
SOURCE = PACKAGE_DIRECTIVE
_TOO_LATE = to_say("Bear the difference.")
_MUCH = to_say("Bear it, or tell the client why, that they may end the contract, and by when to answer.")
_LITTLE = to_say("Bear it, or tell the client at least 20 days before the start, if the contract lets you.")


def check(case: Case) -> Iterator[Finding]:
    accepted = case.trip.accepted
    if accepted is None or accepted.variant != case.variant_id:
        return
    sold, now = accepted.price, case.quote.total
    if sold is None:
        yield _note("not_written", to_say("Nobody has written down what it was sold for. Enter the price."))
    elif sold.currency != now.currency:
        yield _note(
            "other_currency",
            to_say(
                "Sold at {sold} and now priced in {currency}: a rise can't be told. "
                "Price it in the currency it was sold in.",
                sold=said(sold),
                currency=now.currency,
            ),
        )
    else:
        yield from _risen(case, sold, now)


def _risen(case: Case, sold: Money, now: Money) -> Iterator[Finding]:
    found = package_doubts(sold, now, case.trip.start, case.as_of)
    late = any(doubt.kind is DoubtKind.TOO_LATE_TO_RAISE for doubt in found)
    for doubt in found:
        # Too late to raise, the share it rose by changes nothing any more.
        if not late or doubt.kind is DoubtKind.TOO_LATE_TO_RAISE:
            yield _finding(doubt, late)


def _finding(doubt: Doubt, late: bool) -> Finding:
    much = doubt.figure is not None and doubt.limit is not None and doubt.figure > doubt.limit
    return Finding(
        check=ID,
        level=Level.WARN if late or much else Level.NOTE,
        code=doubt.kind.value,
        subject=(),
        says=to_say(
            "{says:begun}. {what}", says=doubt.says, what=_TOO_LATE if late else _MUCH if much else _LITTLE
        ),
        figure=doubt.figure,
        limit=doubt.limit,
        unit=doubt.unit,
        worse_is_more=not late,
        source=doubt.source,
    )


def _note(code: str, says: Text) -> Finding:
    return Finding(check=ID, code=code, level=Level.NOTE, subject=(), says=says, source=PACKAGE_DIRECTIVE)
