"""Variants side by side as a page and a workbook: the same figures, safe texts, margins for the office."""

import io
import json
import re
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, cast
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from lacet.assess import assess
from lacet.cli import main
from lacet.compare import Comparison, Side, compare
from lacet.compare.saying import value_text
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.documents.side_by_side.gather import gather
from lacet.documents.side_by_side.making import UnknownForm, comparison_file
from lacet.inputs import Inputs
from lacet.store import open_project
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.printable import clean
from lacet.trip.trip import Day, Pricing, Trip
from tests.documents.workbook.recomputed import differences, rows, stored
from tests.small_library import small_trip, write_small_project

AS_OF = date(2026, 11, 25)
MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)


@cache
def library() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), demo_tracks(), region, office)


def coast() -> Trip:
    return next(each for each in demo_trips() if each.id == "coast-to-crater")


def compared(trip: Trip, base: int = 0) -> Comparison:
    sides = [
        Side(each, assess(Inputs(trip, each.id, library(), HouseRules(), as_of=AS_OF)))
        for each in trip.variants
    ]
    return compare(sides, library(), base)


def made(found: Comparison, trip: Trip, ending: str, *, for_client: bool = False) -> bytes:
    return comparison_file(found, trip, library(), ending, made_at=MADE_AT, for_client=for_client)


def page(trip: Trip, *, for_client: bool = False) -> str:
    return made(compared(trip), trip, ".html", for_client=for_client).decode()


def workbook(trip: Trip, *, for_client: bool = False) -> bytes:
    return made(compared(trip), trip, ".xlsx", for_client=for_client)


class _Tables(HTMLParser):
    """Cells of all tables as texts, and every tag with its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.tables: list[list[list[str]]] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag == "table":
            self.tables.append([])
        elif tag == "tr":
            self.tables[-1].append([])
        elif tag in ("td", "th"):
            self.tables[-1][-1].append("")
            self.open = True

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th"):
            self.open = False

    def handle_data(self, data: str) -> None:
        if self.open:
            self.tables[-1][-1][-1] = f"{self.tables[-1][-1][-1]} {data}".strip()


def read(text: str) -> _Tables:
    found = _Tables()
    found.feed(text)
    return found


def test_the_page_shows_the_figures_of_the_comparison_and_says_better_and_worse_in_words() -> None:
    found, (figures, _) = compared(coast()), read(page(coast())).tables
    for row, told in zip(found.rows, figures[1:], strict=True):
        assert told[0] == row.name
        for index in range(3):
            assert value_text(row, index) in told[1 + index]
    climb = next(row for row in figures if row[0] == "Climb")
    assert " ".join(climb[3].split()) == "1760 m −550 m ▽ better"
    price = next(row for row in figures if row[0] == "Price per person")
    assert " ".join(price[2].split()) == "€737.00 −€350.00 ▽ better"


def test_a_sentence_of_a_day_tells_way_length_time_climb_and_price() -> None:
    told = [each.says for each in compared(coast()).differences if each.variant == "Seven days, on foot"]
    assert (
        "on foot, Rising ridge to Hollowmere instead of by e-bike, The hairpin lane: "
        "4.7 km less, 5 h 40 more, 150 m more climb, €23.43 per person less"
    ) in told


def test_each_day_stands_beside_the_days_it_was_lined_up_with() -> None:
    found, (_, days) = compared(coast()), read(page(coast())).tables
    assert len(days) - 1 == len(found.lined_up)
    for row, cells in zip(found.lined_up, days[1:], strict=True):
        for day, cell in zip(row, cells, strict=True):
            assert cell.startswith("no day here" if day is None else f"Day {day + 1} ")
    told = [each.says for each in found.differences]
    text = " ".join(" ".join(cell.split()) for row in days for cell in row)
    assert [says for says in told if says not in text and "in all" not in says] == [
        each.says for each in found.differences if each.day is None
    ]


def test_the_page_is_whole_and_its_tables_have_heads() -> None:
    text = page(coast())
    found = read(text)
    sources = [attributes.get("src") or "" for tag, attributes in found.tags if tag == "img"]
    assert all(source.startswith("data:image/svg+xml;base64,") for source in sources)
    assert not [tag for tag, _ in found.tags if tag in ("script", "link", "iframe", "object")]
    assert all(attributes.get("alt") for tag, attributes in found.tags if tag == "img")
    assert all(attributes.get("scope") in ("col", "row") for tag, attributes in found.tags if tag == "th")
    assert ("html", {"lang": "en"}) in found.tags
    ids = [attributes["id"] for _, attributes in found.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    labels = {
        attributes["aria-labelledby"] for _, attributes in found.tags if "aria-labelledby" in attributes
    }
    assert labels <= set(ids)
    assert not re.search(r"https?://", text)


def test_profiles_stand_over_one_another_each_with_its_letter_and_width() -> None:
    told = gather(compared(coast()), coast(), library(), for_client=False)
    drawing = ElementTree.fromstring(told.profile.svg)
    paths = [each for each in drawing if each.tag.endswith("path") and each.get("stroke-linejoin")]
    assert len({each.get("stroke-width") for each in paths}) == 3
    assert not [each for each in paths if each.get("stroke-dasharray")]
    texts = [each.text for each in drawing if each.tag.endswith("text")]
    assert [each for each in texts if each in ("A", "B", "C")] == ["A", "B", "C"]
    assert told.profile.alt == "Height profiles over one another: A 93 km; B 69 km; C 65 km"


def test_routes_lie_within_one_another_on_one_map_each_with_its_letter() -> None:
    told = gather(compared(coast()), coast(), library(), for_client=False)
    assert told.map is not None
    drawing = ElementTree.fromstring(told.map.svg)
    # Names have rims of their own, so only paths count.
    routes = [each for each in drawing if each.get("stroke-linecap") and each.get("stroke-linejoin")]
    assert [float(each.get("stroke-width", "0")) for each in routes] == [2.6, 1.9, 1.3, 0.75, 0.5]
    texts = [each.text for each in drawing.iter() if each.tag.endswith("text")]
    assert {"A", "B", "C", "Port Verrin", "Hollowmere"} <= set(texts)
    assert told.map.alt == "Routes of A, B, C on one map"


def test_variants_without_a_leg_have_no_map_and_an_empty_profile() -> None:
    trip = coast()
    resting = tuple(replace(each, days=(Day(id="d1"), Day(id="d2"))) for each in trip.variants[:2])
    still = replace(trip, variants=resting)
    told = gather(compared(still), still, library(), for_client=True)
    assert told.map is None
    for ending in (".html", ".xlsx", ".pdf"):
        assert made(compared(still), still, ending)


def test_a_clients_copy_holds_no_margin() -> None:
    margins = {side.assessment.quote.margin for side in compared(coast()).sides}
    for for_client in (True, False):
        text = page(coast(), for_client=for_client).partition("</style>")[2]
        (figures, _) = read(text).tables
        sheets = [rows(workbook(coast(), for_client=for_client), name) for name in ("Figures", "Day by day")]
        for told in (figures, *sheets):
            says = " ".join(str(cell) for row in told for cell in row)
            wanted = not for_client and told is not sheets[1]
            assert ("Margin" in says) is wanted
            assert any(re.search(rf"\b{margin.amount:.0f}\b", says) for margin in margins) is wanted
        assert ("Office copy" in text) is not for_client
        assert ("Office copy" in str(sheets[0])) is not for_client


def test_the_pdf_is_tagged_and_says_what_the_page_says() -> None:
    for for_client in (False, True):
        content = made(compared(coast()), coast(), ".pdf", for_client=for_client)
        document = PdfReader(io.BytesIO(content))
        catalog = cast(Any, document.trailer["/Root"])
        assert catalog["/MarkInfo"]["/Marked"]
        assert str(catalog["/Lang"]).startswith("en")
        text = " ".join(" ".join(leaf.extract_text() for leaf in document.pages).split())
        for says in ("−€350.00 ▽ better", "A Nine days, mixed", "no day here", "€350.00 per person less"):
            assert says in text
        assert ("Margin €872.00" in text) is not for_client
        assert ("Office copy" in text) is not for_client


def test_differences_in_the_workbook_are_formulas_that_come_to_the_comparison(tmp_path: Path) -> None:
    for base in (0, 1):
        found = compared(coast(), base)
        content = made(found, coast(), ".xlsx")
        assert differences(content, tmp_path) == []
        kept = stored(content)
        assert len(kept) == 2 * len(found.rows)
    shown = {row[0]: row for row in rows(content, "Figures")}
    assert shown["Climb"][5:9] == [pytest.approx(shown["Climb"][2] - shown["Climb"][3]), *shown["Climb"][6:9]]
    assert shown["Climb"][7:9] == ["better", "better"]
    assert shown["Moving time"][1] == "h"
    assert shown["Moving time"][3] == pytest.approx(29.2, abs=0.1)
    sentences = [row[3] for row in rows(content, "Differences")[1:]]
    assert sentences == [each.says for each in found.differences]


def test_prices_in_two_currencies_have_no_difference(tmp_path: Path) -> None:
    trip = coast()
    rules = HouseRules()
    foreign = replace(trip.variants[1], pricing=Pricing(currency="GBP"))
    trip = replace(trip, variants=(trip.variants[0], foreign))
    sides = [
        Side(each, assess(Inputs(trip, each.id, library(), rules, as_of=AS_OF))) for each in trip.variants
    ]
    found = compare(sides, library())
    price = next(row for row in found.rows if row.name == "Price per person")
    assert price.difference(1, 0) is None
    content = made(found, trip, ".xlsx")
    assert differences(content, tmp_path) == []
    shown = {row[0]: row for row in rows(content, "Figures")}
    assert shown["Price per person"][1:2] + shown["Price per person"][4:5] == ["EUR/GBP", "another currency"]
    assert "price" not in {each.kind for each in found.differences}


SIGNS = ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1"]
MARKUP = ["<script>alert(1)</script>", "{{ 7*7 }}", '"><img src=x>']


@pytest.mark.parametrize("says", SIGNS + MARKUP)
def test_texts_stay_texts_in_every_form(says: str) -> None:
    trip = replace(coast(), name=says, variants=tuple(replace(each, name=says) for each in coast().variants))
    found = read(page(trip))
    assert [tag for tag, _ in found.tags if tag in ("script",)] == []
    assert len([tag for tag, _ in found.tags if tag == "img"]) == 2
    assert " ".join(found.tables[0][0][1].split()).startswith(" ".join(f"A {says}".split()))
    book = load_workbook(io.BytesIO(workbook(trip)))
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    named = [cell for cell in cells if isinstance(cell.value, str) and clean(says) in cell.value]
    assert len(named) > 3
    assert {cell.data_type for cell in named} == {"s"}


def test_no_text_makes_the_pdf_fail() -> None:
    says = "#panic() $x$ *_` \\ {{ }} <b> =1 \r\n \u202e \x00"
    trip = replace(coast(), name=says, variants=tuple(replace(each, name=says) for each in coast().variants))
    document = PdfReader(io.BytesIO(made(compared(trip), trip, ".pdf")))
    assert "#panic() $x$ *_` \\ {{ }} <b> =1" in document.pages[0].extract_text()


def run(tmp_path: Path, *options: str) -> int:
    project = tmp_path / "small.lacet"
    if not project.exists():
        write_small_project(project)
        assert main(["quote", str(project), "1", "A"]) == 0
    return main(["compare", str(project), "1", "A", "A", *options])


def test_the_command_writes_by_the_names_ending_and_refuses_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for ending, begins in ((".html", b"<!DOCTYPE html>"), (".xlsx", b"PK"), (".pdf", b"%PDF-")):
        assert run(tmp_path, "--out", str(tmp_path / f"two{ending}")) == 0
        assert (tmp_path / f"two{ending}").read_bytes().startswith(begins)
    assert run(tmp_path, "--out", str(tmp_path / "two.doc")) == 1
    assert "must end in" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["", "   ", "\ue000\x07"])
def test_a_trip_whose_name_holds_nothing_to_print_still_has_its_pdf(name: str) -> None:
    trip = replace(coast(), name=name)
    title = PdfReader(io.BytesIO(made(compared(trip), trip, ".pdf"))).pages[0].extract_text()
    assert "–" in title


def test_the_ending_is_taken_in_any_case_and_another_is_refused() -> None:
    assert made(compared(coast()), coast(), ".XLSX").startswith(b"PK")
    with pytest.raises(UnknownForm, match=r"not as '\.odt'"):
        made(compared(coast()), coast(), ".odt")


def test_a_base_that_is_not_compared_is_refused_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "small.lacet"
    write_small_project(project)
    with open_project(project) as opened, opened.unit_of_work() as unit:
        trip, revision = unit.trips.load("trip")
        trip = edits.copy_variant(edits.copy_variant(trip, "v1", "Second"), "v1", "Third")
        unit.trips.save(trip, revision, "copied")
        unit.commit()
    assert main(["compare", str(project), "1", "A", "B", "--base", "Third"]) == 1
    assert "'Third' can't be the base" in capsys.readouterr().err
    assert main(["compare", str(project), "1", "A", "C", "--base", "Third", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["base"] == "Third"


def test_the_json_has_exactly_its_keys(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path, "--as-of", "2026-11-25") == 0
    capsys.readouterr()
    assert run(tmp_path, "--json") == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert list(told) == ["base", "variants", "differences"]
    assert [list(each) for each in told["variants"]] == [["name", "totals", "price"]] * 2
    assert list(told["variants"][0]["price"]) == ["per_person", "party", "currency", "from"]


def test_a_trip_is_told_beside_its_standard_and_refused_in_words_without_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "--standard") == 1
    assert "was not begun from a standard trip" in capsys.readouterr().err
    project = tmp_path / "small.lacet"
    standard = edits.as_standard(small_trip(), "v1", "std", "Small standard")
    begun = edits.trip_from_standard(standard, "t9", "For the Hollins", small_trip().party)
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.trips.save(standard, 0, "new standard trip")
        unit.trips.save(edits.remove_day(begun, "v1", "d2"), 0, "new trip")
        unit.commit()
    out = tmp_path / "standard.html"
    assert main(["compare", str(project), "t9", "A", "--standard", "--out", str(out), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["base"].endswith("(standard)")
    assert [each["kind"] for each in told["differences"]].count("dropped") == 1
    assert "base" in read(out.read_text(encoding="utf-8")).tables[0][0][1]
