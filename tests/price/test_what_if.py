"""What it would cost if the party, the month or the bikes were others."""

from dataclasses import replace
from datetime import date

from lacet.inputs import Inputs
from lacet.price.quote import quote
from lacet.price.shares import price_a_head
from lacet.price.what_if import all_e_bikes, by_month, more_a_head, recast, what_if
from lacet.trip.library import Bike, Ref
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Hire, Leg, Variant
from lacet.trip.words import BikeKind, Service, Way
from tests.price.small_library import (
    AS_OF,
    CATALOGUE,
    MONDAY,
    RULES,
    TRIP,
    VARIANT,
    catalogue_with,
    euro,
    trip_of,
)

INPUTS = Inputs(TRIP, VARIANT.id, CATALOGUE, RULES, as_of=AS_OF)


def test_every_supposition_is_a_quote_of_its_own() -> None:
    rows = what_if(INPUTS)
    assert [row.says for row in rows if row.group == "party"] == [
        "2 guests",
        "4 guests",
        "6 guests",
        "8 guests",
    ]
    assert [len(row.quote.per_traveller) for row in rows if row.group == "party"] == [2, 4, 6, 8]
    assert len([row for row in rows if row.group == "month"]) == 12
    assert [row.says for row in rows if row.group == "bikes"] == ["all by e-bike"]


def test_a_supposition_costs_what_the_trip_would_cost_if_it_were_so() -> None:
    rows = {row.says: row.quote for row in what_if(INPUTS)}
    party = placeholder_party(4)
    four = quote(trip_of(VARIANT, party), recast(VARIANT, TRIP.party, party), CATALOGUE, RULES, AS_OF)
    assert rows["4 guests"] == four
    assert rows["May"] == quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    # The forge has no winter season: that night is then unknown, and the price says 'from'.
    assert rows["January"].is_from
    assert not rows["May"].is_from


def test_what_a_head_pays_more_is_told_against_the_price_now() -> None:
    now = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    rows = {row.says: row for row in what_if(INPUTS)}
    change, then, here = (
        more_a_head(rows["8 guests"], now),
        price_a_head(rows["8 guests"].quote),
        price_a_head(now),
    )
    assert change is not None
    assert then is not None
    assert here is not None
    assert here + change == then
    assert more_a_head(rows["May"], now) == euro("0.00")
    nothing = replace(now, net=euro("0.00"))
    assert more_a_head(rows["May"], nothing) is None
    assert more_a_head(replace(rows["May"], quote=nothing), now) is None


def test_every_month_keeps_the_weekday_and_stays_near_the_day() -> None:
    starts = [other.start for *_, other, _ in by_month(TRIP, VARIANT)]
    assert [start.month for start in starts if start] == list(range(1, 13))
    assert all(start and start.weekday() == 0 and abs(start.day - MONDAY.day) <= 3 for start in starts)
    late = replace(TRIP, start=date(2027, 8, 31))
    assert [start.month for *_, other, _ in by_month(late, VARIANT) if (start := other.start)] == list(
        range(1, 13)
    )


def test_a_larger_party_shares_out_the_roles_of_the_smaller() -> None:
    ridge = Leg(id="l1", stage=Ref("ridge"), way=Way.WALKING, travellers=("t1",))
    lane = Leg(id="l2", stage=Ref("lane"), way=Way.CYCLING, travellers=("t2",))
    parted = Variant(
        id="a",
        name="A",
        days=(Day(id="d1", items=(ridge, lane)),),
        hires=(Hire(traveller="t2", bike=Ref("volt")),),
    )
    four = recast(parted, placeholder_party(2), placeholder_party(4))
    assert [item.travellers for item in four.days[0].items] == [("t1", "t3"), ("t2", "t4")]
    assert [hire.traveller for hire in four.hires] == ["t2", "t4"]
    one = recast(parted, placeholder_party(2), placeholder_party(1))
    assert [item.travellers for item in one.days[0].items] == [("t1",), ()]


def test_all_by_e_bike_changes_plain_and_brought_bikes_and_nothing_else() -> None:
    hires = (
        Hire(traveller="t1", bike=Ref("plain")),
        Hire(traveller="t2"),
        Hire(traveller="t3", bike=Ref("volt")),
    )
    variant = replace(VARIANT, hires=hires)
    _, _, _, electric = next(iter(all_e_bikes(TRIP, variant, CATALOGUE)))
    assert [hire.bike for hire in electric.hires] == [Ref("volt")] * 3
    assert replace(electric, hires=hires) == variant
    bikes = [
        line for line in quote(TRIP, electric, CATALOGUE, RULES, AS_OF).lines if line.service is Service.BIKE
    ]
    assert {line.subject for line in bikes} == {"volt"}


def test_where_nobody_has_a_bike_there_is_nothing_to_suppose() -> None:
    assert list(all_e_bikes(TRIP, replace(VARIANT, hires=()), CATALOGUE)) == []


def test_a_guest_who_is_just_as_tall_as_an_e_bike_asks_gets_it() -> None:
    def chosen(height_cm: float) -> list[Ref | None]:
        low = Bike(
            id="low", name="Low", kind=BikeKind.E_BIKE, rider_height_from_cm=160, rider_height_to_cm=180
        )
        tall = Bike(id="volt", name="Volt", kind=BikeKind.E_BIKE, rider_height_from_cm=181)
        first, *others = TRIP.party.travellers
        party = replace(TRIP.party, travellers=(replace(first, height_cm=height_cm), *others))
        variant = replace(VARIANT, hires=(Hire(traveller="t1", bike=Ref("plain")),))
        found = list(all_e_bikes(replace(TRIP, party=party), variant, catalogue_with(low, tall)))
        return [hire.bike for _, _, _, electric in found for hire in electric.hires]

    assert chosen(160.0) == [Ref("low")]
    assert chosen(180.0) == [Ref("low")]
    assert chosen(181.0) == [Ref("volt")]
    assert chosen(159.0) == []
