"""The client's quote: the same selling prices, and no trace of what anything costs the office."""

import io
import re
import zipfile
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from openpyxl import load_workbook

from lacet.assess import Assessment, assess
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.documents.workbook.making import quote_workbook
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Lodging, Tariff
from lacet.trip.trip import Trip
from lacet.trip.words import Payer
from tests.documents.workbook.recomputed import differences, formulas_in, labelled, rows, stored

AS_OF = date(2026, 11, 25)
# Shares that come to prices nobody could take for a net price.
RULES = HouseRules(markup_share=0.317, commission_share=0.113, round_price_to_minor=1, margin_scheme=True)


@cache
def library() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), demo_tracks(), region, office)


@cache
def trip_of(trip_id: str) -> Trip:
    return next(each for each in demo_trips() if each.id == trip_id)


def found(trip: Trip) -> Assessment:
    return assess(inputs_of(trip))


def inputs_of(trip: Trip) -> Inputs:
    return Inputs(trip, trip.variants[0].id, library(), RULES, as_of=AS_OF)


def workbook(trip: Trip, *, for_client: bool) -> bytes:
    return quote_workbook(inputs_of(trip), found(trip), for_client=for_client)


@cache
def copy_of(trip_id: str, *, for_client: bool) -> bytes:
    """A demo trip's quote; tests read it and change nothing."""
    return workbook(trip_of(trip_id), for_client=for_client)


def parts(content: bytes) -> str:
    """Everything in the file, sheets, styles, properties and all, as one text."""
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        return "\n".join(packed.read(name).decode("utf-8", "replace") for name in packed.namelist())


TRIPS = ["coast-to-crater", "ridge-and-lane", "salt-and-apples", "round-verrin"]


@pytest.mark.parametrize("trip_id", TRIPS)
def test_no_net_price_is_anywhere_in_the_file(trip_id: str) -> None:
    trip = trip_of(trip_id)
    quote = found(trip).quote
    nets = {quote.net, quote.margin, quote.commission}
    nets |= {each.net for each in quote.per_traveller}
    nets |= {money for line in quote.included for money in (line.net, line.each) if money is not None}
    shown = {cell for row in rows(copy_of(trip.id, for_client=True), "Quote") for cell in row}
    allowed = {each.price for each in quote.per_traveller} | {each.amount for each in quote.payments}
    allowed |= {line.net for line in quote.apart if line.net} | {quote.total}
    if quote.single_supplement is not None:
        allowed.add(quote.single_supplement)
    told = {float(cell) for cell in shown if isinstance(cell, int | float)}
    assert not told & {float(money.amount) for money in nets - allowed}
    assert told <= {float(money.amount) for money in allowed}


@pytest.mark.parametrize("trip_id", TRIPS)
def test_no_word_of_the_office_is_anywhere_in_the_file(trip_id: str) -> None:
    client, office = (parts(copy_of(trip_id, for_client=each)).lower() for each in (True, False))
    for word in ("net,", "margin", "mark-up", "commission", "tariff", "vat", "0.317", "0.113", "office copy"):
        assert word in office or word == "tariff"
        assert not re.search(rf"\b{re.escape(word)}", client.replace("private", "")), word
    names = [item.name for item in demo_items() if isinstance(item, Tariff)]
    houses = {item.name for item in demo_items() if isinstance(item, Lodging)}
    assert [name for name in names if name not in houses and f">{name.lower()}" in client] == []


def test_nothing_is_hidden_or_noted_beside_the_cells() -> None:
    book = load_workbook(io.BytesIO(copy_of("coast-to-crater", for_client=True)))
    assert book.sheetnames == ["Quote", "Trip"]
    assert len(book.defined_names) == 0
    for sheet in book.worksheets:
        assert sheet.sheet_state == "visible"
        assert not any(
            each.hidden for each in (*sheet.row_dimensions.values(), *sheet.column_dimensions.values())
        )
        assert [cell for row in sheet.iter_rows() for cell in row if cell.comment] == []
    assert book.properties.creator == "Farther Shore Walks"
    assert {sheet for sheet, _ in formulas_in(copy_of("coast-to-crater", for_client=True))} == {
        "Quote",
        "Trip",
    }


@pytest.mark.parametrize("trip_id", ["coast-to-crater", "salt-and-apples"])
def test_both_copies_come_to_the_same_total_and_the_trip_to_its_sums(trip_id: str, tmp_path: Path) -> None:
    trip = trip_of(trip_id)
    whole = found(trip)
    for for_client in (True, False):
        content = copy_of(trip.id, for_client=for_client)
        assert differences(content, tmp_path) == []
        kept, labels = stored(content), labelled(content, "Quote")
        assert kept["Quote", labels["Total"]] == float(whole.quote.total.amount)
    trip_sums = [kept["Trip", f"{letter}{len(trip.variants[0].days) + 3}"] for letter in "FGI"]
    # Each day is told to a tenth of a metre and of a second.
    totals = whole.figures.totals
    assert trip_sums == [
        pytest.approx(totals.distance_m / 1000, abs=0.001),
        pytest.approx(totals.ascent_m, abs=1),
        pytest.approx(totals.moving_s / 86_400, abs=1e-5),
    ]


def test_a_price_that_is_not_settled_says_from_and_what_is_missing() -> None:
    trip = trip_of("salt-and-apples")
    less = catalogue_of(
        tuple(item for item in demo_items() if item.id != "shell-room-menu"), demo_tracks(), library().region
    )
    lacking = replace(inputs_of(trip), catalogue=less)
    content = quote_workbook(lacking, assess(lacking), for_client=True)
    labels = labelled(content, "Quote")
    assert "Total, from" in labels
    assert "Price to be confirmed: The Shell Room: dinner" in labels
    assert "tariff" not in parts(content)


def test_what_is_paid_on_the_spot_is_told_with_its_price() -> None:
    trip = trip_of("salt-and-apples")
    content = workbook(trip, for_client=True)
    levies = [row for row in rows(content, "Quote") if "visitor tax" in str(row[0])]
    locally = [line for line in found(trip).quote.apart if line.payer is Payer.LOCALLY]
    assert len(levies) == len(locally) == 7
    assert {(row[1], row[2]) for row in levies} == {(2.4, "payable locally")}


def test_the_trip_sheet_tells_each_day_from_its_way_to_its_bags() -> None:
    trip = trip_of("ridge-and-lane")
    told = rows(copy_of(trip.id, for_client=True), "Trip")
    head, second = told[1], told[3]
    day = dict(zip(head, second, strict=True))
    assert day["Day"] == 2
    assert day["What"] == (
        "on foot, South shore to Ternhaven (Maddoc Fenn); by e-bike, The south road (Sorrel Fenn)"
    )
    assert day["Bags and bikes"] == "2 bags by Island van; 1 bike by Island van"
    assert (day["Lodging"], day["Dinner"]) == ("Tern's Nest", "The Slipway")
    assert dict(zip(head, told[2], strict=True))["Transfers"] == "Port Verrin to Low Weir by Bell taxi"
    assert told[-1][0].startswith("Times, battery and daylight are estimates")


# Ways a text could become a formula, or be lost: spreadsheet programs run what begins with these signs.
HOSTILE = [
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("http://x","y")', "=cmd|' /C calc'!A0",
    " =1", "a\r\nb", "_x000D_", "<b>&amp;", "'=1",
]  # fmt: skip


@pytest.mark.parametrize("says", HOSTILE)
@pytest.mark.parametrize("for_client", [True, False])
def test_texts_that_look_like_formulas_stay_texts_and_are_read_back_unchanged(
    says: str, for_client: bool
) -> None:
    trip = trip_of("ridge-and-lane")
    party = replace(trip.party, name=says, travellers=(replace(trip.party.travellers[0], name=says),))
    day = replace(trip.variants[0].days[0], note=says)
    variant = replace(trip.variants[0], name=says, days=(day, *trip.variants[0].days[1:]))
    hostile = replace(trip, name=says, party=replace(party, sharing=()), variants=(variant,))
    content = workbook(hostile, for_client=for_client)
    book = load_workbook(io.BytesIO(content))
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    said = [cell for cell in cells if cell.value == says]
    assert len(said) >= 2
    assert {cell.data_type for cell in said} == {"s"}
    assert all(cell.quotePrefix for cell in said) == says.startswith(tuple("=+-@\t\r"))
    assert formulas_in(content).keys() == formulas_in(workbook(
        replace(hostile, name="plain", party=replace(hostile.party, name="plain"), variants=(
            replace(variant, name="plain", days=(replace(day, note="plain"), *variant.days[1:])),
        )), for_client=for_client)).keys()  # fmt: skip


def test_signs_that_a_sheet_cannot_hold_are_shown_as_missing() -> None:
    trip = replace(trip_of("ridge-and-lane"), name="a\x00b\x1f\ud800\ufffe")
    (title, *_) = rows(workbook(trip, for_client=True), "Quote")[0]
    assert title == "a\ufffdb\ufffd\ufffd\ufffd, A: Eight days, apart by day"
