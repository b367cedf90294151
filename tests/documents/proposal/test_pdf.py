"""The proposal on paper, read back: figures, structure, hostile texts, and pages that hold something."""

import io
import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from lacet.documents.material.values import Shown
from lacet.documents.proposal.pdf import lost_signs, paper_drawings, write_pdf
from lacet.documents.typeset import OURS, Paper
from tests.documents.material.island import MADE_AT, hostile, made, proposal, told_from, trips

# A grey pixel as PNG.
PIXEL = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGNoaGgAAAMEAYFL09IQAAAAAElFTkSuQmCC"
# Running feet alone are about this long: a page with no more holds nothing.
FOOT_SIGNS = 260


@cache
def set_of(trip: int = 0, variant: int = 0, tag: str = "en", paper: Paper = Paper.A4) -> bytes:
    drawings = paper_drawings(told_from(trip, variant, tag), paper=paper)
    return write_pdf(proposal(trip, variant, tag), MADE_AT, paper, drawings=drawings)


def pages(pdf: bytes) -> list[str]:
    return list(_pages(pdf))


@cache
def _pages(pdf: bytes) -> tuple[str, ...]:
    return tuple(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages)


def nodes(pdf: bytes, kind: str) -> list[Any]:
    """All nodes of one kind in the document's structure."""
    found: list[Any] = []

    def down(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for each in node:
                down(each)
        elif hasattr(node, "get"):
            if node.get("/S") == kind:
                found.append(node)
            if "/K" in node:
                down(node["/K"])

    root: Any = PdfReader(io.BytesIO(pdf)).root_object
    down(root["/StructTreeRoot"])
    return found


def without_hyphens(text: str) -> str:
    """Words parted at the end of a line are one again."""
    return re.sub(r"[\u00ad\u2010-] ?", "-", text).replace("\u200b", "").replace("\u00a0", " ")


def test_every_figure_of_the_material_stands_on_paper() -> None:
    material, text = proposal(), without_hyphens(" ".join(pages(set_of())))
    wanted = [fact.value for day in material.days for way in day.ways for fact in way.facts]
    wanted += [each for row in material.glance.rows for each in (row.distance, row.ascent, row.time)]
    wanted += [material.price.total, *(fact.value for fact in material.price.payments)]
    for figure in wanted:
        assert without_hyphens(figure) in text


def test_every_page_carries_revision_and_estimate_and_holds_something() -> None:
    told = pages(set_of())
    for text in told:
        assert "Revision 3, 25 November 2026" in text
        assert "Emergency: 112" in text
        assert len(text) > FOOT_SIGNS
    assert len(told) <= 2 * len(proposal().days)


@pytest.mark.parametrize("trip", range(len(trips())))
def test_all_trips_of_the_demo_are_set_on_one_paper_or_the_other(trip: int) -> None:
    paper = list(Paper)[trip % 2]
    told = pages(set_of(trip, paper=paper))
    assert min(map(len, told)) > FOOT_SIGNS
    for day in proposal(trip).days:
        assert any(day.label in text for text in told)


def test_it_is_tagged_and_every_picture_has_words() -> None:
    pdf = set_of()
    reader = PdfReader(io.BytesIO(pdf))
    root: Any = reader.root_object
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()
    assert reader.metadata is not None
    assert reader.metadata.title == proposal().title
    figures = nodes(pdf, "/Figure")
    assert len(figures) >= 2 * sum(1 for day in proposal().days for way in day.ways if way.facts)
    assert all(str(each["/Alt"]).strip() for each in figures)
    assert len(nodes(pdf, "/TH")) >= len(proposal().glance.heads)


def test_days_of_the_table_lead_to_their_pages() -> None:
    assert len(nodes(set_of(), "/Link")) == len(proposal().days)


def test_a_draft_says_so_on_every_page() -> None:
    trip = trips()[0]
    material = made(trip, trip.variants[0], draft=True)
    for text in pages(write_pdf(material, MADE_AT)):
        assert material.draft in text


def test_german_is_set_as_german() -> None:
    pdf = set_of(tag="de")
    assert str(PdfReader(io.BytesIO(pdf)).root_object["/Lang"]) == "de"
    text = " ".join(pages(pdf))
    assert "23,5 km" in text
    assert "Price" not in text


@pytest.mark.parametrize(
    "text",
    [
        '#panic("x") *b* _i_ $m$ @r <l> #read("/etc/passwd") // /* */ ``` \\',
        "</script><b>&amp;",
        "\x00\x07\x1b\ufeff\u202e\ufffe",
        "Ελλάδα Привет 日本語 مرحبا 한국어",
        "😀" * 20,
        "x" * 5000,
        "many words " * 460,
        "line\n" * 300,
    ],
)
def test_hostile_texts_come_out_as_text(text: str) -> None:
    material = made(*hostile(text))
    reader = PdfReader(io.BytesIO(write_pdf(material, MADE_AT, drawings={})))
    # Reading all pages of five thousand signs takes longer than setting them.
    first, last = (" ".join(reader.pages[at].extract_text().split()) for at in (0, -1))
    assert "Revision 3" in last
    if text.isascii() and text.isprintable() and len(text) < 100:
        assert text in first.replace("\u200b", "")


def test_nothing_of_a_net_price_is_on_paper() -> None:
    text = " ".join(pages(set_of())).casefold()
    for word in ("margin", "mark-up", "markup", "net price", "commission"):
        assert word not in text


def test_an_undated_trip_is_set() -> None:
    trip = next(each for each in trips() if each.start is None)
    assert "dates to be confirmed" in " ".join(pages(set_of(trips().index(trip))))


def test_a_long_trip_is_set_without_an_empty_page() -> None:
    trip = trips()[2]
    variant = trip.variants[0]
    more = tuple(replace(day, id=f"{day.id}-again") for day in variant.days)
    longer = replace(variant, days=variant.days + more)
    told = pages(write_pdf(made(replace(trip, variants=(longer,)), longer), MADE_AT, drawings={}))
    assert len(longer.days) == 16
    assert min(map(len, told)) > FOOT_SIGNS


def test_photographs_have_their_words_and_their_owner() -> None:
    shown = Shown(payload=PIXEL, media_type="image/png", alt="A grey lane", credit="Photograph: Nobody")
    material = proposal()
    first = material.days[0]
    bed = replace(first.beds[0], picture_key="p")
    pictured = replace(
        material, days=(replace(first, beds=(bed,)), *material.days[1:]), pictures={"p": shown}
    )
    pdf = write_pdf(pictured, MADE_AT)
    assert "A grey lane" in {str(each["/Alt"]) for each in nodes(pdf, "/Figure")}
    assert "Photograph: Nobody" in " ".join(pages(pdf))


def test_equal_material_gives_equal_bytes() -> None:
    assert write_pdf(proposal(), MADE_AT) == write_pdf(proposal(), MADE_AT)


def test_signs_no_font_has_are_told_before() -> None:
    material = made(*hostile("Smile 😀"))
    assert any("😀" in each for each in lost_signs(material))
    assert lost_signs(proposal()) == ()


def test_an_offices_name_and_logo_stand_in_place_of_the_projects() -> None:
    logo = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0L9 9"/></svg>'
    theme = replace(OURS, name="Quiet Lanes", logo=logo, logo_format="svg")
    pdf = write_pdf(proposal(), MADE_AT, theme=theme, drawings={})
    assert "Quiet Lanes" in pages(pdf)[0]
    assert [str(each["/Alt"]) for each in nodes(pdf, "/Figure")] == ["Quiet Lanes"]
