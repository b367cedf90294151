"""Two people's changes of one trip put together, or what stands against it.

A day is one thing here, as is each other field of a variant and of the trip: what only one of the two changed
is taken from them. Where both changed the same thing, or one changed what the other's change rests on (who
goes, which days there are, how far the trip is fixed), nothing is guessed and the clashes are named.
"""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, fields, replace
from typing import Any, TypeAlias

from lacet.trip.edits.change import fresh_id, items_of
from lacet.trip.edits.variants import add_variant_of
from lacet.trip.trip import Day, Trip, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """What both changed: a field of the trip, of a variant, or (`field` "day") one of its days."""

    field: str
    variant: str | None = None
    day: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """The two can't be put together; at least one clash, in the order of the trip."""

    clashes: tuple[Clash, ...]


_Parts: TypeAlias = dict[Clash, Hashable]
# What a change of the trip's field rests on besides itself.
_RESTS_ON_PARTY = frozenset({"arrivals", "departures", "bookings"})
_RESTS_ON_VARIANTS = frozenset({"accepted", "proposed"})
# What names a variant, and which.
_CHOSEN: tuple[tuple[str, Callable[[Trip], str | None]], ...] = (
    ("accepted", lambda trip: None if trip.accepted is None else trip.accepted.variant),
    ("proposed", lambda trip: trip.proposed),
)
_RESTS_ON_FIXED = frozenset({"start"})


def merge(base: Trip, mine: Trip, theirs: Trip) -> Trip | Conflict:
    """One trip with the changes of both, equal to one order of the two.

    New cards of mine get fresh ids where theirs have taken them.

    Parameters
    ----------
    base
        The trip both began with.
    """
    if mine == base:
        return theirs
    if theirs == base:
        return mine
    own, other = _changed(_parts(base), _parts(mine)), _changed(_parts(base), _parts(theirs))
    clashes = [
        part for part in (*own, *(each for each in other if each not in own)) if _clash(part, own, other)
    ]
    if clashes:
        return Conflict(clashes=tuple(clashes))
    return _put_together(base, mine, theirs, set(own))


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidBeside:
    """Theirs with all of mine that it can hold.

    Attributes
    ----------
    trip
        What only I changed is in it, and each variant in which the two clash once more, as I left it.
    added
        Ids of those variants, the one asked for first.
    left_out
        Fields of the trip that both changed; they are theirs.
    """

    trip: Trip
    added: tuple[str, ...]
    left_out: tuple[str, ...]


def lay_beside(base: Trip, mine: Trip, theirs: Trip, first: str) -> LaidBeside:
    """Put two people's changes together although they clash; `first` is the variant to lay beside first."""
    own, other = _changed(_parts(base), _parts(mine)), _changed(_parts(base), _parts(theirs))
    clashes = {part for part in own if part in other or any(_either_rests(part, each) for each in other)}
    mild, beside, left = _without(base, mine, clashes)
    whole = merge(base, mild, theirs)
    if isinstance(whole, Conflict):
        # Nothing of mine can be put into theirs: all of it comes beside.
        _, beside, left = _without(base, mine, set(own))
        whole = theirs
    added = []
    for variant in sorted(mine.variants, key=lambda each: each.id != first):
        if variant.id in beside:
            whole = add_variant_of(whole, variant)
            added.append(whole.variants[-1].id)
    given_up = sorted(name for name in left if getattr(mine, name) != getattr(whole, name))
    return LaidBeside(trip=whole, added=tuple(added), left_out=tuple(given_up))


def _without(base: Trip, mine: Trip, parts: set[Clash]) -> tuple[Trip, set[str], set[str]]:
    """Mine as it was in the variants and fields of these parts, and what those are."""
    beside = {part.variant for part in parts if part.variant is not None}
    there = mine.variants
    if Clash(field="variants") in parts or any(mine.variant(each) is None for each in beside):
        beside |= {each.id for each in mine.variants if base.variant(each.id) is None}
        there = tuple(mine.variant(each.id) or each for each in base.variants)
    before = ((base.variant(each.id) if each.id in beside else each) for each in there)
    kept = tuple(each for each in before if each is not None)
    left = {part.field for part in parts if part.variant is None and part.field != "variants"}
    left |= {name for name, chosen in _CHOSEN if chosen(mine) not in {None, *(each.id for each in kept)}}
    fields_before = {name: getattr(base, name) for name in left}
    return replace(mine, variants=kept, **fields_before), beside, left


def _either_rests(one: Clash, other: Clash) -> bool:
    return _rests_on(one, other) or _rests_on(other, one)


def _parts(trip: Trip) -> _Parts:
    """Everything that can be changed on its own; "variants" and "days" are the ids in their order."""
    parts: _Parts = {Clash(field=each.name): getattr(trip, each.name) for each in fields(trip)}
    parts[Clash(field="variants")] = tuple(each.id for each in trip.variants)
    for variant in trip.variants:
        for each in fields(variant):
            parts[Clash(field=each.name, variant=variant.id)] = getattr(variant, each.name)
        parts[Clash(field="days", variant=variant.id)] = tuple(day.id for day in variant.days)
        for day in variant.days:
            parts[Clash(field="day", variant=variant.id, day=day.id)] = day
    return parts


def _changed(base: _Parts, now: _Parts) -> _Parts:
    both = {**base, **now}
    return {part: now.get(part) for part in both if base.get(part) != now.get(part)}


def _clash(part: Clash, own: _Parts, other: _Parts) -> bool:
    if part in own and part in other:
        return True
    against = other if part in own else own
    return any(_rests_on(each, part) for each in against)


def _rests_on(part: Clash, ground: Clash) -> bool:
    """Whether a change of `part` may mean something else once `ground` is changed."""
    within = part.variant is not None
    if ground.variant is not None:
        return ground.field == "days" and part.variant == ground.variant
    if ground.field == "party":
        return within or part.field in _RESTS_ON_PARTY
    if ground.field == "fixed_through":
        return within or part.field in _RESTS_ON_FIXED
    return ground.field == "variants" and (within or part.field in _RESTS_ON_VARIANTS)


def _put_together(base: Trip, mine: Trip, theirs: Trip, own: set[Clash]) -> Trip:
    own_fields = {part.field for part in own if part.variant is None and part.field != "variants"}
    whole = replace(theirs, **{name: getattr(mine, name) for name in own_fields})
    if Clash(field="variants") in own:
        return replace(whole, variants=mine.variants)
    variants = (_variant(base, mine, each, own) for each in theirs.variants)
    return replace(whole, variants=tuple(variants))


def _variant(base: Trip, mine: Trip, theirs: Variant, own: set[Clash]) -> Variant:
    before, after = base.variant(theirs.id), mine.variant(theirs.id)
    changes = {part for part in own if part.variant == theirs.id}
    if before is None or after is None or not changes:
        return theirs
    names = {part.field for part in changes if part.field != "day"}
    whole = replace(theirs, **{name: getattr(after, name) for name in names})
    if "days" in names:
        return whole
    renamed = _fresh_ids(before, after, theirs)
    own_days = {part.day: _renamed(after.day(part.day), renamed) for part in changes if part.day is not None}
    return replace(whole, days=tuple(own_days.get(day.id) or day for day in theirs.days))


def _fresh_ids(before: Variant, mine: Variant, theirs: Variant) -> dict[str, str]:
    """What cards and alternatives of mine are called instead where theirs have taken their new ids."""
    given: dict[str, str] = {}
    for prefix, ids in (("i", _card_ids), ("a", _alternative_ids)):
        known, used = ids(before), [*ids(before), *ids(theirs)]
        for name in sorted(set(ids(mine)).difference(known), key=lambda each: (len(each), each)):
            given[name] = fresh_id(prefix, used) if name in used else name
            used.append(given[name])
    return given


def _card_ids(variant: Variant) -> list[str]:
    return [item.id for day in variant.days for item in items_of(day)]


def _alternative_ids(variant: Variant) -> list[str]:
    return [other.id for day in variant.days for other in day.alternatives]


def _renamed(day: Day | None, names: dict[str, str]) -> Day | None:
    if day is None:
        return None

    def named(values: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(replace(each, id=names.get(each.id, each.id)) for each in values)

    others = (replace(each, items=named(each.items)) for each in named(day.alternatives))
    return replace(day, items=named(day.items), alternatives=tuple(others))
