"""The one function: all figures, findings and prices of one variant, from values alone.

Pure and deterministic: the library, what other trips hold and today's date are arguments. Everything
that shows or stores a figure reads the one `Assessment`, so a figure can't differ between two places.
"""

from dataclasses import dataclass
from datetime import date

from lacet.checks.case import Case
from lacet.checks.registry import run_checks
from lacet.days.seasons import covers
from lacet.figures.values import VariantFigures
from lacet.figures.variant import follow, variant_figures
from lacet.price.quote import Quote, quote
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.overrules import bind_overrules
from lacet.trip.trip import Trip, Variant

_WEIGHT = {Level.STOP: 0, Level.WARN: 1, Level.NOTE: 2}


class UnknownVariant(LacetError):
    """The trip has no variant of that id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """What one variant is, as of one day.

    `findings` are ordered worst first, then by day; `works` is True, False, or None while something it
    rests on is unknown.
    """

    trip: str
    variant: str
    as_of: date
    figures: VariantFigures
    quote: Quote
    findings: tuple[Finding, ...]

    @property
    def works(self) -> bool | None:
        return works(self.findings)

    def findings_of(self, day_number: int) -> tuple[Finding, ...]:
        """What is to be said about one day (1-based)."""
        return tuple(finding for finding in self.findings if finding.day == day_number)

    def day_works(self, day_number: int) -> bool | None:
        """Whether a day works: no stop left open, and nothing unknown that it rests on."""
        return works(self.findings_of(day_number))


def works(findings: tuple[Finding, ...]) -> bool | None:
    """True without an open stop, False with one, None when nothing fails but something is unknown."""
    if any(finding.open_stop for finding in findings):
        return False
    unproved = any(finding.unknown and finding.overruled_by is None for finding in findings)
    return None if unproved else True


def assess(
    trip: Trip,
    variant: str | Variant,
    catalogue: Catalogue,
    rules: HouseRules,
    commitments: Commitments = NO_COMMITMENTS,
    *,
    as_of: date,
) -> Assessment:
    """Assess one variant of a trip.

    Parameters
    ----------
    variant
        The variant, or its id.
    commitments
        What other trips hold.
    as_of
        Today, for options, release days and prices.

    Raises
    ------
    UnknownVariant
        When the trip has no variant of that id.
    """
    chosen = _variant(trip, variant)
    itinerary = follow(trip, chosen, catalogue)
    figures = variant_figures(trip, chosen, itinerary, catalogue, rules)
    priced = quote(trip, chosen, catalogue, rules, as_of, in_season=covers)
    case = Case(
        trip=trip,
        variant=chosen,
        catalogue=catalogue,
        rules=rules,
        commitments=commitments,
        as_of=as_of,
        itinerary=itinerary,
        figures=figures,
        quote=priced,
    )
    found = bind_overrules(run_checks(case), chosen.overrules)
    return Assessment(
        trip=trip.id,
        variant=chosen.id,
        as_of=as_of,
        figures=figures,
        quote=priced,
        findings=tuple(sorted(found, key=_worst_first)),
    )


def _variant(trip: Trip, variant: str | Variant) -> Variant:
    if isinstance(variant, Variant):
        return variant
    found = trip.variant(variant)
    if found is None:
        raise UnknownVariant(f"Trip '{trip.name}' has no variant '{variant}'.")
    return found


def _worst_first(finding: Finding) -> tuple[bool, int, int]:
    return finding.overruled_by is not None, _WEIGHT[finding.level], finding.day or 0
