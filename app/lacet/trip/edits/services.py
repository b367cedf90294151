"""What goes with the days: meals, moves of bags and bikes, hires, and other ways to spend a day.

A meal of one kind is had once a day by each traveller. Moves are told apart by their ids.
A hire is one bike for one traveller over a run of days; one over the same days takes its place.
"""

from lacet.trip.edits.change import (
    EditRefused,
    change_day,
    changed,
    checked_travellers,
    day_index,
    item_ids,
    numbered_items,
    variant_of,
    with_variant,
)
from lacet.trip.edits.naming import fresh_id
from lacet.trip.edits.overrules import without_overrules_of
from lacet.trip.edits.shared import put_in, taken_out
from lacet.trip.hires import days_of, in_order
from lacet.trip.trip import Alternative, Day, Hire, Item, Meal, Move, Travellers, Trip
from lacet.trip.words import MealKind, Reason


def set_meal(trip: Trip, variant_id: str, day_id: str, meal: Meal) -> Trip:
    """Say where the meal's travellers (None = everybody) have it."""
    if meal.at_lodging and meal.restaurant is not None:
        raise EditRefused("A meal is had at the lodging or at a restaurant, not at both.")
    new = changed(meal, travellers=checked_travellers(trip.party, meal.travellers))

    def eaten(day: Day) -> Day:
        return changed(day, meals=put_in(trip.party, day.meals, new, lambda other: other.kind is new.kind))

    return change_day(trip, variant_id, day_id, eaten)


def clear_meal(
    trip: Trip, variant_id: str, day_id: str, kind: MealKind, *, travellers: Travellers = None
) -> Trip:
    """Leave a meal open for these travellers (None = everybody)."""
    some = checked_travellers(trip.party, travellers)

    def cleared(day: Day) -> Day:
        return changed(day, meals=taken_out(trip.party, day.meals, some, lambda meal: meal.kind is kind))

    return change_day(trip, variant_id, day_id, cleared)


def set_move(trip: Trip, variant_id: str, day_id: str, move: Move) -> Trip:
    """Put a move of bags or bikes in the place of the day's move of that id; one without an id is added."""

    def moved(day: Day) -> Day:
        if not move.id:
            return changed(day, moves=(*day.moves, move))
        _need_move(day, move.id)
        return changed(day, moves=tuple(move if each.id == move.id else each for each in day.moves))

    return change_day(trip, variant_id, day_id, moved)


def clear_move(trip: Trip, variant_id: str, day_id: str, move_id: str) -> Trip:
    """Take a move out of the day."""

    def cleared(day: Day) -> Day:
        _need_move(day, move_id)
        return changed(day, moves=tuple(each for each in day.moves if each.id != move_id))

    return change_day(trip, variant_id, day_id, cleared)


def _need_move(day: Day, move_id: str) -> None:
    if all(each.id != move_id for each in day.moves):
        raise EditRefused("That day has no move '{move_id}'.", move_id=move_id)


def set_hire(trip: Trip, variant_id: str, hire: Hire) -> Trip:
    """Give a traveller a bike (or say they bring their own) in place of hires over the same days."""
    variant = variant_of(trip, variant_id)
    checked_travellers(trip.party, (hire.traveller,))
    for day_id in (hire.from_day, hire.to_day):
        if day_id is not None:
            day_index(variant, day_id)
    days = days_of(hire, variant)
    if not days and variant.days:
        raise EditRefused("A hire runs from a day of the trip to the same day or a later one.")
    kept = tuple(
        old
        for old in variant.hires
        if old.traveller != hire.traveller or set(days).isdisjoint(days_of(old, variant))
    )
    if not variant.days:
        kept = tuple(old for old in kept if old.traveller != hire.traveller)
    gone = [old.id for old in variant.hires if old not in kept]
    new = changed(hire, id=hire.id if hire.id in gone else next(iter(gone), ""))
    return with_variant(trip, changed(variant, hires=in_order(variant, (*kept, new))))


def remove_hire(trip: Trip, variant_id: str, traveller: str, *, from_day: str | None = None) -> Trip:
    """Take a traveller's hire back: the one that begins on the day of this id, or all of them."""
    variant = variant_of(trip, variant_id)
    kept = tuple(
        hire
        for hire in variant.hires
        if hire.traveller != traveller or (from_day is not None and hire.from_day != from_day)
    )
    if len(kept) == len(variant.hires):
        raise EditRefused("There is no such hire for {who}.", who=trip.party.name_of(traveller))
    return with_variant(trip, changed(variant, hires=kept))


def add_alternative(
    trip: Trip,
    variant_id: str,
    day_id: str,
    *,
    reason: Reason,
    items: tuple[Item, ...],
    says: str = "",
) -> Trip:
    """Give a day another way to be spent: the short way, the wet-weather way."""
    variant = variant_of(trip, variant_id)
    used = [other.id for day in variant.days for other in day.alternatives]
    named = (changed(item, travellers=checked_travellers(trip.party, item.travellers)) for item in items)
    other = Alternative(
        id=fresh_id("a", used), reason=reason, items=numbered_items(variant, named), says=says
    )
    return change_day(
        trip, variant_id, day_id, lambda day: changed(day, alternatives=(*day.alternatives, other))
    )


def set_alternatives(trip: Trip, variant_id: str, day_id: str, others: tuple[Alternative, ...]) -> Trip:
    """All other ways to spend a day at once, in this order.

    An alternative without an id gets one, and so does a card that it didn't have before.

    Decisions that let stand what an alternative or a card of it did go with it.
    """
    variant = variant_of(trip, variant_id)
    day = variant.days[day_index(variant, day_id)]
    before = {other.id: {item.id for item in other.items} for other in day.alternatives}
    old_cards = {card for cards in before.values() for card in cards}
    used = [other.id for each in variant.days for other in each.alternatives]
    used_cards, named = item_ids(variant), []
    for other in others:
        if other.id and other.id not in before:
            raise EditRefused("That day has no alternative '{id}'.", id=other.id)
        cards = _named(trip, other.items, before.pop(other.id, set()), used_cards)
        used.append(other.id or fresh_id("a", used))
        named.append(changed(other, id=used[-1], items=cards))
    kept = {*(other.id for other in named), *(item.id for other in named for item in other.items)}
    gone = {*(other.id for other in day.alternatives), *old_cards} - kept
    trip = change_day(trip, variant_id, day_id, lambda day: changed(day, alternatives=tuple(named)))
    return with_variant(trip, without_overrules_of(variant_of(trip, variant_id), gone))


def _named(trip: Trip, items: tuple[Item, ...], own: set[str], used: list[str]) -> tuple[Item, ...]:
    """Cards of an alternative: its own keep their ids, others get fresh ones, which are noted in `used`."""
    made: list[Item] = []
    for item in items:
        if item.id in own:
            own.discard(item.id)
            name = item.id
        else:
            name = fresh_id("i", used)
            used.append(name)
        made.append(changed(item, id=name, travellers=checked_travellers(trip.party, item.travellers)))
    return tuple(made)


def remove_alternative(trip: Trip, variant_id: str, day_id: str, alternative_id: str) -> Trip:
    other = _alternative(trip, variant_id, day_id, alternative_id)

    def removed(day: Day) -> Day:
        return changed(day, alternatives=tuple(each for each in day.alternatives if each is not other))

    trip = change_day(trip, variant_id, day_id, removed)
    gone = {alternative_id, *(item.id for item in other.items)}
    return with_variant(trip, without_overrules_of(variant_of(trip, variant_id), gone))


def take_alternative(trip: Trip, variant_id: str, day_id: str, alternative_id: str) -> Trip:
    """Spend the day the other way; what was planned becomes the alternative."""
    other = _alternative(trip, variant_id, day_id, alternative_id)

    def swapped(day: Day) -> Day:
        put_by = changed(other, items=day.items)
        kept = tuple(put_by if each is other else each for each in day.alternatives)
        return changed(day, items=other.items, alternatives=kept)

    return change_day(trip, variant_id, day_id, swapped)


def _alternative(trip: Trip, variant_id: str, day_id: str, alternative_id: str) -> Alternative:
    variant = variant_of(trip, variant_id)
    for other in variant.days[day_index(variant, day_id)].alternatives:
        if other.id == alternative_id:
            return other
    raise EditRefused("That day has no alternative '{alternative_id}'.", alternative_id=alternative_id)
