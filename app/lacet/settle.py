"""Proves candidate fixes: applies each, assesses the result, keeps what helps, says what it costs.

Never called during a drag: every candidate is a whole assessment.
"""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.language import Text, to_count, to_say
from lacet.price.amounts import from_minor, round_fraction, to_minor
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding, Fix, Level, ProvedFix
from lacet.trip.money import Money
from lacet.trip.trip import About

_WEIGHT = {Level.STOP: 100, Level.WARN: 10, Level.NOTE: 1}
UNKNOWN_WEIGHT = 5


def settle(inputs: Inputs, assessment: Assessment) -> tuple[tuple[ProvedFix, ...], ...]:
    """The proved fixes of each finding, in the order of `assessment.findings`; best first.

    A fix is kept when its finding goes away or weighs less and the variant as a whole weighs less than
    before. Overruled findings need none.
    """
    return tuple(
        () if finding.overruled_by else settle_one(inputs, assessment, finding)
        for finding in assessment.findings
    )


def settle_one(inputs: Inputs, assessment: Assessment, finding: Finding) -> tuple[ProvedFix, ...]:
    """The proved fixes of one finding, by effect and then by cost."""
    proved = (_prove(inputs, assessment, finding, fix) for fix in finding.fixes)
    kept = [each for each in proved if each is not None]
    return tuple(sorted(kept, key=_best_first))


def weight(assessment: Assessment) -> int:
    """How much is left to settle: stops before warnings before notes; 0 is a finished variant."""
    return sum(_finding_weight(finding) for finding in assessment.findings if finding.overruled_by is None)


def _finding_weight(finding: Finding) -> int:
    return _WEIGHT[finding.level] + (UNKNOWN_WEIGHT if finding.unknown else 0)


def _prove(inputs: Inputs, before: Assessment, finding: Finding, fix: Fix) -> ProvedFix | None:
    after = _assessed(inputs, fix)
    if after is None:
        return None
    left = [each for each in after.findings if each.key == finding.key]
    eased = all(_finding_weight(each) < _finding_weight(finding) for each in left)
    gain = weight(before) - weight(after)
    if not eased or gain <= 0:
        return None
    change = _price_change(before, after)
    return ProvedFix(
        says=fix.says,
        result=_result(before, after, finding, change),
        edit=fix.edit,
        act=fix.act,
        settles=gain,
        price_change=change,
    )


def _assessed(inputs: Inputs, fix: Fix) -> Assessment | None:
    """The assessment after the remedy, or None when it has no meaning there."""
    try:
        return assess(replace(inputs, trip=fix.edit(inputs.trip), bookings=fix.act(inputs.bookings)))
    except LacetError:
        return None


def _price_change(before: Assessment, after: Assessment) -> Money | None:
    """Change of the price a head, or None when a price is unknown in part or nobody pays."""
    heads = len(before.quote.per_traveller)
    if not heads or len(after.quote.per_traveller) != heads or before.quote.is_from or after.quote.is_from:
        return None
    more = to_minor(after.quote.total) - to_minor(before.quote.total)
    return from_minor(round_fraction(Fraction(more, heads)), after.quote.currency)


def _result(before: Assessment, after: Assessment, finding: Finding, change: Money | None) -> Text:
    parts = [_standing(after, finding)]
    new = _open(after) - _open(before)
    if new:
        parts.append(to_count("but {count} new to settle", "but {count} new to settle", len(new)))
    if change is not None and change.amount:
        parts.append(to_say("{amount:+} {currency} a head", amount=change.amount, currency=change.currency))
    return to_say("{parts:commas}", parts=tuple(parts))


_TRIP_STANDS = {
    True: to_say("the trip works"),
    False: to_say("other stops stay"),
    None: to_say("the trip is not proved yet"),
}


def _standing(after: Assessment, finding: Finding) -> Text:
    day = finding.day
    if day is None:
        return _TRIP_STANDS[after.works]
    works = after.day_works(day)
    if works:
        return to_say("day {day} works", day=day)
    if works is None:
        return to_say("day {day} is not proved yet", day=day)
    return to_say("day {day} has other stops", day=day)


def _open(assessment: Assessment) -> set[tuple[str, str, tuple[About, ...]]]:
    return {each.key for each in assessment.findings if each.overruled_by is None}


def _best_first(fix: ProvedFix) -> tuple[int, Decimal]:
    return -fix.settles, fix.price_change.amount if fix.price_change else Decimal(0)
