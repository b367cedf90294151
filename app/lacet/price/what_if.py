"""What would it cost if: the same variant for other parties, in other months, all by e-bike.

A placeholder party takes over the roles of the real one in turn, so that parted days stay parted: the
third guest of six in a trip made for two does what the first does.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from lacet.inputs import Inputs
from lacet.price.quote import quote
from lacet.price.season import InSeason, in_plain_season
from lacet.price.shares import price_a_head
from lacet.price.values import Quote
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Bike, Ref
from lacet.trip.money import Money
from lacet.trip.party import Party, placeholder_party
from lacet.trip.trip import Day, Hire, Item, Leg, Meal, Night, Travellers, Trip, Variant
from lacet.trip.words import BikeKind

PARTY_SIZES = (2, 4, 6, 8)
# Not from the system's locale: sentences of this room are English, translation happens where they are shown.
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """One row of the table: what is supposed, and the quote it comes to. `group` parts the table."""

    group: str
    says: str
    quote: Quote


def what_if(inputs: Inputs, in_season: InSeason = in_plain_season) -> tuple[WhatIf, ...]:
    """All suppositions, by party, by month, by e-bike."""
    return tuple(each_what_if(inputs, in_season))


def each_what_if(inputs: Inputs, in_season: InSeason = in_plain_season) -> Iterator[WhatIf]:
    """The same one by one, each priced when it is asked for: a window needn't wait for all of them."""
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    supposed = (*by_party(trip, variant), *by_month(trip, variant), *all_e_bikes(trip, variant, catalogue))
    for group, says, other, changed in supposed:
        priced = quote(other, changed, catalogue, inputs.rules, inputs.as_of, in_season)
        yield WhatIf(group=group, says=says, quote=priced)


def more_a_head(supposed: WhatIf, now: Quote) -> Money | None:
    """What a head pays more (or less) than now; None where one of the two isn't known at all."""
    then, here = price_a_head(supposed.quote), price_a_head(now)
    unpriced = not supposed.quote.net.amount or not now.net.amount
    if then is None or here is None or unpriced or then.currency != here.currency:
        return None
    return then - here


def by_party(trip: Trip, variant: Variant) -> Iterator[tuple[str, str, Trip, Variant]]:
    """The trip for 2, 4, 6 and 8 adults sharing by two."""
    for size in PARTY_SIZES:
        party = placeholder_party(size)
        yield "party", f"{size} guests", replace(trip, party=party), recast(variant, trip.party, party)


def by_month(trip: Trip, variant: Variant) -> Iterator[tuple[str, str, Trip, Variant]]:
    """The trip in every month: at the same weekday near the same day of the month, where it has a date."""
    for month in range(1, 13):
        other = replace(trip, month=month, start=trip.start and _moved(trip.start, month))
        yield "month", MONTHS[month - 1], other, variant


def all_e_bikes(
    trip: Trip, variant: Variant, catalogue: Catalogue
) -> Iterator[tuple[str, str, Trip, Variant]]:
    """Every hired or brought bike an e-bike; nothing where the library has none or nobody rides."""
    hires = tuple(_on_e_bike(hire, trip.party, catalogue) for hire in variant.hires)
    if hires and None not in hires:
        electric = tuple(hire for hire in hires if hire is not None)
        days = tuple(_without_bikes_named(day) for day in variant.days)
        yield "bikes", "all by e-bike", trip, replace(variant, days=days, hires=electric)


def _without_bikes_named(day: Day) -> Day:
    """Legs that name a bike of their own would keep it; without, the hire decides."""
    items = (replace(item, bike=None) if isinstance(item, Leg) else item for item in day.items)
    return replace(day, items=tuple(items))


def recast(variant: Variant, old: Party, new: Party) -> Variant:
    """The variant with a new party in the roles of the old; rooms are left to the new party's sharing."""
    roles = _roles(old, new)
    hires = tuple(
        replace(hire, traveller=traveller)
        for hire in variant.hires
        for traveller in roles.get(hire.traveller, ())
    )
    return replace(variant, days=tuple(_recast_day(day, roles) for day in variant.days), hires=hires)


def _roles(old: Party, new: Party) -> dict[str, tuple[str, ...]]:
    count = len(old.travellers)
    return {
        guest.id: tuple(other.id for index, other in enumerate(new.travellers) if index % count == place)
        for place, guest in enumerate(old.travellers)
    }


def _recast_day(day: Day, roles: dict[str, tuple[str, ...]]) -> Day:
    def item(one: Item) -> Item:
        return replace(one, travellers=_cast(one.travellers, roles))

    def night(one: Night) -> Night:
        return replace(one, rooms=(), travellers=_cast(one.travellers, roles))

    def meal(one: Meal) -> Meal:
        return replace(one, travellers=_cast(one.travellers, roles))

    return replace(
        day,
        items=tuple(map(item, day.items)),
        nights=tuple(map(night, day.nights)),
        meals=tuple(map(meal, day.meals)),
    )


def _cast(named: Travellers, roles: dict[str, tuple[str, ...]]) -> Travellers:
    if named is None or not roles:
        return None
    return tuple(new for old in named for new in roles.get(old, ()))


def _moved(start: date, month: int) -> date:
    """The date of that weekday nearest the same day of another month, within that month."""
    middle = date(start.year, month, min(start.day, 28))
    off = (start.weekday() - middle.weekday()) % 7
    later = middle + timedelta(days=off)
    earlier = later - timedelta(days=7)
    nearest = later if off <= 3 else earlier
    return next(day for day in (nearest, later, earlier) if day.month == month)


def _on_e_bike(hire: Hire, party: Party, catalogue: Catalogue) -> Hire | None:
    guest = party.traveller(hire.traveller)
    height = None if guest is None else guest.height_cm
    fitting = (
        bike
        for bike in catalogue.current(Bike)
        if bike.kind is BikeKind.E_BIKE and (height is None or _fits(bike, height))
    )
    already = None if hire.bike is None else catalogue.get(Bike, hire.bike)
    if already is not None and already.kind is BikeKind.E_BIKE:
        return hire
    found = next(fitting, None)
    return None if found is None else replace(hire, bike=Ref(found.id, found.version))


def _fits(bike: Bike, height_cm: float) -> bool:
    low, high = bike.rider_height_from_cm, bike.rider_height_to_cm
    return (low is None or low <= height_cm) and (high is None or height_cm <= high)
