"""What a drop means: from what was picked up and where it was let go to one edit, or to why not.

The same function previews and drops, for the mouse and for the keyboard. Whoever calls it says where the
party stands, since stages know their places and this room does not look them up.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, TypeAlias

import orjson

from lacet.trip import edits
from lacet.trip.errors import LacetError
from lacet.trip.library import Ref
from lacet.trip.plain import NotPlain, from_plain, to_plain
from lacet.trip.trip import Day, Item, Leg, Note, Rest, Ride, Travellers, Trip, Variant, Visit
from lacet.trip.words import Way


class PayloadRefused(LacetError):
    """What was dropped isn't ours, or is damaged."""


@dataclass(frozen=True, slots=True)
class StagePayload:
    """A stage from the shelf; `backward` is used where neither end is where the party stands."""

    stage: str
    version: int
    way: Way
    from_place: str
    to_place: str
    backward: bool = False


@dataclass(frozen=True, slots=True)
class CardPayload:
    """Another card from the shelf: 'rest', 'ride', 'visit' or 'note', with its text."""

    card: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class ItemPayload:
    """A card that stands on the sheet."""

    item: str


@dataclass(frozen=True, slots=True)
class DayPayload:
    """A whole day, taken by its head."""

    day: str


@dataclass(frozen=True, slots=True)
class StayPayload:
    """The edge of a stay: pulled over so many nights (negative = shorter)."""

    day: str
    lodging: str
    nights: int = 0


Payload: TypeAlias = StagePayload | CardPayload | ItemPayload | DayPayload | StayPayload
_KINDS: dict[str, type[Any]] = {
    "stage": StagePayload,
    "card": CardPayload,
    "item": ItemPayload,
    "day": DayPayload,
    "stay": StayPayload,
}
_CARDS = ("rest", "ride", "visit", "note")


@dataclass(frozen=True, slots=True)
class Gap:
    """Between days: what is dropped there gets a day of its own, before the day of this index."""

    at: int


@dataclass(frozen=True, slots=True)
class OnDay:
    """On a day, before the card of this index (None = after all), for some travellers only or for all."""

    day: int
    at: int | None = None
    travellers: Travellers = None


@dataclass(frozen=True, slots=True)
class Out:
    """Off the sheet."""


Target: TypeAlias = Gap | OnDay | Out


@dataclass(frozen=True, slots=True)
class Standing:
    """Where the party stands, by place id (None = unknown).

    `mornings` has one more than there are days: where each day begins, and where the trip ends.
    `evenings` is where each day's cards end.
    """

    mornings: tuple[str | None, ...] = (None,)
    evenings: tuple[str | None, ...] = ()

    def at(self, target: Target) -> str | None:
        """Where somebody stands who is about to begin what is dropped."""
        if isinstance(target, Gap):
            return self.mornings[target.at] if target.at < len(self.mornings) else None
        if isinstance(target, OnDay):
            side = self.mornings if target.at == 0 else self.evenings
            return side[target.day] if target.day < len(side) else None
        return None


@dataclass(frozen=True, slots=True)
class Drop:
    """A drop with a meaning: its edit, and how the history names it."""

    says: str
    edit: Callable[[Trip], Trip]


@dataclass(frozen=True, slots=True)
class NoDrop:
    """A drop without one: why not."""

    says: str


def to_json(payload: Payload) -> str:
    """The payload as text, to be carried by a drag."""
    kind = next(name for name, each in _KINDS.items() if isinstance(payload, each))
    return orjson.dumps({"kind": kind} | to_plain(payload)).decode()


def from_json(text: str | bytes) -> Payload:
    """The payload of a drag.

    Raises
    ------
    PayloadRefused
        When the text isn't one of our payloads.
    """
    try:
        parts = dict(orjson.loads(text))
        payload: Payload = from_plain(_KINDS[parts.pop("kind")], parts)
    except (ValueError, KeyError, TypeError, NotPlain) as error:
        raise PayloadRefused("Only cards of Lacet can be dropped on the sheet.") from error
    if isinstance(payload, CardPayload) and payload.card not in _CARDS:
        raise PayloadRefused("Lacet knows no such card.")
    return payload


def drop(trip: Trip, variant_id: str, payload: Payload, target: Target, standing: Standing) -> Drop | NoDrop:
    """What letting this go there means."""
    variant = trip.variant(variant_id)
    if variant is None:
        return NoDrop("This variant is no longer there.")
    if isinstance(target, OnDay) and target.day >= len(variant.days):
        return NoDrop("There is no such day.")
    found = _meaning(variant, payload, target, standing)
    return _tried(trip, found) if isinstance(found, Drop) else found


def _tried(trip: Trip, found: Drop) -> Drop | NoDrop:
    """The drop, unless its edit is refused or changes nothing: then why."""
    try:
        changed = found.edit(trip)
    except LacetError as refusal:
        return NoDrop(str(refusal))
    return NoDrop("It stands there already.") if changed == trip else found


def _meaning(variant: Variant, payload: Payload, target: Target, standing: Standing) -> Drop | NoDrop:
    if isinstance(payload, StagePayload | CardPayload):
        return _from_shelf(variant, payload, target, standing)
    if isinstance(payload, ItemPayload):
        return _card(variant, payload, target)
    if isinstance(payload, DayPayload):
        return _day(variant, payload, target)
    return _stay(variant, payload)


def _from_shelf(
    variant: Variant, payload: StagePayload | CardPayload, target: Target, standing: Standing
) -> Drop | NoDrop:
    if isinstance(target, Out):
        return NoDrop("Drop it on a day, or between two days.")
    made = _made(payload, target, standing)
    if isinstance(made, NoDrop):
        return made
    item, what = made
    if isinstance(target, Gap):
        number = target.at + 1
        return Drop(
            f"{what} as a new day {number}",
            lambda trip: edits.place_item_in_new_day(trip, variant.id, target.at, item),
        )
    day = variant.days[target.day]
    return Drop(f"{what} on day {target.day + 1}", lambda trip: _placed(trip, variant.id, day, item, target))


def _placed(trip: Trip, variant_id: str, day: Day, item: Item, target: OnDay) -> Trip:
    """The card on its day; for those who travel, a stage takes the place of a card that says 'rest day'."""
    resting = [each for each in day.items if isinstance(each, Rest)] if isinstance(item, Leg) else []
    changed = edits.place_item(trip, variant_id, day.id, item, target.at, travellers=target.travellers)
    for rest in resting:
        changed = _rested(changed, variant_id, rest, target.travellers)
    return changed


def _rested(trip: Trip, variant_id: str, rest: Rest, leaving: Travellers) -> Trip:
    """The rest left to those who don't travel, or taken away when everybody does."""
    resting = (
        tuple(guest.id for guest in trip.party.travellers) if rest.travellers is None else rest.travellers
    )
    staying = () if leaving is None else tuple(who for who in resting if who not in leaving)
    if staying:
        return edits.set_item_travellers(trip, variant_id, rest.id, staying)
    return edits.remove_item(trip, variant_id, rest.id)


def _made(
    payload: StagePayload | CardPayload, target: Target, standing: Standing
) -> tuple[Item, str] | NoDrop:
    here = standing.at(target)
    if isinstance(payload, StagePayload):
        return _leg(payload, here), "stage"
    if payload.card == "rest":
        return Rest(id="", says=payload.says), "rest day"
    if payload.card == "note":
        return Note(id="", says=payload.says or "Note"), "note"
    if payload.card == "visit":
        return Visit(id="", name=payload.says or "Visit", place=here), "visit"
    return _ride(target, here, standing)


def _leg(payload: StagePayload, here: str | None) -> Leg:
    """Forward from where the party stands, backward where only the far end is there."""
    backward = payload.backward
    if here == payload.from_place:
        backward = False
    elif here == payload.to_place:
        backward = True
    return Leg(id="", stage=Ref(payload.stage, payload.version), way=payload.way, backward=backward)


def _ride(target: Target, here: str | None, standing: Standing) -> tuple[Item, str] | NoDrop:
    """A transfer from where the party stands to where it is needed next."""
    following = target.at if isinstance(target, Gap) else target.day + 1 if isinstance(target, OnDay) else 0
    needed = standing.mornings[following] if following < len(standing.mornings) else None
    onward = needed or here
    if here is None or onward is None:
        return NoDrop("Nobody knows yet where the party stands then; place a stage first.")
    return Ride(id="", from_place=here, to_place=onward), "transfer"


def _card(variant: Variant, payload: ItemPayload, target: Target) -> Drop | NoDrop:
    if isinstance(target, Out):
        return Drop("take the card out", lambda trip: edits.remove_item(trip, variant.id, payload.item))
    if isinstance(target, Gap):
        return Drop(
            f"card to a new day {target.at + 1}",
            lambda trip: edits.move_item_to_new_day(trip, variant.id, payload.item, target.at),
        )
    return Drop(f"card to day {target.day + 1}", lambda trip: _moved(trip, variant, payload.item, target))


def _moved(trip: Trip, variant: Variant, item_id: str, target: OnDay) -> Trip:
    day = variant.days[target.day]
    at = target.at
    standing = [index for index, item in enumerate(day.items) if item.id == item_id]
    if at is not None and standing and standing[0] < at:
        at -= 1  # the card leaves its own place first
    changed = edits.move_item(trip, variant.id, item_id, day.id, at)
    if target.travellers is not None:
        changed = edits.set_item_travellers(changed, variant.id, item_id, target.travellers)
    return changed


def _day(variant: Variant, payload: DayPayload, target: Target) -> Drop | NoDrop:
    index = next((at for at, day in enumerate(variant.days) if day.id == payload.day), None)
    if index is None:
        return NoDrop("This day is no longer there.")
    if isinstance(target, Out):
        return Drop(f"take out day {index + 1}", lambda trip: edits.remove_day(trip, variant.id, payload.day))
    to = target.at if isinstance(target, Gap) else target.day
    if isinstance(target, Gap) and to > index:
        to -= 1  # the day leaves its own place first
    to = min(to, len(variant.days) - 1)
    return Drop(
        f"day {index + 1} to day {to + 1}", lambda trip: edits.move_day(trip, variant.id, payload.day, to)
    )


def _stay(variant: Variant, payload: StayPayload) -> Drop | NoDrop:
    if payload.nights == 0:
        return NoDrop("Pull the edge of the stay over at least one night.")
    many = abs(payload.nights)
    what = f"{many} night{'s' if many > 1 else ''} {'more' if payload.nights > 0 else 'fewer'}"
    return Drop(
        what,
        lambda trip: edits.stretch_stay(
            trip, variant.id, payload.day, nights=payload.nights, lodging_id=payload.lodging
        ),
    )


def turned(payload: StagePayload) -> StagePayload:
    """The same stage the other way round."""
    return replace(payload, backward=not payload.backward)
