"""Any edit with any arguments: mostly ids the trip has, now and then one it hasn't."""

from collections.abc import Callable
from datetime import date
from typing import Any, TypeAlias

from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.library import Bike, Lodging, Ref, Stage
from lacet.trip.party import Traveller
from lacet.trip.trip import Crossing, Hire, Meal, Move, Night, Overrule, Pricing, Trip
from lacet.trip.words import Load, MealKind, Means, Reason
from tests.trip.strategies import (
    CLOCKS,
    HOUSES,
    PLACES,
    WORDS,
    bookings,
    days,
    items,
    parties,
    refs,
)

Edit: TypeAlias = Callable[[Trip], Trip]
INDEX = st.integers(-1, 6)
STAGE_M = st.sampled_from((5_000.0, 12_000.0))


def some_of(ids: list[str]) -> st.SearchStrategy[str]:
    return st.sampled_from([*ids, *ids, *ids, "nobody-knows"])


@st.composite
def any_edit(draw: st.DrawFn, trip: Trip) -> Edit:
    """One edit, its arguments drawn for this trip."""
    name = draw(st.sampled_from(sorted(arguments(trip, trip.variants[0].id))))
    variant_id = draw(some_of([variant.id for variant in trip.variants]))
    drawn = {key: draw(value) for key, value in arguments(trip, variant_id)[name].items()}
    first = () if name in FOR_THE_TRIP else (variant_id,)
    return lambda trip: getattr(edits, name)(trip, *first, **drawn)


FOR_THE_TRIP = frozenset(
    {
        "add_variant",
        "withdraw_acceptance",
        "rename_trip",
        "set_agent",
        "set_trip_note",
        "set_party",
        "add_traveller",
        "remove_traveller",
        "set_traveller",
        "set_start",
        "set_month",
        "set_crossings",
        "set_fixed_through",
        "add_booking",
        "change_booking",
        "remove_booking",
    }
)


def arguments(trip: Trip, variant_id: str) -> dict[str, dict[str, st.SearchStrategy[Any]]]:
    """Every edit by name, with what its arguments are drawn from."""
    variant = trip.variant(variant_id) or trip.variants[0]
    guests = [guest.id for guest in trip.party.travellers]
    guest = some_of(guests)
    some = st.none() | st.lists(guest, max_size=3).map(tuple)
    day = some_of([day.id for day in variant.days])
    card = some_of([item.id for item in variant.items()])
    other = some_of([other.id for day in variant.days for other in day.alternatives])
    other_variant = some_of([variant.id for variant in trip.variants])
    new_card = items("zz", some)
    night = st.builds(Night, lodging=refs(HOUSES), travellers=some)
    meal = st.builds(Meal, kind=st.sampled_from(MealKind), at=CLOCKS, travellers=some)
    hire = st.builds(Hire, traveller=guest, from_day=INDEX, to_day=st.none() | INDEX)
    crossing = st.builds(Crossing, hub=st.sampled_from(PLACES), means=st.sampled_from(Means), travellers=some)
    traveller = st.builds(Traveller, id=guest, name=WORDS, from_day=st.integers(0, 4), pace=st.floats(0, 2))
    decision = st.builds(
        Overrule,
        check=st.just("ascent"),
        subject=day.map("day {}".format),
        figure=st.just(1.0),
        name=WORDS,
        reason=WORDS,
    )
    metres = st.none() | st.floats(-100, 12_000)
    return {
        "add_variant": {"name": WORDS, "days": INDEX},
        "copy_variant": {"name": WORDS},
        "rename_variant": {"name": WORDS},
        "set_variant_note": {"note": WORDS},
        "remove_variant": {},
        "move_variant": {"to_index": INDEX},
        "propose": {},
        "accept": {"revision": INDEX},
        "withdraw_acceptance": {},
        "set_pricing": {"pricing": st.builds(Pricing, margin_share=st.floats(0, 1))},
        "insert_day": {"at": INDEX, "day": st.none() | days("zz", 50, trip.party)},
        "remove_day": {"day_id": day},
        "move_day": {"day_id": day, "to_index": INDEX},
        "take_days": {
            "day_ids": st.lists(day, max_size=3),
            "into_variant_id": other_variant,
            "at": INDEX,
        },
        "set_departs": {"day_id": day, "departs": CLOCKS},
        "set_stops": {"day_id": day, "stops_s": st.none() | st.floats(-1, 9_000)},
        "set_day_note": {"day_id": day, "note": WORDS},
        "set_briefing": {"day_id": day, "briefing": st.booleans()},
        "place_item": {"day_id": day, "item": new_card, "at_index": st.none() | INDEX, "travellers": some},
        "place_item_in_new_day": {"at": INDEX, "item": new_card, "travellers": some},
        "move_item": {"item_id": card, "to_day_id": day, "at_index": st.none() | INDEX},
        "move_item_to_new_day": {"item_id": card, "at": INDEX},
        "remove_item": {"item_id": card},
        "replace_item": {"item_id": card, "item": new_card},
        "set_item_travellers": {"item_id": card, "travellers": some},
        "reverse_leg": {"item_id": card},
        "cut_leg": {"item_id": card, "from_m": metres, "to_m": metres, "stage_length_m": STAGE_M},
        "set_assist": {"item_id": card, "assist": st.sampled_from((None, "eco"))},
        "set_leg_bike": {"item_id": card, "bike": st.none() | refs(("b-hill",))},
        "use_version": {
            "kind": st.sampled_from((Stage, Lodging, Bike, Ref)),
            "item_id": st.sampled_from((*HOUSES, "s-moor", "b-hill")),
            "version": INDEX,
        },
        "set_night": {"day_id": day, "night": night},
        "clear_night": {"day_id": day, "travellers": some},
        "stretch_stay": {
            "day_id": day,
            "nights": st.integers(-2, 2),
            "lodging_id": st.none() | st.sampled_from(HOUSES),
        },
        "set_meal": {"day_id": day, "meal": meal},
        "clear_meal": {"day_id": day, "kind": st.sampled_from(MealKind), "travellers": some},
        "set_move": {
            "day_id": day,
            "move": st.builds(Move, load=st.sampled_from(Load)),
            "index": st.none() | INDEX,
        },
        "clear_move": {"day_id": day, "index": INDEX},
        "set_hire": {"hire": hire},
        "remove_hire": {"traveller": guest, "from_day": st.none() | INDEX},
        "add_alternative": {
            "day_id": day,
            "reason": st.sampled_from(Reason),
            "items": st.lists(new_card, max_size=2).map(tuple),
        },
        "remove_alternative": {"day_id": day, "alternative_id": other},
        "take_alternative": {"day_id": day, "alternative_id": other},
        "overrule": {"decision": decision},
        "lift_overrule": {"check": st.just("ascent"), "subject": day.map("day {}".format)},
        "rename_trip": {"name": WORDS},
        "set_agent": {"agent": WORDS},
        "set_trip_note": {"note": WORDS},
        "set_party": {"party": parties()},
        "add_traveller": {"traveller": traveller},
        "remove_traveller": {"traveller_id": guest},
        "set_traveller": {"traveller": traveller},
        "set_start": {"start": st.none() | st.just(date(2026, 6, 1))},
        "set_month": {"month": st.none() | st.integers(0, 13)},
        "set_crossings": {"arrivals": st.none() | st.tuples(crossing), "departures": st.none() | st.just(())},
        "set_fixed_through": {"day": st.integers(-1, 3)},
        "add_booking": {"booking": bookings("k1", trip.party)},
        "change_booking": {"booking": bookings("k1", trip.party)},
        "remove_booking": {"booking_id": st.sampled_from(("k1", "k2"))},
    }
