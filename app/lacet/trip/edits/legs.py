"""Legs: a stage turned round, cut short, ridden on another bike; and newer versions of library items.

A cut counts from the stage's own start, whichever way it is travelled, so turning a leg round keeps the cut
on the same stretch of ground. Taking a newer version is a decision: what was sold stays what was sold until
somebody takes it, and days already under way keep what they had.
"""

from collections.abc import Iterable, Iterator
from dataclasses import fields
from typing import Any

from lacet.trip.edits.change import EditRefused, changed, find_item, items_of, variant_of, with_variant
from lacet.trip.edits.items import replace_item
from lacet.trip.library import Bike, Lodging, Ref, Restaurant, Stage, Transfer
from lacet.trip.trip import Day, Leg, Trip

_REFERENCES: dict[type, tuple[str, ...]] = {
    Stage: ("stage",),
    Lodging: ("lodging",),
    Restaurant: ("restaurant",),
    Transfer: ("transfer", "means"),
    Bike: ("bike",),
}


def reverse_leg(trip: Trip, variant_id: str, item_id: str) -> Trip:
    """Travel the leg the other way round."""
    leg = _leg(trip, variant_id, item_id)
    return replace_item(trip, variant_id, item_id, changed(leg, backward=not leg.backward))


def cut_leg(
    trip: Trip,
    variant_id: str,
    item_id: str,
    *,
    from_m: float | None = None,
    to_m: float | None = None,
    stage_length_m: float,
) -> Trip:
    """Travel only part of a stage, counted from the stage's own start [m]; None = its end.

    Raises
    ------
    EditRefused
        When the cut lies outside the stage or has no length.
    """
    begin = 0.0 if from_m is None else from_m
    end = stage_length_m if to_m is None else to_m
    if not 0 <= begin < end <= stage_length_m:
        raise EditRefused(
            "A cut from {begin:.1f} to {end:.1f} km doesn't fit a stage of {stage_length_m:.1f} km.",
            begin=begin / 1000,
            end=end / 1000,
            stage_length_m=stage_length_m / 1000,
        )
    leg = changed(
        _leg(trip, variant_id, item_id),
        cut_from_m=begin if begin > 0 else None,
        cut_to_m=end if end < stage_length_m else None,
    )
    return replace_item(trip, variant_id, item_id, leg)


def set_assist(trip: Trip, variant_id: str, item_id: str, assist: str | None) -> Trip:
    """Name the assist level of the e-bike on this leg (None = the bike's usual one)."""
    return replace_item(trip, variant_id, item_id, changed(_leg(trip, variant_id, item_id), assist=assist))


def set_leg_bike(trip: Trip, variant_id: str, item_id: str, bike: Ref | None) -> Trip:
    """Ride this leg on another bike than the hired one (None = the hired one)."""
    return replace_item(trip, variant_id, item_id, changed(_leg(trip, variant_id, item_id), bike=bike))


def use_version(trip: Trip, variant_id: str, kind: type, item_id: str, version: int) -> Trip:
    """Point everything in the variant that uses a library item at this version, fixed days excepted."""
    if kind not in _REFERENCES or version < 1:
        raise EditRefused(
            "A trip can't point at version {version} of a {kind}.",
            version=version,
            kind=kind.__name__.lower(),
        )
    variant = variant_of(trip, variant_id)
    ref = Ref(item_id, version)
    fixed = trip.fixed_days(variant)
    kept = variant.days[:fixed]
    days = tuple(_day_with(day, kind, ref) for day in variant.days[fixed:])
    hires = tuple(_with(hire, kind, ref) for hire in variant.hires)
    return with_variant(trip, changed(variant, days=kept + days, hires=hires))


def _day_with(day: Day, kind: type, ref: Ref) -> Day:
    return changed(
        day,
        items=tuple(_with(item, kind, ref) for item in day.items),
        nights=tuple(_with(night, kind, ref) for night in day.nights),
        meals=tuple(_with(meal, kind, ref) for meal in day.meals),
        moves=tuple(_with(move, kind, ref) for move in day.moves),
        alternatives=tuple(
            changed(other, items=tuple(_with(item, kind, ref) for item in other.items))
            for other in day.alternatives
        ),
    )


def _with(part: Any, kind: type, ref: Ref) -> Any:
    names = {field.name for field in fields(part)}.intersection(_REFERENCES[kind])
    pointing = [name for name in names if (old := getattr(part, name)) is not None and old.id == ref.id]
    return changed(part, **dict.fromkeys(pointing, ref))


def uses(trip: Trip, variant_id: str, kind: type) -> tuple[Ref, ...]:
    """The versions of one kind of library item that a variant points at, each once, in order of use."""
    variant = variant_of(trip, variant_id)
    found = dict.fromkeys(_references(variant.hires, kind))
    for day in variant.days:
        found |= dict.fromkeys(uses_on(day, kind))
    return tuple(found)


def uses_on(day: Day, kind: type) -> tuple[Ref, ...]:
    """The versions of one kind of library item that a day points at, each once, in order of use."""
    return tuple(dict.fromkeys(_references((*items_of(day), *day.nights, *day.meals, *day.moves), kind)))


def _references(parts: Iterable[Any], kind: type) -> Iterator[Ref]:
    refs = (getattr(part, name, None) for part in parts for name in _REFERENCES[kind])
    return (ref for ref in refs if ref is not None)


def _leg(trip: Trip, variant_id: str, item_id: str) -> Leg:
    day, index = find_item(variant_of(trip, variant_id), item_id)
    item = day.items[index]
    if not isinstance(item, Leg):
        raise EditRefused("Only a stage can be turned round, cut or ridden; this card isn't one.")
    return item
