"""Two trips of the demo priced by hand from its tariff sheets, equal to the cent.

Nothing of the program reckons here: every amount is written out beside the row of `rates.csv` it stands in
(which is looked up as text), and every step is arithmetic a reader can follow with a pocket calculator.
"""

import csv
from dataclasses import replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

import pytest

from lacet.days.seasons import covers
from lacet.demo import demo_items, demo_trips
from lacet.demo.building import demo_settings
from lacet.price.margin_vat import margin_vat
from lacet.price.quote import quote
from lacet.price.values import Quote
from lacet.resources import example_project
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.trip.trip import Trip
from lacet.trip.words import Payer

AS_OF = date(2026, 11, 25)
SUMMER = "06-01..09-30"
RULES = HouseRules()


@cache
def sheet() -> tuple[dict[str, str], ...]:
    text = example_project("verrin").joinpath("rates.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def at(amount: str, tariff: str, **columns: str) -> Decimal:
    """An amount, having seen that just one row of the tariff holds it under these columns."""
    wanted = {"tariff": tariff, "currency": "EUR", **columns}
    rows = [row for row in sheet() if all(row[name] == value for name, value in wanted.items())]
    assert [row["amount"] for row in rows] == [amount], (tariff, columns)
    return Decimal(amount)


def double(amount: str, house: str) -> Decimal:
    return at(amount, f"{house}-rooms", room_kind="double", season=SUMMER, single_use="")


def family(amount: str, house: str) -> Decimal:
    return at(amount, f"{house}-rooms", room_kind="family", season=SUMMER)


def dinner(amount: str, tariff: str) -> Decimal:
    return at(amount, tariff, meal="dinner", age_to="")


def childs_dinner(amount: str, tariff: str) -> Decimal:
    return at(amount, tariff, meal="dinner", age_to="11")


@cache
def library() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), {}, region, office)


def trip(trip_id: str) -> Trip:
    return next(each for each in demo_trips() if each.id == trip_id)


def priced(trip_id: str, rules: HouseRules = RULES) -> Quote:
    chosen = trip(trip_id)
    return quote(chosen, chosen.variants[0], library(), rules, AS_OF, covers)


def euro(amount: Decimal | str) -> Money:
    return Money(Decimal(amount), "EUR")


# --- The ridge and the lane: two in a double, 12 to 19 June; she has an e-bike from day 2 to day 7


def ridge_shared_net() -> Decimal:
    """What the two share: everything but her bike."""
    houses = (
        double("114.00", "weir-farm")
        + 2 * double("118.00", "terns-nest")
        + double("123.00", "gap-inn")
        + 2 * double("144.00", "lake-house")
        + double("111.00", "hay-barn")
    )
    assert houses == Decimal("872.00")
    dinners_a_head = (
        dinner("27.00", "weir-farm-table")
        + dinner("30.00", "slipway-menu")
        + dinner("27.00", "terns-nest-table")
        + dinner("24.00", "gap-kitchen-menu")
        + dinner("27.00", "lake-house-table")
        + dinner("34.00", "reed-room-menu")
        + dinner("27.00", "hay-barn-table")
    )
    assert dinners_a_head == Decimal("196.00")
    lunches_a_head = at("9.00", "terns-nest-lunch", meal="packed_lunch")
    taxis = 2 * at("34.00", "bell-taxi", vehicle_seats="4")
    bags = 4 * 2 * at("8.50", "bags", unit="bag")
    bike_moved = at("45.00", "bikes-moved", unit="move")
    rep = at("32.00", "rep-time", unit="hour")
    office = at("85.00", "office", unit="trip")
    handling_a_head = at("24.00", "handling", unit="person")
    a_head = dinners_a_head + lunches_a_head + handling_a_head
    return houses + 2 * a_head + taxis + bags + bike_moved + rep + office


def test_a_couple_whose_ways_part_pays_what_the_tariff_sheets_say() -> None:
    found = priced("ridge-and-lane")
    shared = ridge_shared_net()
    her_bike = 6 * at("27.00", "e-m-hire", unit="bike_day")
    assert (shared, her_bike) == (Decimal("1628.00"), Decimal("162.00"))
    assert found.net == euro(shared + her_bike) == euro("1790.00")
    # A quarter on top, then up to the next whole euro: 814.00 x 1.25 = 1017.50, 976.00 x 1.25 = 1220.00.
    assert [each.net for each in found.per_traveller] == [euro("814.00"), euro("976.00")]
    assert [each.price for each in found.per_traveller] == [euro("1018.00"), euro("1220.00")]
    assert found.total == euro("2238.00")
    assert found.margin == euro("448.00")
    assert not found.is_from


def test_deposit_balance_and_levy_of_the_couple_follow_the_house_rules() -> None:
    found = priced("ridge-and-lane")
    # A quarter of 2238.00 within a fortnight, the rest 56 days before 12 June 2027.
    deposit, balance = found.payments
    assert (deposit.amount, deposit.due) == (euro("559.50"), date(2026, 12, 9))
    assert (balance.amount, balance.due) == (euro("1678.50"), date(2027, 4, 17))
    levy = at("1.20", "island-levy", age_from="16")
    locally = [line.net for line in found.apart if line.payer is Payer.LOCALLY]
    assert locally == [euro(2 * levy)] * 7


def test_the_single_supplement_of_the_couple_is_half_a_double_short_of_a_room_alone() -> None:
    # One guest takes a single room where there is one (three houses), else a double let to one.
    houses = (
        (1, at("91.00", "weir-farm-rooms", room_kind="double", season=SUMMER, single_use="yes"), "114.00"),
        (2, at("80.00", "terns-nest-rooms", room_kind="single", season=SUMMER), "118.00"),
        (1, at("84.00", "gap-inn-rooms", room_kind="single", season=SUMMER), "123.00"),
        (2, at("98.00", "lake-house-rooms", room_kind="single", season=SUMMER), "144.00"),
        (1, at("89.00", "hay-barn-rooms", room_kind="double", season=SUMMER, single_use="yes"), "111.00"),
    )
    net = sum((nights * (alone - Decimal(shared) / 2) for nights, alone, shared in houses), Decimal(0))
    assert net == Decimal("184.00")
    assert priced("ridge-and-lane").single_supplement == euro(net * Decimal("1.25")) == euro("230.00")


# --- Salt and apples: parents and two children of 11 and 8 in family rooms, 7 to 14 August


def salt_family_net() -> tuple[Decimal, Decimal, Decimal]:
    """Net for all four together, then what a parent and what a child has of their own."""
    rooms = (
        family("212.00", "quay-house")
        + 2 * family("173.00", "salters-rest")
        + 2 * family("201.00", "the-press")
        + 2 * family("194.00", "dune-lodge")
    )
    rides = at("34.00", "bell-taxi", vehicle_seats="4") + at("58.00", "island-van", vehicle_seats="8")
    moves = 4 * 4 * at("8.50", "bags") + 2 * at("45.00", "bikes-moved")
    together = rooms + rides + moves + at("32.00", "rep-time") + at("85.00", "office")
    evenings = ("27.00", "27.00", "27.00", "27.00", "31.00", "29.00", "25.00")
    houses = ("salters-rest-table", "salters-rest-table", "the-press-table", "dune-lodge-table",
              "market-table-menu", "ciderfold-barn-menu", "shell-room-menu")  # fmt: skip
    grown = sum((dinner(amount, house) for amount, house in zip(evenings, houses, strict=True)), Decimal(0))
    small = sum(
        (childs_dinner("15.00" if house.endswith("table") else "16.00", house) for house in houses),
        Decimal(0),
    )
    handling = at("24.00", "handling")
    parent = grown + 8 * at("15.00", "tour-m-hire") + handling
    child = small + 8 * at("9.00", "child-24-hire") + handling
    assert at("15.00", "tour-l-hire") == at("15.00", "tour-m-hire")
    assert at("9.00", "child-20-hire") == at("9.00", "child-24-hire")
    return together, parent, child


def test_a_family_with_children_pays_what_the_tariff_sheets_say() -> None:
    found = priced("salt-and-apples")
    together, parent, child = salt_family_net()
    assert (together, parent, child) == (Decimal("1783.00"), Decimal("337.00"), Decimal("204.00"))
    assert found.net == euro(together + 2 * parent + 2 * child) == euro("2865.00")
    # (1783 / 4 + 337) x 1.25 = 978.4375 -> 979; (1783 / 4 + 204) x 1.25 = 812.1875 -> 813.
    assert [each.price for each in found.per_traveller] == [*[euro("979.00")] * 2, *[euro("813.00")] * 2]
    assert found.total == euro("3584.00")
    # Where the halves of a cent fall: 1783 / 4 = 445.75, so net parts are exact.
    assert [each.net for each in found.per_traveller] == [*[euro("782.75")] * 2, *[euro("649.75")] * 2]


def test_the_familys_vat_on_the_margin_is_reckoned_as_the_german_decree_does() -> None:
    """UStAE 25.3: paragraph 1, example 1 (19/119 of the margin), parted by direct cost as in paragraph 4.

    The published figures themselves (margin 60.00, VAT 9.58; own share 20 %, margin 160 000) are held in
    `test_margin_vat`; here the same steps are taken by hand for a whole trip.
    """
    found = priced("salt-and-apples")
    vat = margin_vat(found, replace(RULES, margin_scheme=True))
    assert vat is not None
    # Own: the rep's hour 32, office 85, handling 4 x 24 = 213 of 2865 direct cost; bought in: 2652.
    own_cost, bought_in, price = Decimal(32 + 85 + 4 * 24), Decimal(2652), Decimal(3584)
    own_price = price * own_cost / (own_cost + bought_in)
    margin = price - own_price - bought_in
    cents = Decimal("0.01")
    assert vat.bought_in == euro("2652.00")
    assert vat.own_price == euro(own_price.quantize(cents, ROUND_HALF_UP)) == euro("266.45")
    assert vat.margin == euro(margin.quantize(cents, ROUND_HALF_UP)) == euro("665.55")
    assert vat.vat_on_margin == euro((margin * 19 / 119).quantize(cents, ROUND_HALF_UP)) == euro("106.26")
    assert vat.vat_on_own == euro((own_price * 19 / 119).quantize(cents, ROUND_HALF_UP)) == euro("42.54")


@pytest.mark.parametrize(
    ("markup", "margin", "total"),
    [
        # Together 1783, parents 337, children 204 (above); prices up to the next whole euro.
        (0.0, None, 2 * 783 + 2 * 650),
        # 782.75 / 0.8 = 978.4375 and 649.75 / 0.8 = 812.1875: a fifth as margin is a quarter as mark-up.
        (0.25, 0.2, 2 * 979 + 2 * 813),
        # 782.75 / 0.75 = 1043.67 and 649.75 / 0.75 = 866.33: a quarter as margin is not.
        (0.25, 0.25, 2 * 1044 + 2 * 867),
    ],
)
def test_margin_and_markup_of_the_family_are_never_confused(
    markup: float, margin: float | None, total: int
) -> None:
    rules = replace(RULES, markup_share=markup, margin_share=margin)
    assert priced("salt-and-apples", rules).total == euro(str(total))
