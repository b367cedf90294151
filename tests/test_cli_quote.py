"""`lacet quote` as a person and a script get it."""

import io
import json
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest
from openpyxl import load_workbook

from lacet.cli import main
from lacet.price.frozen import thaw
from lacet.price.quote import quote
from lacet.store import open_project
from lacet.trip.library import Tariff
from lacet.trip.party import NOBODY
from lacet.trip.region import Region
from lacet.trip.trip import Trip
from tests.price.small_library import AS_OF, CATALOGUE, ITEMS, RULES, TRIP, VARIANT, euro

ARGUMENTS = ("1", "A", "--as-of", AS_OF.isoformat())


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "small.lacet"
    with open_project(path, create=True) as opened, opened.unit_of_work() as unit:
        for item in ITEMS:
            unit.library.add_version(cast(Any, item))
        unit.settings.save(CATALOGUE.region)
        unit.settings.save(RULES)
        unit.trips.save(TRIP, 0, "new trip")
        unit.commit()
    return path


def run(project: Path, *options: str) -> int:
    return main(["quote", str(project), *ARGUMENTS, *options])


def told(project: Path, capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, Any]:
    assert run(project, "--json", *options) == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_the_terminal_tells_the_price_by_kind_by_day_and_by_guest(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(project) == 0
    out = capsys.readouterr().out
    for expected in ("By kind", "By day", "whole trip", "€1,443.00", "net €1,153.42, margin €289.58"):
        assert expected in out
    assert "double, 2 sharing (guest 2): €416.00 per person" in out
    assert "double, single occupancy: €500.00 per person" in out
    assert "Optional, day 2: Crater house: entry: €9.00 per person" in out
    assert "Paid locally, visitor tax: €16.20" in out
    assert "Comes back, bikes: €200.00" in out


def test_amounts_in_json_are_texts_with_the_decimals_of_their_currency(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = told(project, capsys)
    assert data["price"] == {"per_person": "481.00", "party": "1443.00", "currency": "EUR", "from": False}
    assert (data["net"], data["margin"], data["commission"]) == ("1153.42", "289.58", "0.00")
    assert [guest["price"] for guest in data["guests"]] == ["527.00", "416.00", "500.00"]
    forge = next(line for line in data["lines"] if line["exchange"])
    assert (forge["each"], forge["currency"], forge["exchange"], forge["exchange_on"]) == (
        *("54.20", "GBP", "1.1623", "2026-11-20"),
    )
    assert sum(float(part["price"]) for part in data["by_day"]) == pytest.approx(1443)
    assert data["margin_vat"] is None


def test_a_client_is_told_no_net_price_and_no_margin(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = told(project, capsys, "--client")
    assert run(project, "--client") == 0
    for text in (json.dumps(data), capsys.readouterr().out.replace(",", "")):
        for secret in ("1153.42", "289.58", "421.50", "margin", "net ", '"net"', "markup", "118.00", "54.20"):
            assert secret not in text
    assert data["price"]["party"] == "1443.00"


def test_a_workbook_is_written_once_and_never_over_another(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "new folder" / "quote.xlsx"
    assert run(project, "--out", str(file)) == 0
    assert load_workbook(io.BytesIO(file.read_bytes())).sheetnames == ["Quote", "Lines", "Trip"]
    before = file.read_bytes()
    capsys.readouterr()
    assert run(project, "--client", "--out", str(file)) == 1
    assert "is there already" in capsys.readouterr().err
    assert file.read_bytes() == before
    assert [each.name for each in file.parent.iterdir()] == ["quote.xlsx"]
    assert run(project, "--out", str(tmp_path / "quote.pdf")) == 1
    assert "must end in .xlsx" in capsys.readouterr().err


def test_an_issued_quote_is_kept_with_what_it_was_made_from(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = told(project, capsys, "--issue")
    assert data["document"] == 1
    with open_project(project) as opened, opened.reading() as unit:
        (row,) = unit.documents.rows(TRIP.id)
        frozen = thaw(json.loads(unit.documents.payload(row.number)))
    assert (row.kind, row.variant_id, row.digest) == ("quote", "a", frozen.inputs_digest)
    assert frozen.quote.total == euro("1443.00")
    assert (frozen.trip, frozen.variant, frozen.rules) == (TRIP, "a", RULES)
    assert "guest" not in row.figures
    # A dearer house later changes the next quote and not the one that was issued.
    house = next(item for item in ITEMS if item.id == "lodging-weir")
    dearer = replace(cast(Any, house), version=2, rates=tuple(
        replace(rate, amount=rate.amount * 2) for rate in cast(Any, house).rates
    ))  # fmt: skip
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.library.add_version(dearer)
        unit.commit()
    data = told(project, capsys)
    assert data["issued"][0]["price"]["party"] == "1443.00"
    assert not data["issued"][0]["inputs_unchanged"]
    assert run(project) == 0
    assert "as document 1 at 1443.00 EUR; today" in capsys.readouterr().out


def test_a_clients_yes_is_noted_with_the_price_it_was_sold_for(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(project, "--accepted") == 0
    assert capsys.readouterr().out.endswith("at 1443.00 EUR; today the same.\n")
    accepted = stored(project).accepted
    assert accepted is not None
    assert (accepted.variant, accepted.revision, accepted.price, accepted.on) == (
        *("a", 1, euro("1443.00"), AS_OF),
    )
    assert quote(stored(project), VARIANT, CATALOGUE, RULES, AS_OF).total == accepted.price


def stored(project: Path) -> Trip:
    with open_project(project) as opened, opened.reading() as unit:
        trip, _ = unit.trips.load(TRIP.id)
    return trip


def test_an_issued_quote_is_read_again_as_it_was_and_may_be_said_yes_to(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert told(project, capsys, "--issue")["document"] == 1
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.settings.save(replace(RULES, markup_share=0.5))
        unit.commit()
    assert told(project, capsys)["price"]["party"] != "1443.00"
    data = told(project, capsys, "--document", "1")
    assert (data["price"]["party"], data["document"], data["terms"]["markup_share"]) == ("1443.00", 1, 0.25)
    file = tmp_path / "then.xlsx"
    assert run(project, "--document", "1", "--out", str(file), "--accepted") == 0
    assert capsys.readouterr().out.endswith("This is document 1, as it was issued.\n")
    shown = load_workbook(file, data_only=True)["Quote"]
    assert ("Total", 1443.0) in [(row[0].value, row[1].value) for row in shown.iter_rows()]
    accepted = stored(project).accepted
    assert accepted is not None
    assert accepted.price == euro("1443.00")
    with open_project(project) as opened, opened.reading() as unit:
        assert len(unit.documents.rows()) == 1
    assert run(project, "--document", "7") == 1
    assert "No quote of 'A' was issued as document 7." in capsys.readouterr().err


def test_without_a_party_guests_are_counted_and_the_price_is_from(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.trips.save(replace(TRIP, party=NOBODY), 1, "no party")
        unit.commit()
    data = told(project, capsys)
    assert [guest["name"] for guest in data["guests"]] == ["guest 1", "guest 2"]
    assert {tuple(line["guests"]) for line in data["lines"] if line["day"]} == {("guest 1", "guest 2")}
    assert data["price"]["from"] is True
    assert run(project, "--client") == 0
    assert "Together from €" in capsys.readouterr().out


def test_a_price_of_which_nothing_is_known_is_never_told_as_zero(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bare.lacet"
    with open_project(path, create=True) as opened, opened.unit_of_work() as unit:
        for item in ITEMS:
            if not isinstance(item, Tariff):
                unit.library.add_version(cast(Any, item))
        unit.settings.save(Region(currency="EUR"))
        unit.trips.save(TRIP, 0, "new trip")
        unit.commit()
    assert run(path) == 0
    out = capsys.readouterr().out
    assert "Nothing in it has a price." in out
    assert "0.00" not in out.partition("Nothing in it")[2]
    price = told(path, capsys)["price"]
    assert price["party"] is None
    assert price["per_person"] is None
