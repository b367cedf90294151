"""Route notes and card, read back as PDF: the assessment's figures, legs as travelled, names kept inside."""

import io
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from lacet.assess import assess
from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Drawn
from lacet.documents.pack.card import card, qr_code, write_card
from lacet.documents.pack.making import PreparedPack, prepare_pack
from lacet.documents.pack.papers import count, sheets, travelled
from lacet.documents.pack.route_notes import RouteNotes, route_notes, write_route_notes
from lacet.documents.texts import texts_of
from lacet.inputs import Inputs
from lacet.tracks.gpx_read import read_gpx
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Cue, Stage, StagePoint
from lacet.trip.trip import Alternative, Trip
from lacet.trip.words import Direction, PointKind, Reason
from lacet.wording import ENGLISH
from tests.small_library import day, small_catalogue, small_trip, walk

MADE_AT = datetime(2027, 1, 4, 9, tzinfo=UTC)
CLIMB = replace(
    small_catalogue().current(Stage)[0],
    points=(
        StagePoint(2_000.0, PointKind.WATER, "Spring", "Dry in August."),
        StagePoint(2_000.0, PointKind.FOOD, "Spring"),
        StagePoint(4_000.0, PointKind.HAZARD, "Loose stone", "Keep left."),
        StagePoint(8_000.0, PointKind.TAXI_PICKUP, "Gate"),
    ),
    cues=(Cue(0.0, Direction.OUT, "Leave the quay."), Cue(9_000.0, Direction.OUT, "Reach Birch.")),
)
NAME = "../../Zoë <b>*#"


def parted() -> Trip:
    """A way out, a way back cut short, a day on which two part, and a shorter way."""
    shorter = Alternative(id="a", reason=Reason.SHORTER, items=(walk("i9", cut_to_m=3_000.0),))
    back = walk("i2", backward=True, cut_from_m=1_000.0, cut_to_m=5_000.0)
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house", alternatives=(shorter,)),
        day("d2", back, lodging="birch-house"),
        day("d3", walk("i3", travellers=("t1",)), walk("i4", backward=True, travellers=("t2",))),
    )
    guests = tuple(replace(guest, name=NAME) for guest in trip.party.travellers)
    return replace(trip, party=replace(trip.party, travellers=guests))


@cache
def telling(tag: str = "en") -> Telling:
    inputs = Inputs(parted(), "v1", small_catalogue(CLIMB), HouseRules(), as_of=date(2027, 1, 4))
    return telling_of(inputs, assess(inputs), language(tag), revision=7, made_at=MADE_AT)


def notes(at: int, tag: str = "en") -> RouteNotes:
    each = list(travelled(telling(tag)))[at]
    found = route_notes(telling(tag), each.day, each.leg, each.travellers, instead=each.instead)
    assert found is not None
    return found


def read(pdf: bytes) -> tuple[str, PdfReader]:
    reader = PdfReader(io.BytesIO(pdf))
    return " ".join("\n".join(page.extract_text() for page in reader.pages).split()), reader


def figures(reader: PdfReader) -> list[Any]:
    """All figures of the document's structure."""
    found: list[Any] = []

    def walk_down(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for each in node:
                walk_down(each)
        elif hasattr(node, "get"):
            if node.get("/S") == "/Figure":
                found.append(node)
            if "/K" in node:
                walk_down(node["/K"])

    walk_down(reader.root_object["/StructTreeRoot"])
    return found


def test_notes_hold_the_figures_of_the_assessment() -> None:
    text, reader = read(write_route_notes(telling(), notes(0)))
    leg = telling().figures.days[0].groups[0].legs[0]
    for figure in (
        ENGLISH.length(leg.distance_m), ENGLISH.height(leg.ascent_m), ENGLISH.height(leg.highest_m),
        f"about {ENGLISH.duration(leg.moving_s)}", "Revision 7, 4 January 2027", "Emergency: 112",
    ):  # fmt: skip
        assert figure in text
    assert "Leave the quay." in text
    assert "derived" not in text
    alts = [each["/Alt"] for each in figures(reader)]
    assert len(alts) == 2
    assert alts[0].startswith("Map of the route: on foot from Alder to Birch, 9.0 km")
    assert alts[1].startswith("Height profile of the route: 9.0 km, 300 m ascent")


def test_points_stand_in_their_place_among_the_directions() -> None:
    rows = notes(0).rows
    assert [(row.at, row.kind, row.says) for row in rows if row.kind] == [
        ("2.0 km", "Water · Food", "Spring"),
        ("4.0 km", "Take care", "Loose stone"),
        ("8.0 km", "Taxi pick-up", "Gate"),
    ]
    assert [row.number for row in rows] == ["1", "", "", "", "2"]
    assert rows[0].next == "9.0 km"
    assert notes(0).care == ("4.0 km: Loose stone. Keep left.",)


def test_a_reversed_and_cut_leg_has_its_own_distances_and_derived_directions() -> None:
    each = list(travelled(telling()))[2]
    found = notes(2)
    assert each.leg.leg.backward
    assert [row.at for row in found.rows if row.kind] == ["1.0 km", "3.0 km"]
    assert all(row.derived for row in found.rows if row.number)
    assert "in this direction" in found.lacks
    text, _ = read(write_route_notes(telling(), found))
    assert "(derived)" in text
    assert "4.0 km" in text


def test_a_shorter_way_has_notes_of_its_own() -> None:
    found = notes(1)
    assert "A shorter alternative" in found.line
    assert found.figures[0].value == "3.0 km"


def test_notes_speak_the_languages_of_documents() -> None:
    found = notes(2, "de")
    assert found.heads[-1] == "Was zu tun ist"
    text, reader = read(write_route_notes(telling("de"), found))
    assert "(abgeleitet)" in text
    assert "9,0 km" in read(write_route_notes(telling("de"), notes(0, "de")))[0]
    assert str(reader.root_object["/Lang"]) == "de"


def test_the_card_tells_emergency_people_and_nights_with_codes() -> None:
    text, reader = read(write_card(telling()))
    assert "112" in text
    assert "Birch House" in text
    assert "8–10 May 2027" in text
    assert "pause for a minute" in text
    codes = card(telling()).codes
    assert len(figures(reader)) == len(codes)
    assert {each["/Alt"] for each in figures(reader)} == {each.alt for each in codes.values()}


def test_codes_hold_a_position_or_a_number_and_nothing_else(monkeypatch: pytest.MonkeyPatch) -> None:
    told = telling()
    office = replace(told.catalogue.office, rep_name=NAME, rep_telephone="+999 (555) 0101", telephone="0101")
    held: list[str] = []

    def kept(content: str, alt: str) -> Drawn:
        held.append(content)
        return qr_code(content, alt)

    monkeypatch.setattr("lacet.documents.pack.card.qr_code", kept)
    card(replace(told, catalogue=replace(told.catalogue, office=office)))
    # A number without the country's code rings somebody else abroad, so it has no code.
    assert held == ["tel:+9995550101", "geo:44.28099,-24.60000"]


def test_files_carry_days_legs_and_letters_and_never_a_name() -> None:
    found = pack()
    assert [name for name in sorted(found.files) if name.endswith(".pdf")] == [
        "00 card.pdf",
        "01 A shorter alternative Over the hill.pdf",
        "01 Alder to Birch.pdf",
        "02 Over the hill.pdf",
        "03.1 Alder to Birch (group A).pdf",
        "03.2 Birch to Alder (group B).pdf",
    ]
    assert not any("Zo" in name or "<" in name or "/" in name for name in found.files)
    assert {"calendar group A.ics", "calendar group B.ics", "calendar.ics"} <= found.files.keys()


def test_whose_notes_they_are_stands_inside() -> None:
    by_name = {sheet.name: sheet.content for sheet in sheets(telling())}
    text, _ = read(by_name["03.1 Alder to Birch (group A).pdf"])
    assert f"for {NAME}" in text


def test_what_the_library_lacks_is_told_with_the_pack() -> None:
    lacks = pack().lacks
    assert any("directions for 'Over the hill' in this direction" in each for each in lacks)


def test_what_matters_on_the_way_are_way_points_of_the_day() -> None:
    day_one = next(content for name, content in pack().files.items() if name == "01 Alder to Birch.gpx")
    told = [place.name for place in read_gpx(day_one, "1").waypoints]
    assert told == [
        "Water: Spring",
        "Food: Spring",
        "Take care: Loose stone",
        "Taxi pick-up: Gate",
        "Lodging: Birch House",
    ]


def test_a_pack_tells_how_far_it_is() -> None:
    steps: list[tuple[int, int]] = []
    pack(lambda made, whole: steps.append((made, whole)))
    assert steps == [(number, count(telling())) for number in range(1, count(telling()) + 1)]


def test_texts_are_all_looked_through_for_signs_no_font_has() -> None:
    assert {"Leave the quay.", "Spring", "Dry in August."} <= set(texts_of(notes(0)))


def pack(progress: Any = None) -> PreparedPack:
    return prepare_pack(telling(), progress=progress)
