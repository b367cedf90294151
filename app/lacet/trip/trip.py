"""The trip: party, dates, variants, days and what fills them. Frozen values; edits make new ones.

A value is equal to another when every part is equal, which is what undo and the digest rest on.
Ids are stable: moving a day or a card keeps them, copying a variant keeps those of its days (they are
told apart by the variant's own id). Nights, meals, moves, hires and crossings get theirs from the edit that
puts them in; until then it is empty. Travellers of an item: None = everybody there that day.
What was asked of suppliers lies beside the trip (`trip.bookings`).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import TypeAlias

from lacet.trip.library import Ref
from lacet.trip.money import Money
from lacet.trip.party import NOBODY, Party
from lacet.trip.texts import ClientText, GuestKey, Key, LibraryText, OfficeText
from lacet.trip.words import (
    Board,
    Load,
    MealKind,
    Means,
    Payer,
    Reason,
    Way,
)

Travellers: TypeAlias = tuple[GuestKey, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A stage, or a part of it, travelled in one direction.

    The cut counts from the stage's own start whatever the direction [m]; None = the stage's end.
    `bike` overrides the hire; `assist` names the assist level of an e-bike.
    """

    id: Key
    stage: Ref
    way: Way
    backward: bool = False
    cut_from_m: float | None = None
    cut_to_m: float | None = None
    bike: Ref | None = None
    assist: LibraryText | None = None
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """A transfer of guests between two places. Without a library service it is only planned."""

    id: Key
    transfer: Ref | None = None
    from_place: Key
    to_place: Key
    departs: time | None = None
    minutes: int | None = None
    payer: Payer = Payer.INCLUDED
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """Something to see or do, on the way or on a rest day. `tariff` is an entry fee's tariff id."""

    id: Key
    name: OfficeText
    place: Key | None = None
    minutes: int | None = None
    opening: LibraryText = ""
    tariff: Key = ""
    payer: Payer = Payer.OWN
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A day, or what is left of it, to spend as the guests like."""

    id: Key
    says: ClientText = ""
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Free text on a day."""

    id: Key
    says: ClientText
    travellers: Travellers = None


Item: TypeAlias = Leg | Ride | Visit | Rest | Note


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomUse:
    """One room and who sleeps in it."""

    kind: LibraryText
    travellers: tuple[GuestKey, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Night:
    """Where (some of) the party sleeps after the day. No rooms named = the party's sharing decides."""

    id: Key = ""
    lodging: Ref
    board: Board = Board.BREAKFAST
    rooms: tuple[RoomUse, ...] = ()
    late_key: bool = False
    payer: Payer = Payer.INCLUDED
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Meal:
    """A meal: at a restaurant, at the lodging of that night (`at_lodging`), or own choice (neither)."""

    id: Key = ""
    kind: MealKind
    restaurant: Ref | None = None
    at_lodging: bool = False
    at: time | None = None
    payer: Payer = Payer.INCLUDED
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Bags or bikes moved by somebody else. Places are lodging or place ids; None = worked out by the day."""

    id: Key = ""
    load: Load
    from_id: Key | None = None
    to_id: Key | None = None
    ready_by: time | None = None
    delivered_by: time | None = None
    count: int | None = None
    kg: float | None = None
    means: Ref | None = None
    payer: Payer = Payer.INCLUDED


@dataclass(frozen=True, slots=True, kw_only=True)
class Hire:
    """A bike for a traveller over a run of days. No bike = the guest brings their own.

    `from_day` and `to_day` are ids of the first and last of these days; None = the variant's first or last.
    """

    id: Key = ""
    traveller: GuestKey
    bike: Ref | None = None
    from_day: Key | None = None
    to_day: Key | None = None
    extras: tuple[LibraryText, ...] = ()
    payer: Payer = Payer.INCLUDED


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """Another way to spend a day; assessed, outside the totals."""

    id: Key
    reason: Reason
    items: tuple[Item, ...]
    says: ClientText = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One day: what is done, in order, and where the party eats and sleeps after it.

    `departs` None = the house's usual hour; `stops_s` None = the house's usual share of moving time [s].
    """

    id: Key
    items: tuple[Item, ...] = ()
    nights: tuple[Night, ...] = ()
    meals: tuple[Meal, ...] = ()
    moves: tuple[Move, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    departs: time | None = None
    stops_s: float | None = None
    briefing: bool = False
    note: ClientText = ""

    def legs(self) -> tuple[Leg, ...]:
        return tuple([item for item in self.items if isinstance(item, Leg)])

    @property
    def parted(self) -> bool:
        """Whether some travel otherwise than others."""
        return any(leg.travellers is not None for leg in self.legs())


@dataclass(frozen=True, slots=True)
class About:
    """One thing that a finding is about: a day, a guest, a lodging; by its kind and its id."""

    kind: Key
    id: GuestKey


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrule:
    """A named person's decision to let a finding stand, for this check, code, subject and figure."""

    check: Key
    code: Key
    subject: tuple[About, ...]
    figure: float | None
    name: OfficeText
    reason: ClientText
    decided_on: date | None = None

    @property
    def key(self) -> tuple[str, str, tuple[About, ...]]:
        """Which finding it decides about, as the finding says it."""
        return self.check, self.code, self.subject


@dataclass(frozen=True, slots=True, kw_only=True)
class Pricing:
    """How a variant is priced where it differs from the house rules. Shares are 0..1.

    `currency` None = the region's.
    """

    markup_share: float | None = None
    margin_share: float | None = None
    commission_share: float | None = None
    currency: LibraryText | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One way to spend the trip."""

    id: Key
    name: OfficeText
    days: tuple[Day, ...] = ()
    hires: tuple[Hire, ...] = ()
    overrules: tuple[Overrule, ...] = ()
    pricing: Pricing = Pricing()
    note: ClientText = ""

    def day(self, day_id: str) -> Day | None:
        return next((day for day in self.days if day.id == day_id), None)

    def items(self) -> Iterator[Item]:
        for day in self.days:
            yield from day.items


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """An arrival or a departure: hub, means, number, date and local time.

    `on` None = the first or last day of those who cross, whenever that is.
    """

    id: Key = ""
    hub: Key
    means: Means
    number: ClientText = ""
    at: time | None = None
    on: date | None = None
    long_haul: bool = False
    travellers: Travellers = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """The variant the client said yes to, as it was at that revision of the trip.

    `price` is what the whole party was sold it for, `on` the day; None = nobody has written it down.
    """

    variant: Key
    revision: int
    price: Money | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """A trip and its variants.

    `start` None = an enquiry (perhaps with a `month`) or a standard trip: weekdays are then unknown.
    The day of the id `fixed_through` and those before it refuse edits: the party is already under way in
    every variant that holds it. None = nobody is.
    """

    id: Key
    name: ClientText
    party: Party = NOBODY
    start: date | None = None
    month: int | None = None
    arrivals: tuple[Crossing, ...] = ()
    departures: tuple[Crossing, ...] = ()
    variants: tuple[Variant, ...] = ()
    accepted: Accepted | None = None
    proposed: Key | None = None
    fixed_through: Key | None = None
    agent: ClientText = ""
    standard: bool = False
    started_from: Key = ""
    note: ClientText = ""

    def variant(self, variant_id: str) -> Variant | None:
        return next((variant for variant in self.variants if variant.id == variant_id), None)

    def fixed_days(self, variant: Variant) -> int:
        """How many days of a variant are fixed: 0 where the party isn't under way in it."""
        if self.fixed_through is None:
            return 0
        return next((n for n, day in enumerate(variant.days, start=1) if day.id == self.fixed_through), 0)

    def number_of(self, on: date) -> int | None:
        """The day (1-based, perhaps outside every variant) on a date, or None while the trip has no start."""
        return None if self.start is None else (on - self.start).days + 1

    def date_of(self, day_number: int) -> date | None:
        """The calendar date of a day (1-based), or None while the trip has no start."""
        return None if self.start is None else self.start + timedelta(days=day_number - 1)
