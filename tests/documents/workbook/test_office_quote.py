"""The office's quote: formulas that come to the program's totals, by another reckoner."""

import shutil
import subprocess
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from lacet.documents.workbook.book import Book
from lacet.documents.workbook.office import write_office_quote
from lacet.documents.workbook.office_told import OfficeTold
from lacet.price.offering import selling_prices
from lacet.price.quote import quote
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Ref, Tariff
from lacet.trip.money import ExchangeRate
from lacet.trip.party import NOBODY, Party, Traveller
from lacet.trip.trip import Night, Pricing, Trip, Variant
from lacet.trip.words import Payer
from tests.documents.workbook.recomputed import differences, labelled, recomputed, rows, same, stored
from tests.price.small_library import (
    AS_OF,
    CATALOGUE,
    DAYS,
    ITEMS,
    REGION,
    RULES,
    TRIP,
    VARIANT,
    WEIR,
    catalogue_with,
    trip_of,
)


def told(trip: Trip = TRIP, rules: HouseRules = RULES, library: Catalogue = CATALOGUE) -> OfficeTold:
    variant = trip.variants[0]
    priced = quote(trip, variant, library, rules, AS_OF)
    return OfficeTold(
        trip=trip, variant=variant, catalogue=library, quote=priced, prices=selling_prices(priced)
    )


def office_copy(about: OfficeTold, rules: HouseRules = RULES) -> bytes:
    book = Book(title=about.title, creator="Farther Shore Walks")
    write_office_quote(book, about, rules)
    return book.to_bytes()


# Every rule of rounding beside every way of making prices.
TERMS = [
    HouseRules(markup_share=0.25),
    HouseRules(markup_share=0.333, half_even=True, round_price_to_minor=1, commission_share=0.125),
    HouseRules(margin_share=0.2, round_price_to_minor=50, deposit_share=0.333),
    HouseRules(margin_share=0.17, commission_share=0.15, half_even=True, round_price_to_minor=500),
    HouseRules(markup_share=0.0, round_price_to_minor=1, margin_scheme=True),
]


@pytest.mark.parametrize("terms", TERMS)
def test_formulas_come_to_the_quote_by_every_rule_of_rounding(terms: HouseRules, tmp_path: Path) -> None:
    rules = replace(terms, exchange_rates=RULES.exchange_rates)
    about = told(rules=rules)
    assert not about.quote.is_from
    assert differences(office_copy(about, rules), tmp_path) == []


def test_halves_of_a_coin_fall_as_the_house_has_them(tmp_path: Path) -> None:
    # 54.20 pounds at 1.25 are 67.75 a head; 12.5 % on top of an odd cent makes halves of a cent by the dozen.
    rate = ExchangeRate(currency="GBP", to="EUR", rate=Decimal("1.00025"), on=AS_OF)
    for half_even in (False, True):
        rules = HouseRules(
            exchange_rates=(rate,), half_even=half_even, round_price_to_minor=1, markup_share=0.125,
            commission_share=0.2, deposit_share=0.125,
        )  # fmt: skip
        assert differences(office_copy(told(rules=rules), rules), tmp_path) == []


def test_yen_and_dinars_come_out_in_their_own_coins(tmp_path: Path) -> None:
    for currency, euro, pound in (("JPY", "170.55", "198.11"), ("KWD", "0.33335", "0.4101")):
        rates = tuple(
            ExchangeRate(currency=other, to=currency, rate=Decimal(rate), on=AS_OF)
            for other, rate in (("EUR", euro), ("GBP", pound))
        )
        rules = HouseRules(exchange_rates=rates, round_price_to_minor=1)
        variant = replace(VARIANT, pricing=Pricing(currency=currency))
        assert differences(office_copy(told(trip_of(variant), rules), rules), tmp_path) == []


@st.composite
def trips(draw: st.DrawFn) -> Trip:
    count = draw(st.integers(1, 5))
    guests = tuple(
        Traveller(id=f"t{number}", age=draw(st.none() | st.integers(0, 90)), from_day=draw(st.integers(1, 2)))
        for number in range(1, count + 1)
    )
    alone = draw(st.integers(0, count))
    party = Party(travellers=guests, sharing=(tuple(guest.id for guest in guests[alone:]),))
    days = tuple(
        replace(day, id=f"d{number}")
        for number, day in enumerate(draw(st.lists(st.sampled_from(DAYS), min_size=1, max_size=4)))
    )
    return trip_of(replace(VARIANT, days=days, hires=()), party)


@settings(max_examples=5, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    trips(),
    st.integers(0, 900).map(lambda thousandths: thousandths / 1000),
    st.integers(0, 500).map(lambda thousandths: thousandths / 1000),
    st.booleans(),
    st.sampled_from((1, 5, 100)),
)
def test_formulas_come_to_the_quote_of_any_party(
    tmp_path: Path, trip: Trip, markup: float, commission: float, half_even: bool, step: int
) -> None:
    rules = replace(RULES, markup_share=markup, commission_share=commission)
    rules = replace(rules, half_even=half_even, round_price_to_minor=step)
    assert differences(office_copy(told(trip, rules), rules), tmp_path) == []


def test_a_real_spreadsheet_program_comes_to_the_same(tmp_path: Path) -> None:
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        pytest.skip(
            "LibreOffice isn't installed here; another evaluator has reckoned the formulas in the tests above"
        )
    content = office_copy(told())
    (tmp_path / "quote.xlsx").write_bytes(content)
    home = f"-env:UserInstallation={(tmp_path / 'home').as_uri()}"
    order = [program, home, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir"]
    subprocess.run([*order, str(tmp_path / "anew"), str(tmp_path / "quote.xlsx")], check=True, timeout=120)
    anew = load_workbook(tmp_path / "anew" / "quote.xlsx", data_only=True)
    kept = stored(content)
    assert [at for at, value in kept.items() if not same(value, anew[at[0]][at[1]].value)] == []


def test_a_line_without_a_price_is_unknown_and_never_zero(tmp_path: Path) -> None:
    stranger = replace(WEIR, lodging=Ref("nobody-knows"))
    trip = trip_of(replace(VARIANT, days=(replace(DAYS[0], nights=(stranger,)), *DAYS[1:])))
    about = told(trip)
    content = office_copy(about)
    assert differences(content, tmp_path) == []
    labels, kept = labelled(content, "Quote"), stored(content)
    assert kept["Quote", labels["The price is"]] == "from"
    assert kept["Quote", labels["Total"]] == float(about.quote.total.amount)
    (row,) = [row for row in rows(content, "Lines") if "nobody-knows" in row]
    assert row.count("unknown") == 4
    assert not any(value == 0 for value in row if isinstance(value, int | float))


def test_a_price_typed_into_the_sheet_makes_the_total_final(tmp_path: Path) -> None:
    # The dinner of 34.00 for three isn't in this library; typed in, the sheet comes to the whole quote.
    library = catalogue_of(tuple(item for item in ITEMS if item.id != "restaurant-pans"), region=REGION)
    about, whole = told(library=library), told()
    assert about.quote.is_from
    content = office_copy(about)
    (at,) = [number for number, row in enumerate(rows(content, "Lines"), 1) if row[3] == "The Pans: dinner"]
    found = recomputed(content, tmp_path, {("Lines", f"G{at}"): 34.0})
    labels = labelled(content, "Quote")
    assert found["Quote", labels["Total"]] == float(whole.quote.total.amount)
    assert found["Quote", labels["of it margin"]] == float(whole.quote.margin.amount)
    assert found["Quote", labels["The price is"]] == "final"


def test_another_mark_up_or_a_margin_typed_in_comes_to_that_quote(tmp_path: Path) -> None:
    content, labels = office_copy(told()), labelled(office_copy(told()), "Quote")
    markup = {("Quote", labels["Mark-up, a share of net"]): 0.4}
    margin = {
        ("Quote", labels["Prices are made by"]): "margin",
        ("Quote", labels["Margin, a share of the price"]): 0.22,
        ("Quote", labels["Halves are rounded"]): "even",
    }
    for changes, rules in (
        (markup, replace(RULES, markup_share=0.4)),
        (margin, replace(RULES, margin_share=0.22, half_even=True)),
    ):
        found = recomputed(content, tmp_path, changes)
        assert found["Quote", labels["Total"]] == float(told(rules=rules).quote.total.amount)
        assert found["Quote", labels["deposit"]] == float(told(rules=rules).quote.payments[0].amount.amount)


def test_a_trip_without_a_party_or_without_days_is_written_too(tmp_path: Path) -> None:
    for trip in (trip_of(VARIANT, NOBODY), trip_of(Variant(id="a", name="A"))):
        rules = replace(RULES, margin_scheme=True)
        assert differences(office_copy(told(trip, rules), rules), tmp_path) == []


def test_extras_locally_paid_and_deposits_are_in_the_lines_and_in_no_total(tmp_path: Path) -> None:
    content = office_copy(told())
    apart = {row[3]: row[13] for row in rows(content, "Lines") if row[12] in ("optional", "paid locally")}
    assert apart == dict.fromkeys(("Crater house: entry", "Weir: visitor tax", "Forge: visitor tax"), "no")
    (deposit,) = [row for row in rows(content, "Lines") if str(row[3]).endswith("deposit")]
    assert (deposit[13], deposit[18]) == ("no", "refundable")


def test_optional_nights_keep_their_price_apart(tmp_path: Path) -> None:
    night = Night(lodging=Ref("weir"), payer=Payer.OPTIONAL)
    trip = trip_of(replace(VARIANT, days=(replace(DAYS[0], nights=(night,)),)))
    assert [each.line.subject for each in told(trip).quote.extras] == ["weir", "weir"]
    assert differences(office_copy(told(trip)), tmp_path) == []


def test_a_line_names_its_tariff_with_its_time_and_its_vat() -> None:
    taxi = next(item for item in ITEMS if isinstance(item, Tariff) and item.id == "transfer-taxi")
    taxed = catalogue_with(replace(taxi, vat_note="10 %, held"))
    (ride,) = [row for row in rows(office_copy(told(library=taxed)), "Lines") if row[3] == "Taxi"]
    assert ride[17] == "transfer taxi (2027-01-01 to 2027-12-31); VAT: 10 %, held"
    assert (ride[0], ride[2], ride[4], ride[5], ride[6]) == (1, "transfers", 1, "vehicle", 48)
