"""The material says what the assessment says, in words, and nothing of what is the office's own business."""

import re
from dataclasses import fields, replace
from decimal import Decimal
from typing import Any

import orjson
import pytest

from lacet.documents.material.values import Fact, ProposalMaterial
from lacet.documents.material.words import WORDS
from lacet.trip.bookings import Bookings
from lacet.trip.finding import Level
from lacet.trip.printable import clean
from lacet.trip.trip import Pricing
from lacet.trip.words import BookingState, Payer, Service
from lacet.wording import ENGLISH
from tests.documents.material.island import assessed, booked, island, made, proposal, told_from, trips


def everything(material: ProposalMaterial) -> str:
    """All texts one after the other."""
    return orjson.dumps(replace(material, drawings={})).decode()


def test_every_day_has_the_figures_of_the_assessment() -> None:
    for day, told in zip(assessed().figures.days, proposal().days, strict=True):
        for group, way in zip(day.groups, told.ways, strict=True):
            facts = {fact.name: fact.value for fact in way.facts}
            if not group.legs:
                assert facts == {}
                continue
            assert facts["Distance"] == ENGLISH.length(group.distance_m)
            assert (
                facts["Ascent, descent"]
                == f"{ENGLISH.height(group.ascent_m)}, {ENGLISH.height(group.descent_m)}"
            )
            assert facts["Moving time"] == f"about {ENGLISH.duration(group.moving_s)}"


def test_the_table_and_the_totals_are_those_of_the_assessment() -> None:
    totals, glance = assessed().figures.totals, proposal().glance
    assert len(glance.rows) == totals.days == 9
    ways = (totals.walking_m, totals.cycling_m)
    expected = ["8", *map(ENGLISH.length, ways), ENGLISH.height(totals.ascent_m), "1"]
    assert [fact.name for fact in glance.figures] == expected


def test_exactly_one_day_is_named_the_hardest() -> None:
    material = proposal()
    assert [day.id for day in material.days if day.hardest] == [
        row.day_id for row in material.glance.rows if row.hardest
    ]
    assert sum(bool(day.hardest) for day in material.days) == 1


def test_a_parted_day_tells_both_ways_with_a_map_each() -> None:
    day = proposal(1, 0).days[3]
    assert [way.who for way in day.ways] == ["Maddoc Fenn", "Sorrel Fenn"]
    assert [way.way for way in day.ways] == ["walking", "cycling"]
    assert len({way.map_key for way in day.ways}) == 2


def test_prices_are_selling_prices_and_the_dates_are_the_quotes() -> None:
    price, quote = proposal().price, assessed().quote
    assert price.total == ENGLISH.money(quote.total)
    assert price.by_room[0].value == ENGLISH.money(quote.by_room[0].price)
    assert price.payments[0].value.startswith(ENGLISH.money(quote.payments[0].amount))


def test_no_net_price_no_margin_and_no_commission_reach_the_material() -> None:
    """Each figure of the office's own business is looked for as it would be printed."""
    trip = trips()[0]
    variant = replace(trip.variants[0], pricing=Pricing(margin_share=0.2137, commission_share=0.0713))
    found = assessed()
    material = made(replace(trip, variants=(variant,)), variant)
    text = everything(material)
    assert not re.search(r"\b(net|margin|mark-?up|commission)\b", text, re.IGNORECASE)
    quote = found.quote
    secret = [quote.net, quote.margin, *(each.net for each in quote.per_traveller)]
    secret += [line.net for line in quote.included if line.net is not None]
    shown = {fact.value for fact in (*material.price.by_room, *material.price.payments)} | {
        material.price.total
    }
    for money in secret:
        if money.amount > Decimal(0):
            assert ENGLISH.money(money) not in text or any(ENGLISH.money(money) in each for each in shown)


def test_what_is_paid_on_the_spot_is_told_apart() -> None:
    taxes = [
        line.net for line in assessed().quote.lines if line.payer is Payer.LOCALLY and line.net is not None
    ]
    total = sum((money.amount for money in taxes), Decimal(0))
    [fact] = proposal().price.locally
    assert fact.value == f"€{total} in total"


@pytest.mark.parametrize(
    ("state", "quantity", "says"),
    [
        (BookingState.CONFIRMED, 2, "Rooms confirmed."),
        (BookingState.OPTION, 2, "Rooms held for you until 15 February 2027."),
        (BookingState.OPTION, 1, "Subject to availability."),
        (BookingState.REQUESTED, 2, "Subject to availability."),
    ],
)
def test_rooms_are_told_as_the_bookings_stand(state: BookingState, quantity: int, says: str) -> None:
    trip = trips()[0]
    booking = replace(booked().held[1], state=state, quantity=quantity)
    assert booking.service is Service.LODGING
    material = made(trip, trip.variants[0], bookings=Bookings((booking,)))
    assert f"Weir Farm: {says}" in material.rooms_held
    assert "Quay House: Subject to availability." in material.rooms_held


def test_an_option_that_ran_out_holds_nothing() -> None:
    trip = trips()[0]
    booking = replace(booked().held[1], option_until=assessed().as_of.replace(day=24))
    assert (
        "Weir Farm: Subject to availability."
        in made(trip, trip.variants[0], bookings=Bookings((booking,))).rooms_held
    )


def test_needs_are_acknowledged_as_the_kitchen_answered() -> None:
    needs = [need for day in proposal().days for meal in day.meals for need in meal.needs]
    assert any(
        "(gluten-free)" in need and "the kitchen says it caters for this; we confirm" in need
        for need in needs
    )
    asked = {finding.day for finding in assessed().findings if finding.check == "needs_served"}
    told = {
        index for index, day in enumerate(proposal().days, start=1)
        if any("we will ask the kitchen" in need for meal in day.meals for need in meal.needs)
    }  # fmt: skip
    # Breakfast isn't told on its own, so a morning in question may be told by its finding alone.
    assert told <= asked
    assert told == {3, 6, 7}


def test_the_distress_signal_and_the_emergency_number_are_told() -> None:
    """Six signals a minute, pause for a minute, three as the answer: Austrian leaflet 'Alpines Notsignal'."""
    points = " ".join(proposal().emergency.points)
    assert "112" in points
    assert "six visible or audible signals in a minute" in points
    assert "pause for a minute" in points
    assert "three signals in a minute" in points


def test_a_wish_stands_beside_the_figure_that_answers_it() -> None:
    facts = {fact.name: fact.value for fact in proposal().suits.facts}
    walked = max(
        sum(leg.distance_m for leg in group.legs if leg.leg.way.value == "walking")
        for day in assessed().figures.days for group in day.groups
    )  # fmt: skip
    assert (
        facts["No more than 16.0 km a day on foot (Nell Alder)"] == f"Longest day: {ENGLISH.length(walked)}"
    )
    assert facts["Gluten-free (Nell Alder)"].endswith("on days 3, 6, 7 and 8, where we will ask for you")


def test_bikes_are_told_guest_by_guest_with_their_size() -> None:
    [first, *_] = proposal().bikes
    assert (first.who, first.bike, first.size) == (
        "Nell Alder",
        "E-bike, medium",
        "for riders 160 to 178 cm tall",
    )
    assert "helmet" in first.extras


def test_the_material_is_plain_data_and_holds_all_fixed_words() -> None:
    plain: dict[str, Any] = orjson.loads(orjson.dumps(proposal()))
    assert set(plain) == {field.name for field in fields(ProposalMaterial)}
    assert set(plain["words"]) == set(WORDS)


@pytest.mark.parametrize(("trip", "variant"), [(1, 0), (2, 0), (3, 0), (4, 1), (0, 1)])
def test_every_demo_trip_can_be_told(trip: int, variant: int) -> None:
    material = proposal(trip, variant)
    assert all(day.title for day in material.days)
    assert "None" not in everything(material)
    assert "{" not in "".join(material.words.values())


def test_a_trip_without_dates_says_so_and_names_no_weekday() -> None:
    material = proposal(3, 0)
    assert "dates to be confirmed" in material.cover.line
    assert all(day.date == "" for day in material.days)


def test_control_characters_and_turned_directions_are_left_out() -> None:
    assert clean("a\x00b\x07c\u202ed\ud800e\tf\ng😀é") == "abcde\tf\ng😀é"


def test_a_finding_of_the_office_is_never_printed() -> None:
    text = everything(proposal(0, 1))
    for finding in assessed(0, 1).findings:
        if finding.level is Level.STOP:
            assert str(finding.says) not in text


def test_what_an_alternative_holds_has_its_own_figures() -> None:
    told = told_from()
    [longer] = proposal().days[3].others
    figures = told.figures.days[3].alternatives[0].groups[0]
    assert longer.heading == "A longer alternative"
    assert longer.facts[0].value == ENGLISH.length(figures.distance_m)


def test_the_office_may_write_its_texts_in_each_language() -> None:
    texts = dict(island().office.texts)
    english = {section.heading: section.paragraphs for section in proposal().practical}
    assert english["Health"] == (texts["health"],)
    german = [text for section in proposal(tag="de").practical for text in section.paragraphs]
    assert texts["health.de"] in german


def test_where_ways_part_each_guest_has_their_own_length() -> None:
    figures = proposal(1, 0).glance.figures
    walker, rider = assessed(1, 0).figures.travellers
    assert Fact(ENGLISH.length(walker.walking_m), "on foot (Maddoc Fenn)") in figures
    assert Fact(ENGLISH.length(rider.cycling_m), "by bike (Sorrel Fenn)") in figures


def test_a_stage_taken_there_and_back_is_described_once() -> None:
    legs = proposal(1, 0).days[2].ways[1].legs
    assert [leg.name for leg in legs] == ["The tern track", "The tern track"]
    assert len(legs[0].paragraphs[0]) > 100
    assert legs[1].paragraphs == ("Back by the same route.",)


def test_a_wish_that_is_not_met_is_told_as_it_is() -> None:
    facts = proposal(1, 0).suits.facts
    assert Fact("One rest day", "No rest day") in facts


def test_guests_with_the_same_limit_are_told_together() -> None:
    facts = [fact.name for fact in proposal(2, 0).suits.facts]
    assert "No more than 350 m of ascent a day (Wren Rowan and Kit Rowan)" in facts


def test_a_bike_says_its_kind_once() -> None:
    bikes = [bike.bike for bike in proposal(2, 0).bikes]
    assert bikes[0] == "Tourer, medium"
    assert bikes[3] == "Children's bike, 20 inch"
    assert proposal(2, 0, "de").bikes[3].bike == "Children's bike, 20 inch (Kinderrad)"


def test_a_month_without_a_date_is_told_in_full() -> None:
    assert proposal(3, 0).cover.line.endswith("in June, dates to be confirmed")
    assert proposal(3, 0, "de").cover.line.endswith("im Juni, Termin offen")
