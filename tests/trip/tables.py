"""A small trip for the tests of edits: three guests, four days, two houses."""

from lacet.trip.edits.naming import named
from lacet.trip.library import Ref
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import About, Day, Hire, Leg, Night, Overrule, Rest, Trip, Variant
from lacet.trip.words import Way

PARTY = Party(
    name="The Alders",
    travellers=(Traveller(id="t1", name="Ada"), Traveller(id="t2", name="Bo"), Traveller(id="t3", name="Cy")),
    sharing=(("t1", "t2"), ("t3",)),
)
WEIR, FORGE = Ref("h-weir"), Ref("h-forge")


def leg(item_id: str, stage: str = "s-moor", travellers: tuple[str, ...] | None = None) -> Leg:
    return Leg(id=item_id, stage=Ref(stage), way=Way.WALKING, travellers=travellers)


def trip_of(*days: Day, **parts: object) -> Trip:
    """A trip of one variant with these days; `parts` go to the variant."""
    variant = Variant(id="v1", name="A", days=days, **parts)  # type: ignore[arg-type]  # parts by name, for brevity
    return Trip(id="trip", name="Moor and salt", party=PARTY, variants=(named(variant),))


def four_days() -> Trip:
    """Walk to the weir (two nights there, a rest day between), walk to the forge, walk home."""
    return trip_of(
        Day(id="d1", items=(leg("i1"),), nights=(Night(lodging=WEIR),)),
        Day(id="d2", items=(Rest(id="i2"),), nights=(Night(lodging=WEIR),)),
        Day(id="d3", items=(leg("i3", "s-ridge"), leg("i4", "s-lane")), nights=(Night(lodging=FORGE),)),
        Day(id="d4", items=(leg("i5"),)),
        hires=(Hire(traveller="t1", bike=Ref("b-hill"), from_day="d3", to_day="d4"),),
        overrules=(
            Overrule(
                check="ascent",
                code="over",
                subject=(About("day", "d3"),),
                figure=900.0,
                name="Consultant",
                reason="fit",
            ),
        ),
    )


def day_ids(trip: Trip) -> list[str]:
    return [day.id for day in trip.variants[0].days]


def card_ids(trip: Trip) -> list[list[str]]:
    return [[item.id for item in day.items] for day in trip.variants[0].days]


def houses(trip: Trip) -> list[list[str]]:
    return [[night.lodging.id for night in day.nights] for day in trip.variants[0].days]
