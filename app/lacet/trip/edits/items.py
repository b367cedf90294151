"""Cards: what is done on a day, in order, by everybody or by some.

A card named for some travellers parts the day: he walks the ridge, she rides the lane. A card put down gets
an id of its own; a card moved or replaced keeps its id, so that selection and overrules follow it.
"""

from lacet.trip.edits.change import (
    change_day,
    changed,
    checked_travellers,
    day_index,
    find_item,
    need_between,
    need_open,
    numbered_items,
    variant_of,
    with_variant,
)
from lacet.trip.edits.days import insert_day
from lacet.trip.edits.overrules import without_overrules_of
from lacet.trip.trip import Day, Item, Travellers, Trip


def place_item(
    trip: Trip,
    variant_id: str,
    day_id: str,
    item: Item,
    at_index: int | None = None,
    *,
    travellers: Travellers = None,
) -> Trip:
    """Put a card on a day, before the card at this index (None = last).

    `travellers` None leaves it to those the card itself names.
    """
    variant = variant_of(trip, variant_id)
    (new,) = numbered_items(variant, [_for_travellers(trip, item, travellers)])

    def placed(day: Day) -> Day:
        at = len(day.items) if at_index is None else at_index
        need_between(at, 0, len(day.items), "gap between cards")
        return changed(day, items=(*day.items[:at], new, *day.items[at:]))

    return change_day(trip, variant_id, day_id, placed)


def place_item_in_new_day(
    trip: Trip, variant_id: str, at: int, item: Item, *, travellers: Travellers = None
) -> Trip:
    """Put a card on a new day before the day at this index."""
    card = _for_travellers(trip, item, travellers)
    return insert_day(trip, variant_id, at, Day(id="", items=(card,)))


def move_item(trip: Trip, variant_id: str, item_id: str, to_day_id: str, at_index: int | None = None) -> Trip:
    """Let a card stand at this index of a day (None = last), the same day or another."""
    variant = variant_of(trip, variant_id)
    day, index = find_item(variant, item_id)
    target = day_index(variant, to_day_id)
    need_open(trip, variant, target)
    card = day.items[index]
    lifted = _change_item(trip, variant_id, item_id, ())
    others = variant_of(lifted, variant_id).days[target].items
    at = len(others) if at_index is None else at_index
    need_between(at, 0, len(others), "gap between cards")
    cards = (*others[:at], card, *others[at:])
    moved = change_day(lifted, variant_id, to_day_id, lambda to: changed(to, items=cards))
    return trip if moved == trip else moved


def move_item_to_new_day(trip: Trip, variant_id: str, item_id: str, at: int) -> Trip:
    """Take a card off its day and give it a new day before the day at this index."""
    trip = insert_day(trip, variant_id, at)
    return move_item(trip, variant_id, item_id, variant_of(trip, variant_id).days[at].id)


def remove_item(trip: Trip, variant_id: str, item_id: str) -> Trip:
    """Take a card off its day."""
    trip = _change_item(trip, variant_id, item_id, ())
    return with_variant(trip, without_overrules_of(variant_of(trip, variant_id), {item_id}))


def replace_item(trip: Trip, variant_id: str, item_id: str, item: Item) -> Trip:
    """Put another card in a card's place; it goes by the old card's id."""
    card = changed(_for_travellers(trip, item, None), id=item_id)
    return _change_item(trip, variant_id, item_id, (card,))


def set_item_travellers(trip: Trip, variant_id: str, item_id: str, travellers: Travellers) -> Trip:
    """Say who takes a card (None = everybody there that day): this is how ways part and meet again."""
    day, index = find_item(variant_of(trip, variant_id), item_id)
    some = checked_travellers(trip.party, travellers)
    return _change_item(trip, variant_id, item_id, (changed(day.items[index], travellers=some),))


def _for_travellers(trip: Trip, item: Item, travellers: Travellers) -> Item:
    some = item.travellers if travellers is None else travellers
    return changed(item, travellers=checked_travellers(trip.party, some))


def _change_item(trip: Trip, variant_id: str, item_id: str, cards: tuple[Item, ...]) -> Trip:
    variant = variant_of(trip, variant_id)
    day, index = find_item(variant, item_id)
    items = (*day.items[:index], *cards, *day.items[index + 1 :])
    return change_day(trip, variant_id, day.id, lambda day: changed(day, items=items))
