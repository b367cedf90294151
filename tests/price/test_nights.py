"""Nights: who sleeps in which room, what board comes on top, who is charged a visitor tax."""

from dataclasses import replace
from datetime import date

from lacet.price.lines import QuoteLine, Unknown
from lacet.price.quote import Quote, quote
from lacet.trip.library import LibraryItem, Ref, Room
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import Day, Night, Pricing, RoomUse, Variant
from lacet.trip.words import Board, Payer, Service, Unit
from tests.price.small_library import (
    AS_OF,
    CATALOGUE,
    FORGE,
    MONDAY,
    RULES,
    THREE,
    WEIR,
    catalogue_with,
    euro,
    lodging,
    rate,
    tariff,
    trip_of,
)

Items = tuple[LibraryItem, ...]
FRIDAY = date(2027, 5, 14)
FAMILY_OF_FOUR = Party(
    travellers=(
        Traveller(id="t1"),
        Traveller(id="t2"),
        Traveller(id="t3", age=9),
        Traveller(id="t4", age=13),
    ),
    sharing=(("t1", "t2", "t3", "t4"),),
)


def sold(*nights: Night, items: Items = (), party: Party = THREE, start: date = MONDAY) -> Quote:
    """A trip of these nights and nothing else, at net prices to the cent."""
    days = (*(Day(id=f"d{n}", nights=(night,)) for n, night in enumerate(nights, 1)), Day(id="last"))
    variant = Variant(id="a", name="A", days=days, pricing=Pricing(markup_share=0.0))
    rules = replace(RULES, round_price_to_minor=1)
    catalogue = catalogue_with(*items, fixed_costs=False)
    return quote(trip_of(variant, party, start), variant, catalogue, rules, AS_OF)


def lodged(result: Quote) -> list[QuoteLine]:
    return [line for line in result.lines if line.service is Service.LODGING]


def nets(result: Quote) -> list[str]:
    return [str(line.net.amount) if line.net else str(line.unknown) for line in lodged(result)]


def test_two_share_a_double_and_one_has_it_alone_at_single_use() -> None:
    result = sold(WEIR)
    assert nets(result) == ["118.00", "82.50"]
    assert [(int(line.quantity), line.sharing, line.travellers) for line in lodged(result)] == [
        (1, 2, ("t1", "t2")),
        (1, 1, ("t3",)),
    ]


def test_weekend_rates_hold_for_whoever_has_no_rate_of_their_own() -> None:
    # Single use says more about the case than the weekday does.
    assert nets(sold(WEIR, start=FRIDAY)) == ["130.00", "82.50"]


def test_half_board_comes_on_top_by_age() -> None:
    result = sold(replace(WEIR, board=Board.HALF_BOARD), party=FAMILY_OF_FOUR)
    assert nets(result) == ["165.00", "82.50", "15.00"]
    assert [line.travellers for line in lodged(result)[1:]] == [("t1", "t2", "t4"), ("t3",)]


def test_board_that_the_house_has_no_rate_for_is_unknown_not_free() -> None:
    result = sold(replace(WEIR, board=Board.FULL_BOARD))
    assert nets(result) == ["118.00", "no_rate", "82.50", "no_rate"]
    assert result.is_from
    per_head = sold(replace(FORGE, board=Board.HALF_BOARD))
    assert nets(per_head)[1::2] == ["no_rate", "no_rate"]


def test_a_house_that_sells_beds_charges_each_by_age() -> None:
    child = Party(travellers=(Traveller(id="t1"), Traveller(id="t2", age=9)), sharing=(("t1", "t2"),))
    result = sold(FORGE, party=child)
    # 54.20 and 27.10 pounds at 1.1623.
    assert nets(result) == ["63.00", "31.50"]


def test_beds_have_single_use_too() -> None:
    assert nets(sold(FORGE))[-1] == "82.93"


def test_named_rooms_are_taken_as_named_and_the_rest_share_as_they_do() -> None:
    night = replace(WEIR, rooms=(RoomUse(kind="family", travellers=("t3",)),))
    result = sold(night)
    assert [(line.room_kind, line.travellers) for line in lodged(result)] == [
        ("family", ("t3",)),
        ("double", ("t1", "t2")),
    ]


def test_a_group_too_large_for_any_room_is_unknown() -> None:
    result = sold(FORGE, party=FAMILY_OF_FOUR)
    assert nets(result) == ["no_rate"]
    assert result.unknown[0].travellers == ("t1", "t2", "t3", "t4")


def test_when_the_small_rooms_are_taken_the_next_larger_is() -> None:
    house = lodging("weir", Room(kind="double", sleeps=2, count=1), Room(kind="family", sleeps=4, count=1))
    result = sold(WEIR, items=(house,))
    assert [line.room_kind for line in lodged(result)] == ["double", "family"]


def test_nobody_sleeps_after_their_last_day() -> None:
    leaving = replace(THREE, travellers=(*THREE.travellers[:2], Traveller(id="t3", to_day=2)))
    result = sold(WEIR, WEIR, party=leaving)
    assert [(line.day, line.travellers) for line in lodged(result)] == [
        (1, ("t1", "t2")),
        (1, ("t3",)),
        (2, ("t1", "t2")),
    ]


def test_a_party_that_parts_for_the_night_pays_each_house_for_its_own() -> None:
    both = Day(id="d1", nights=(replace(FORGE, travellers=("t3",)), WEIR))
    variant = Variant(id="a", name="A", days=(both, Day(id="d2")))
    result = quote(trip_of(variant), variant, CATALOGUE, RULES, AS_OF)
    assert [(line.subject, line.travellers) for line in lodged(result)] == [
        ("forge", ("t3",)),
        ("weir", ("t1", "t2")),
    ]


def test_the_visitor_tax_is_paid_on_the_spot_and_not_by_children() -> None:
    result = sold(WEIR, party=FAMILY_OF_FOUR)
    taxes = [line for line in result.lines if line.service is Service.VISITOR_TAX]
    assert [(line.travellers, line.net, line.payer) for line in taxes] == [
        (("t1", "t2"), euro("3.60"), Payer.LOCALLY)
    ]
    assert result.total == euro("165.00")
    assert taxes[0] in result.apart


def test_the_house_has_a_tax_of_its_own_before_its_place_and_region() -> None:
    own = tariff(Service.VISITOR_TAX, "weir", rate(Unit.PERSON_NIGHT, "0.50"), paid_locally=True)
    result = sold(WEIR, FORGE, items=(own,))
    taxes = [
        str(line.net.amount) for line in result.lines if line.service is Service.VISITOR_TAX and line.net
    ]
    assert taxes == ["1.50", "5.40"]


def test_the_single_supplement_is_found_by_pricing_every_night_twice() -> None:
    # Published form (common practice, no source): nights x (single room - half of the double room),
    # 7 x (85 - 120/2) = 175.
    seven = tariff(
        Service.LODGING,
        "weir",
        rate(Unit.ROOM_NIGHT, "120", room_kind="double"),
        rate(Unit.ROOM_NIGHT, "85", room_kind="double", single_use=True),
    )
    result = sold(*(WEIR,) * 7, items=(seven,))
    assert result.single_supplement == euro("175.00")
    by_sharing = {room.sharing: room.price for room in result.by_room}
    assert by_sharing[1,] == by_sharing[2,] + euro("175.00")


def test_two_in_a_twin_and_one_alone_add_up_to_the_party() -> None:
    # Published form (common practice, no source): 1180 a head in a twin, 175 for the single: 3715 for three.
    house = tariff(
        Service.LODGING,
        "weir",
        rate(Unit.ROOM_NIGHT, "2360", room_kind="double"),
        rate(Unit.ROOM_NIGHT, "1355", room_kind="double", single_use=True),
    )
    result = sold(WEIR, items=(house,))
    assert [(room.sharing, room.price) for room in result.by_room] == [
        ((2,), euro("1180.00")),
        ((1,), euro("1355.00")),
    ]
    assert result.total == euro("3715.00")
    assert result.single_supplement == euro("175.00")


def test_a_house_the_library_does_not_hold_is_unknown_and_so_is_the_supplement() -> None:
    result = sold(Night(lodging=Ref("gone")))
    assert [line.unknown for line in lodged(result)] == [Unknown.NOT_IN_LIBRARY]
    assert result.single_supplement is None


def test_without_a_rate_of_exchange_the_foreign_price_is_unknown() -> None:
    variant = Variant(id="a", name="A", days=(Day(id="d1", nights=(FORGE,)), Day(id="d2")))
    result = quote(trip_of(variant), variant, CATALOGUE, replace(RULES, exchange_rates=()), AS_OF)
    assert {line.unknown for line in lodged(result)} == {Unknown.NO_EXCHANGE_RATE}
    assert result.is_from
