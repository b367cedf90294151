"""Any edit with any arguments: mostly ids the trip has, now and then one it hasn't.

Drawn from a seeded generator rather than from strategies: a run of hundreds of edits then costs little, and
every edit comes up about as often as any other.
"""

from collections.abc import Callable
from datetime import date, time
from random import Random
from typing import Any, TypeAlias, TypeVar

from lacet.trip import edits
from lacet.trip.library import Bike, Lodging, Ref, Stage
from lacet.trip.party import Party, Traveller, placeholder_party
from lacet.trip.trip import (
    About,
    Alternative,
    Crossing,
    Day,
    Hire,
    Item,
    Leg,
    Meal,
    Move,
    Night,
    Note,
    Overrule,
    Pricing,
    Rest,
    Ride,
    RoomUse,
    Travellers,
    Trip,
    Variant,
    Visit,
)
from lacet.trip.words import Load, MealKind, Means, Reason, Way
from tests.trip.strategies import HOUSES, PLACES, STAGES

Arguments: TypeAlias = dict[str, Any]
Table: TypeAlias = dict[str, Callable[[], Arguments]]
Value = TypeVar("Value")
STAGE_M = 12_000.0


def random_edit(chance: Random, trip: Trip) -> Callable[[Trip], Trip]:
    """One edit, its arguments chosen for this trip."""
    variant = chance.choice(trip.variants)
    name, drawn = chance.choice(sorted(_Draw(chance, trip, variant).table().items()))
    arguments = drawn()
    if name not in FOR_THE_TRIP:
        arguments |= {"variant_id": variant.id if chance.random() < 0.95 else "v99"}
    if name == "take_days":
        arguments["from_variant_id"] = arguments.pop("variant_id")
    return lambda trip: getattr(edits, name)(trip, **arguments)


def edit_names() -> set[str]:
    """All edits that are thrown at trips."""
    trip = edits.new_trip("trip", "x")
    return set(_Draw(Random(0), trip, trip.variants[0]).table())


class _Draw:
    """What arguments are drawn from, for one variant of a trip."""

    def __init__(self, chance: Random, trip: Trip, variant: Variant) -> None:
        self.chance, self.trip, self.variant = chance, trip, variant
        self.guests = [guest.id for guest in trip.party.travellers]

    def one_of(self, ids: list[str]) -> str:
        return self.chance.choice(ids) if ids and self.chance.random() < 0.95 else "nobody-knows"

    def maybe(self, value: Value) -> Value | None:
        return value if self.chance.random() < 0.6 else None

    def some(self) -> Travellers:
        count = self.chance.randint(0, len(self.guests))
        return self.maybe(tuple(self.chance.sample(self.guests, count)))

    def number(self, high: int) -> int:
        """0 to `high`, seldom one past either end."""
        return (
            self.chance.randint(0, max(high, 0))
            if self.chance.random() < 0.95
            else self.chance.choice((-1, high + 1))
        )

    def day(self) -> str:
        return self.one_of([day.id for day in self.variant.days])

    def move(self) -> str:
        return self.one_of([move.id for day in self.variant.days for move in day.moves])

    def gap(self) -> int:
        return self.number(len(self.variant.days))

    def card(self) -> str:
        return self.one_of([item.id for item in self.variant.items()])

    def leg(self) -> str:
        legs = [leg.id for day in self.variant.days for leg in day.legs()]
        return self.one_of(legs) if self.chance.random() < 0.9 else self.card()

    def words(self) -> str:
        return self.chance.choice(("", "by the lake", "Straße"))

    def clock(self) -> time | None:
        return self.maybe(time(self.chance.randrange(24)))

    def ref(self, ids: tuple[str, ...]) -> Ref:
        return Ref(self.chance.choice(ids), self.chance.randint(1, 2))

    def new_card(self) -> Item:
        some, place = self.some(), self.chance.choice(PLACES)
        cards: tuple[Item, ...] = (
            Leg(id="zz", stage=self.ref(STAGES), way=self.chance.choice(list(Way)), travellers=some),
            Ride(id="zz", from_place=place, to_place="Pans", travellers=some),
            Visit(id="zz", name="Salt pans", place=place, travellers=some),
            Rest(id="zz", travellers=some),
            Note(id="zz", says="hat", travellers=some),
        )
        return self.chance.choice(cards)

    def new_day(self) -> Day:
        # A day from elsewhere is sound when it is offered: an edit places it, it doesn't mend it.
        other = Alternative(id="a1", reason=Reason.SHORTER, items=(Rest(id="i1"),))
        return Day(id="d1", items=(Rest(id="i1"), Note(id="i1", says="hat")), alternatives=(other,))

    def night(self) -> Night:
        some = self.some()
        rooms = (RoomUse(kind="double", travellers=some),) if some and self.chance.random() < 0.5 else ()
        return Night(lodging=self.ref(HOUSES), rooms=rooms, travellers=some)

    def alternative(self) -> Arguments:
        pairs = [(day.id, other.id) for day in self.variant.days for other in day.alternatives]
        day_id, other_id = self.chance.choice(pairs) if pairs else (self.day(), "a99")
        return {"day_id": day_id, "alternative_id": other_id}

    def traveller(self) -> Traveller:
        from_day = self.number(3)
        return Traveller(id=self.one_of(self.guests), from_day=from_day, to_day=self.maybe(self.number(5)))

    def party(self) -> Party:
        return placeholder_party(self.chance.randint(0, 4))

    def crossings(self) -> Any:
        hub = Crossing(
            hub="Harbour",
            means=self.chance.choice(list(Means)),
            travellers=self.some(),
            on=self.maybe(date(2026, 6, 2)),
        )
        return self.maybe((hub,))

    def decision(self) -> Overrule:
        name, reason = self.chance.choice(("Consultant", "")), self.chance.choice(("fit", " "))
        return Overrule(
            check="ascent",
            code="over",
            subject=(About("day", self.day()),),
            figure=1.0,
            name=name,
            reason=reason,
        )

    def cut(self) -> Arguments:
        ends = {"from_m": self.maybe(self.number(12) * 1e3), "to_m": self.maybe(self.number(12) * 1e3)}
        return {"item_id": self.leg(), "stage_length_m": STAGE_M} | ends

    def table(self) -> Table:
        """Every edit by name, with what draws its arguments."""
        return self.of_variants() | self.of_days() | self.of_cards() | self.of_services() | self.of_the_trip()

    def of_variants(self) -> Table:
        return {
            "add_variant": lambda: {"name": self.words(), "days": self.number(3)},
            "copy_variant": lambda: {"name": self.words()},
            "rename_variant": lambda: {"name": self.words()},
            "set_variant_note": lambda: {"note": self.words()},
            "remove_variant": dict,
            "move_variant": lambda: {"to_index": self.number(len(self.trip.variants) - 1)},
            "propose": dict,
            "accept": lambda: {"revision": self.number(9)},
            "withdraw_acceptance": dict,
            "set_pricing": lambda: {"pricing": Pricing(margin_share=self.maybe(0.2))},
            "overrule": lambda: {"decision": self.decision()},
            "lift_overrule": lambda: {"decision": self.decision()},
            "use_version": lambda: {
                "kind": self.chance.choice((Stage, Lodging, Bike, Ref)),
                "item_id": self.chance.choice((*HOUSES, *STAGES, "b-hill")),
                "version": self.number(3),
            },
        }

    def of_days(self) -> Table:
        return {
            "insert_day": lambda: {"at": self.gap(), "day": self.maybe(self.new_day())},
            "remove_day": lambda: {"day_id": self.day()},
            "move_day": lambda: {"day_id": self.day(), "to_index": self.number(len(self.variant.days) - 1)},
            "take_days": lambda: {
                "day_ids": tuple(self.day() for _ in range(self.number(2))),
                "into_variant_id": self.chance.choice(self.trip.variants).id,
                "at": self.gap(),
            },
            "set_departs": lambda: {"day_id": self.day(), "departs": self.clock()},
            "set_stops": lambda: {"day_id": self.day(), "stops_s": self.maybe(600.0 * self.number(9))},
            "set_day_note": lambda: {"day_id": self.day(), "note": self.words()},
            "set_briefing": lambda: {"day_id": self.day(), "briefing": self.chance.random() < 0.5},
            "stretch_stay": lambda: {
                "day_id": self.day(),
                "nights": self.chance.randint(-2, 2),
                "lodging_id": self.maybe(self.chance.choice(HOUSES)),
            },
        }

    def of_cards(self) -> Table:
        return {
            "place_item": lambda: {
                "day_id": self.day(),
                "item": self.new_card(),
                "at_index": self.maybe(self.number(2)),
                "travellers": self.some(),
            },
            "place_item_in_new_day": lambda: {"at": self.gap(), "item": self.new_card()},
            "move_item": lambda: {
                "item_id": self.card(),
                "to_day_id": self.day(),
                "at_index": self.maybe(self.number(2)),
            },
            "move_item_to_new_day": lambda: {"item_id": self.card(), "at": self.gap()},
            "remove_item": lambda: {"item_id": self.card()},
            "replace_item": lambda: {"item_id": self.card(), "item": self.new_card()},
            "set_item_travellers": lambda: {"item_id": self.card(), "travellers": self.some()},
            "reverse_leg": lambda: {"item_id": self.leg()},
            "cut_leg": self.cut,
            "set_assist": lambda: {"item_id": self.leg(), "assist": self.maybe("eco")},
            "set_leg_bike": lambda: {"item_id": self.leg(), "bike": self.maybe(self.ref(("b-hill",)))},
        }

    def of_services(self) -> Table:
        kinds = list(MealKind)
        return {
            "set_night": lambda: {"day_id": self.day(), "night": self.night()},
            "clear_night": lambda: {"day_id": self.day(), "travellers": self.some()},
            "set_meal": lambda: {
                "day_id": self.day(),
                "meal": Meal(kind=self.chance.choice(kinds), at=self.clock(), travellers=self.some()),
            },
            "clear_meal": lambda: {
                "day_id": self.day(),
                "kind": self.chance.choice(kinds),
                "travellers": self.some(),
            },
            "set_move": lambda: {
                "day_id": self.day(),
                "move": Move(id=self.maybe(self.move()) or "", load=self.chance.choice(list(Load))),
            },
            "clear_move": lambda: {"day_id": self.day(), "move_id": self.move()},
            "set_hire": lambda: {
                "hire": Hire(
                    traveller=self.one_of(self.guests),
                    from_day=self.maybe(self.day()),
                    to_day=self.maybe(self.day()),
                )
            },
            "remove_hire": lambda: {
                "traveller": self.one_of(self.guests),
                "from_day": self.maybe(self.day()),
            },
            "add_alternative": lambda: {
                "day_id": self.day(),
                "reason": self.chance.choice(list(Reason)),
                "items": tuple(self.new_card() for _ in range(self.chance.randint(0, 2))),
            },
            "set_alternatives": lambda: {
                "day_id": self.day(),
                "others": tuple(
                    Alternative(
                        id="",
                        reason=self.chance.choice(list(Reason)),
                        items=tuple(self.new_card() for _ in range(self.chance.randint(0, 2))),
                    )
                    for _ in range(self.chance.randint(0, 2))
                ),
            },
            "remove_alternative": self.alternative,
            "take_alternative": self.alternative,
        }

    def of_the_trip(self) -> Table:
        return {
            "rename_trip": lambda: {"name": self.words()},
            "set_agent": lambda: {"agent": self.words()},
            "set_trip_note": lambda: {"note": self.words()},
            "set_party": lambda: {"party": self.party()},
            "add_traveller": lambda: {"traveller": self.traveller()},
            "remove_traveller": lambda: {"traveller_id": self.one_of(self.guests)},
            "set_traveller": lambda: {"traveller": self.traveller()},
            "set_start": lambda: {"start": self.maybe(date(2026, 6, 1))},
            "set_month": lambda: {"month": self.maybe(self.number(12))},
            "set_crossings": lambda: {"arrivals": self.crossings(), "departures": self.crossings()},
            "set_fixed_through": lambda: {"day_id": self.chance.choice((None, None, self.day()))},
        }


FOR_THE_TRIP = frozenset(
    {
        "add_traveller",
        "add_variant",
        "remove_traveller",
        "rename_trip",
        "set_agent",
        "set_crossings",
        "set_fixed_through",
        "set_month",
        "set_party",
        "set_start",
        "set_traveller",
        "set_trip_note",
        "withdraw_acceptance",
    }
)
