"""Two people's changes of one trip put together, or what stands against it.

What is done on a day is one thing here, as is each of its nights, meals and moves, each hire, and each other
field of a variant and of the trip: what only one of the two changed is taken from them. Where both changed
the same thing, or one changed what the other's change rests on (who goes, which days there are, how far the
trip is fixed), or a guest would have two beds, dinners or bikes, nothing is guessed
and the clashes are named.
"""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import Any, TypeAlias, TypeVar

from lacet.trip.edits.change import items_of
from lacet.trip.edits.naming import OF_A_DAY, OF_CROSSINGS, OF_HIRES, fresh_id
from lacet.trip.edits.shared import alike
from lacet.trip.edits.variants import add_variant_of
from lacet.trip.hires import days_of, in_order
from lacet.trip.trip import Day, Hire, Meal, Move, Night, Travellers, Trip, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """What both changed: a field of the trip, of a variant, or (`field` "day") what is done on a day of it.

    `part` is the id of a hire, or of one of a day's nights, meals or moves, whichever `field` names.
    """

    field: str
    variant: str | None = None
    day: str | None = None
    part: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """The two can't be put together; at least one clash, in the order of the trip."""

    clashes: tuple[Clash, ...]


_Parts: TypeAlias = dict[Clash, Hashable]
_Part = TypeVar("_Part", bound=Night | Meal | Move | Hire)
_Named = TypeVar("_Named", bound=Any)
_Whole = TypeVar("_Whole")
_NO_PARTS: dict[str, Any] = dict.fromkeys(OF_A_DAY, ())
# What a change of the trip's field rests on besides itself.
_RESTS_ON_PARTY = frozenset({"arrivals", "departures"})
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
    mine = _told_apart(base, mine, theirs)
    own, other = _changed(_parts(base), _parts(mine)), _changed(_parts(base), _parts(theirs))
    clashes = [
        part for part in (*own, *(each for each in other if each not in own)) if _clash(part, own, other)
    ]
    clashes += _for_one_guest(own, other, mine, theirs)
    if clashes:
        return Conflict(clashes=tuple(dict.fromkeys(clashes)))
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
    mine = _told_apart(base, mine, theirs)
    own, other = _changed(_parts(base), _parts(mine)), _changed(_parts(base), _parts(theirs))
    clashes = {part for part in own if part in other or any(_either_rests(part, each) for each in other)}
    clashes |= set(_for_one_guest(own, other, mine, theirs))
    while tied := {part for part in own if any(_either_rests(part, each) for each in clashes)} - clashes:
        # What goes with a part of mine goes where that goes: without guests of mine, what I planned for them.
        clashes |= tied
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


def _for_one_guest(own: _Parts, other: _Parts, mine: Trip, theirs: Trip) -> list[Clash]:
    """Nights, meals and hires of both of which a guest can have but one, or which would be one for both."""
    return [
        one
        for one, part in own.items()
        for another, that in other.items()
        if one.part and (one.field, one.variant, one.day) == (another.field, another.variant, another.day)
        if _meet(part, that, mine.variant(one.variant or ""), theirs.variant(one.variant or ""))
    ]


def _meet(one: Hashable, other: Hashable, mine: Variant | None, theirs: Variant | None) -> bool:
    match one, other:
        case Hire(), Hire() if mine is not None and theirs is not None:
            apart = set(days_of(one, mine)).isdisjoint(days_of(other, theirs))
            return one.traveller == other.traveller and not apart
        case Night(), Night():
            return alike(one, other) or _share(one.travellers, other.travellers)
        case Meal(), Meal():
            return one.kind is other.kind and (alike(one, other) or _share(one.travellers, other.travellers))
    return False


def _share(one: Travellers, other: Travellers) -> bool:
    return one is None or other is None or not set(one).isdisjoint(other)


def _parts(trip: Trip) -> _Parts:
    """Everything that can be changed on its own; "variants" and "days" are the ids in their order."""
    parts: _Parts = {Clash(field=each.name): getattr(trip, each.name) for each in fields(trip)}
    parts[Clash(field="variants")] = tuple(each.id for each in trip.variants)
    for variant in trip.variants:
        for each in fields(variant):
            parts[Clash(field=each.name, variant=variant.id)] = getattr(variant, each.name)
        parts[Clash(field="days", variant=variant.id)] = tuple(day.id for day in variant.days)
        del parts[Clash(field="hires", variant=variant.id)]
        parts |= {Clash(field="hires", variant=variant.id, part=each.id): each for each in variant.hires}
        for day in variant.days:
            parts[Clash(field="day", variant=variant.id, day=day.id)] = replace(day, **_NO_PARTS)
            for name in OF_A_DAY:
                for part in getattr(day, name):
                    parts[Clash(field=name, variant=variant.id, day=day.id, part=part.id)] = part
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
    names = {part.field for part in changes if part.day is None and part.part is None}
    if "days" in names:
        return after  # all else in the variant rests on its days: they changed none of it
    whole = replace(theirs, **{name: getattr(after, name) for name in names})
    days = tuple(
        _day(day, after.day(day.id), {part for part in changes if part.day == day.id}) for day in theirs.days
    )
    hires = {part.part for part in changes if part.field == "hires" and part.part}
    whole = replace(whole, days=days)
    return replace(whole, hires=in_order(whole, _mixed(theirs.hires, after.hires, hires)))


def _day(theirs: Day, mine: Day | None, changes: set[Clash]) -> Day:
    changes = {part for part in changes if part.day == theirs.id}
    if mine is None or not changes:
        return theirs
    done = mine if any(part.field == "day" for part in changes) else theirs
    parts: dict[str, Any] = {}
    for name in OF_A_DAY:
        own = {part.part for part in changes if part.field == name and part.part}
        parts[name] = _mixed(getattr(theirs, name), getattr(mine, name), own)
    return replace(done, **parts)


def _mixed(theirs: tuple[_Part, ...], mine: tuple[_Part, ...], own: set[str]) -> tuple[_Part, ...]:
    """Their parts with my changes of `own`: changed in place, taken out, or new at the end."""
    changed = {part.id: part for part in mine if part.id in own}
    there = {part.id for part in theirs}
    kept = (changed.get(part.id, part) for part in theirs if part.id not in own or part.id in changed)
    return (*kept, *(part for part in mine if part.id in own and part.id not in there))


def _told_apart(base: Trip, mine: Trip, theirs: Trip) -> Trip:
    """Mine, with other ids for what is new in it where theirs have taken the same."""
    names = _fresh_ids({OF_CROSSINGS: _crossing_ids}, base, mine, theirs)
    return replace(
        mine,
        variants=tuple(_renamed_in(base, each, theirs) for each in mine.variants),
        arrivals=_with_names(mine.arrivals, names),
        departures=_with_names(mine.departures, names),
    )


def _renamed_in(base: Trip, mine: Variant, theirs: Trip) -> Variant:
    before, after = base.variant(mine.id), theirs.variant(mine.id)
    if before is None or after is None or before in (mine, after):
        return mine
    names = _fresh_ids(_IDS, before, mine, after)
    days = tuple(_renamed(day, names) for day in mine.days)
    return replace(mine, days=days, hires=_with_names(mine.hires, names))


def _fresh_ids(
    kinds: Mapping[str, Callable[[_Whole], list[str]]], before: _Whole, mine: _Whole, theirs: _Whole
) -> dict[str, str]:
    """What is called instead in mine where theirs have taken its new id; `kinds` are ids by their prefix."""
    given: dict[str, str] = {}
    for prefix, ids in kinds.items():
        known, used = ids(before), [*ids(before), *ids(theirs)]
        for name in sorted(set(ids(mine)).difference(known), key=lambda each: (len(each), each)):
            given[name] = fresh_id(prefix, used) if name in used else name
            used.append(given[name])
    return given


def _with_names(parts: tuple[_Named, ...], names: dict[str, str]) -> tuple[_Named, ...]:
    return tuple(replace(each, id=names.get(each.id, each.id)) for each in parts)


def _crossing_ids(trip: Trip) -> list[str]:
    return [each.id for each in (*trip.arrivals, *trip.departures)]


def _card_ids(variant: Variant) -> list[str]:
    return [item.id for day in variant.days for item in items_of(day)]


def _alternative_ids(variant: Variant) -> list[str]:
    return [other.id for day in variant.days for other in day.alternatives]


def _hire_ids(variant: Variant) -> list[str]:
    return [hire.id for hire in variant.hires]


def _ids_of(name: str, variant: Variant) -> list[str]:
    return [part.id for day in variant.days for part in getattr(day, name)]


# Ids of what a variant holds, by their prefix.
_IDS: dict[str, Callable[[Variant], list[str]]] = {
    "i": _card_ids,
    "a": _alternative_ids,
    OF_HIRES: _hire_ids,
    **{prefix: partial(_ids_of, name) for name, prefix in OF_A_DAY.items()},
}


def _renamed(day: Day, names: dict[str, str]) -> Day:
    def named(values: tuple[Any, ...]) -> tuple[Any, ...]:
        return _with_names(values, names)

    others = tuple(replace(each, items=named(each.items)) for each in named(day.alternatives))
    parts: dict[str, Any] = {name: named(getattr(day, name)) for name in OF_A_DAY}
    return replace(day, items=named(day.items), alternatives=others, **parts)
