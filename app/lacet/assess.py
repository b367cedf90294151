"""The one function: all figures, findings and prices of one variant, from values alone.

Pure and deterministic: the library, what other trips hold and today's date are part of the `Inputs`.
Everything that shows or stores a figure reads the one `Assessment`, so a figure can't differ between two
places.
"""

from dataclasses import dataclass
from datetime import date

from lacet.checks.case import case_of
from lacet.checks.registry import run_checks
from lacet.days.seasons import covers
from lacet.figures.values import VariantFigures
from lacet.figures.variant import follow, variant_figures
from lacet.inputs import Inputs
from lacet.price.quote import Quote, quote
from lacet.trip.finding import Finding, Level
from lacet.trip.overrules import bind_overrules

_WEIGHT = {Level.STOP: 0, Level.WARN: 1, Level.NOTE: 2}


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


def assess(inputs: Inputs) -> Assessment:
    """Assess one variant of a trip."""
    trip, variant, catalogue, rules = inputs.trip, inputs.variant, inputs.catalogue, inputs.rules
    itinerary = follow(trip, variant, catalogue)
    figures = variant_figures(trip, variant, itinerary, catalogue, rules)
    priced = quote(trip, variant, catalogue, rules, inputs.as_of, in_season=covers)
    case = case_of(inputs, itinerary, figures, priced)
    found = bind_overrules(run_checks(case), variant.overrules)
    return Assessment(
        trip=trip.id,
        variant=variant.id,
        as_of=inputs.as_of,
        figures=figures,
        quote=priced,
        findings=tuple(sorted(found, key=_worst_first)),
    )


def _worst_first(finding: Finding) -> tuple[bool, int, int]:
    return finding.overruled_by is not None, _WEIGHT[finding.level], finding.day or 0
