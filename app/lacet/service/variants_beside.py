"""The assessments of all variants side by side, each kept until something it rests on changes."""

from dataclasses import replace
from datetime import date

from lacet.assess import Assessment, assess
from lacet.service.session import Session
from lacet.service.shown import Shown
from lacet.trip.trip import Trip, Variant
from lacet.wording import speaking


class Assessed:
    """Reads the open variant's own assessment and makes the others', so that an edit costs one."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._kept: dict[str, tuple[Variant, Assessment]] = {}
        self._around: Trip | None = None
        self._basis: tuple[object, ...] = ()
        self._as_of: date | None = None

    def of(self, shown: Shown, variant: Variant) -> Assessment:
        """The assessment of a variant of what is shown."""
        if variant.id == shown.variant_id:
            return shown.assessment
        self._forget_what_changed(shown)
        kept = self._kept.get(variant.id)
        if kept is None or kept[0] != variant:
            kept = self._kept[variant.id] = (variant, self._made(shown, variant))
        return kept[1]

    def _made(self, shown: Shown, variant: Variant) -> Assessment:
        inputs = self._session.inputs(shown.trip, variant.id)
        with speaking(self._session.wording):
            return assess(replace(inputs, bookings=shown.bookings))

    def _forget_what_changed(self, shown: Shown) -> None:
        """What lies around the variants: party, dates; bookings; the library, the rules, today."""
        inner = self._session
        basis = (inner.catalogue, inner.rules, inner.commitments, shown.bookings, inner.wording)
        same = len(basis) == len(self._basis) and all(map(_is, basis, self._basis))
        around = replace(shown.trip, variants=())
        if not same or inner.as_of != self._as_of or around != self._around:
            self._kept.clear()
        self._basis, self._as_of, self._around = basis, inner.as_of, around


def _is(one: object, other: object) -> bool:
    return one is other
