"""GPX as it is met: old and new, in any encoding, with faults that are forgiven."""

from __future__ import annotations

from pathlib import Path

import gpxpy
import numpy as np
import pytest

from lacet.tracks.geodesy import length_m
from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.problem import GpxRefused, ReadingStopped
from lacet.tracks.profile import profile
from tests.tracks.lines import CLIMB_LENGTH_M, CLIMB_POINTS, gpx, refusal, trk, warnings

CLIMB = gpx(trk(CLIMB_POINTS, "Forêt – Überschreitung"))


def notes(file: GpxFile) -> str:
    return " | ".join(problem.says for problem in file.problems if problem.weight == "note")


def assert_is_the_climb(file: GpxFile, name: str = "Forêt – Überschreitung") -> None:
    (line,) = file.lines
    assert line.name == name
    assert len(line.track) == 11
    assert length_m(line.track) == pytest.approx(CLIMB_LENGTH_M, abs=1e-3)
    assert profile(line.track).ascent_m == pytest.approx(100.0, abs=1e-6)
    assert warnings(file) == ""


def test_a_plain_file_is_read_whole() -> None:
    file = read_gpx(CLIMB, "climb.gpx")
    assert_is_the_climb(file)
    (line,) = file.lines
    assert line.kind == "track"
    assert line.times is not None
    assert line.times[0] == 1_717_228_800.0  # 2024-06-01T08:00:00Z
    assert np.all(np.diff(line.times) == 60.0)
    assert file.waypoints == ()


def test_gpxpy_reads_the_same_columns() -> None:
    line = read_gpx(CLIMB).lines[0]
    points = gpxpy.parse(CLIMB).tracks[0].segments[0].points
    assert line.track.latitude_deg.tolist() == [point.latitude for point in points]
    assert line.track.longitude_deg.tolist() == [point.longitude for point in points]
    assert line.track.height_m.tolist() == [point.elevation for point in points]


def test_a_file_on_disk_is_named_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "ridge.gpx"
    path.write_bytes(CLIMB)
    assert_is_the_climb(read_gpx(path))
    path.write_bytes(b"")
    with pytest.raises(GpxRefused, match=r"^ridge\.gpx: the file is empty\.$"):
        read_gpx(path)
    with pytest.raises(GpxRefused, match=r"^nowhere\.gpx: there is no such file"):
        read_gpx(tmp_path / "nowhere.gpx")
    with pytest.raises(GpxRefused, match="this is a folder, not a file"):
        read_gpx(tmp_path)


@pytest.mark.parametrize(
    ("declared", "codec"),
    [
        ("UTF-8", "utf-8"),
        ("utf-8", "utf-8-sig"),
        ("ISO-8859-15", "iso-8859-15"),
        ("windows-1252", "cp1252"),
        ("UTF-16", "utf-16"),
        ("UTF-16", "utf-16-le"),
        ("UTF-16BE", "utf-16-be"),
        ("UTF-32", "utf-32"),
        ("Big5", "big5"),
        # A declaration some programs write into UTF-8 files.
        ("UTF-16", "utf-8"),
        ("US-ASCII", "utf-8"),
    ],
)
def test_any_encoding_gives_the_same_figures(declared: str, codec: str) -> None:
    name = "山路" if codec == "big5" else "Forêt Überschreitung"
    head = f'<?xml version="1.0" encoding="{declared}"?>\n'
    document = gpx(trk(CLIMB_POINTS, name), head=head).decode()
    assert_is_the_climb(read_gpx(document.encode(codec)), name)


def test_latin_letters_in_a_file_that_says_utf_8_are_read_with_a_warning() -> None:
    file = read_gpx(CLIMB.decode().replace("–", "-").encode("latin-1"))
    assert file.lines[0].name == "Forêt - Überschreitung"
    assert "isn't the UTF-8" in warnings(file)


@pytest.mark.parametrize("line_end", [b"\r", b"\r\n"])
def test_any_line_end_is_one(line_end: bytes) -> None:
    assert_is_the_climb(read_gpx(CLIMB.replace(b"\n", line_end)))


def test_without_a_declaration_a_namespace_or_attributes() -> None:
    assert_is_the_climb(read_gpx(f"<gpx>{trk(CLIMB_POINTS)}</gpx>".encode()), "Ridge")


def test_blanks_before_the_declaration_are_forgiven() -> None:
    assert_is_the_climb(read_gpx(b"\n  \n" + CLIMB))


def test_the_line_is_right_after_forgiven_blanks() -> None:
    assert refusal(b"\n  \n" + gpx("<trk></rte>")).line_number == 5


def test_xml_1_1_is_read_as_1_0() -> None:
    assert_is_the_climb(read_gpx(CLIMB.replace(b'"1.0"', b'"1.1"', 1)))


def test_gpx_1_0_is_read() -> None:
    root = 'xmlns="http://www.topografix.com/GPX/1/0"'
    document = gpx(trk(CLIMB_POINTS), root=root).replace(b'version="1.1" c', b'version="1.0" c')
    assert_is_the_climb(read_gpx(document), "Ridge")


def test_an_unknown_version_is_read_and_told() -> None:
    file = read_gpx(CLIMB.replace(b'version="1.1" c', b'version="2.0" c'))
    assert len(file.lines[0].track) == 11
    assert "version '2.0' isn't known" in warnings(file)


def test_prefixed_elements_are_the_same_elements() -> None:
    body = (
        trk(CLIMB_POINTS)
        .replace("</", "</g:")
        .replace("<t", "<g:t")
        .replace("<n", "<g:n")
        .replace("<e", "<g:e")
    )
    document = f'<g:gpx xmlns:g="http://www.topografix.com/GPX/1/1" version="1.1">{body}</g:gpx>'
    assert_is_the_climb(read_gpx(document.encode()), "Ridge")


def test_elements_of_other_namespaces_are_left_out_and_told() -> None:
    foreign = '<e:trk xmlns:e="urn:evil"><e:trkseg><e:trkpt lat="1" lon="1"/></e:trkseg></e:trk>'
    file = read_gpx(gpx(foreign + trk(CLIMB_POINTS)))
    assert_is_the_climb(file, "Ridge")
    assert "another namespace" in notes(file)


def test_points_within_extensions_and_unknown_elements_are_no_points() -> None:
    hidden = '<trkseg><trkpt lat="1" lon="1"/></trkseg>'
    inside = f"<extensions><ele>9</ele>{hidden}</extensions>"
    points = CLIMB_POINTS.replace("</ele>", f"</ele>{inside}")
    body = f"<foo>{hidden}</foo>" + trk(points).replace("<trkseg>", f"<bar>{hidden}</bar><trkseg>", 1)
    assert_is_the_climb(read_gpx(gpx(body)), "Ridge")


def test_an_undeclared_prefix_is_read_with_a_warning() -> None:
    points = CLIMB_POINTS.replace("</ele>", "</ele><extensions><hr:bpm>88</hr:bpm></extensions>")
    file = read_gpx(gpx(trk(points)))
    assert len(file.lines[0].track) == 11
    assert "prefix that is declared nowhere" in warnings(file)
    assert file.problems[0].line_number == 4


def test_comments_sections_and_instructions_inside_texts() -> None:
    body = trk(CLIMB_POINTS, "<![CDATA[Up & over]]> <!-- x -->the &lt;ridge&gt;<?php no?>")
    assert_is_the_climb(read_gpx(gpx(body)), "Up & over the <ridge>")


def test_routes_and_waypoints() -> None:
    body = (
        '<wpt lat="44.2" lon="-24.6"><ele>12.5</ele><name> Spring </name><desc>cold\n and clear</desc>'
        "<sym>Water</sym><type>spring</type></wpt>"
        '<wpt lat="95" lon="0"><name>bad</name></wpt><wpt lon="180" lat="1"/>'
        '<rte><name>R</name><cmt>by bike</cmt><rtept lat="1" lon="2"/>'
        '<rtept lat="1.001" lon="2"><ele>7</ele></rtept></rte>'
    )
    file = read_gpx(gpx(body))
    spring, nameless = file.waypoints
    assert (spring.name, spring.description, spring.symbol, spring.kind) == (
        "Spring",
        "cold\nand clear",
        "Water",
        "spring",
    )
    assert spring.height_m == 12.5
    assert (nameless.longitude_deg, nameless.height_m, nameless.name) == (-180.0, None, "")
    (route,) = file.lines
    assert (route.kind, route.name, route.description, route.times) == ("route", "R", "by bike", None)
    assert "Waypoints: 1 point dropped, latitude outside -90..90 ('95')" in warnings(file)


def test_segments_and_gaps_are_kept_and_told() -> None:
    points = CLIMB_POINTS.split("\n")
    body = trk("\n".join([*points[:5], "</trkseg><trkseg>", "</trkseg><trkseg>", *points[5:]]))
    file = read_gpx(gpx(body))
    (line,) = file.lines
    assert line.track.segment_start.tolist() == [0, 5]
    assert length_m(line.track) == pytest.approx(CLIMB_LENGTH_M * 0.9, rel=1e-3)
    assert "1 gap between segments, 118 m in all" in notes(file)


def test_a_route_beside_the_same_track_is_told() -> None:
    thin = "".join(point.replace("trkpt", "rtept") for point in CLIMB_POINTS.split("\n")[::5])
    file = read_gpx(gpx(f"<rte><name>R</name>{thin}</rte>{trk(CLIMB_POINTS)}"))
    assert "describe the same way" in notes(file)


TWO_GOOD = (
    '<trkpt lat="46.5" lon="11.3"><ele>1</ele></trkpt><trkpt lat="46.501" lon="11.3"><ele>2</ele></trkpt>'
)


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        ('<trkpt lat="91" lon="11"/>', "1 point dropped, latitude outside -90..90 ('91')"),
        ('<trkpt lat="46" lon="181"/><trkpt lat="46" lon="540"/>', "2 points dropped, longitude outside"),
        (
            '<trkpt lat="NaN" lon="1"/><trkpt lat="1" lon="inf"/>',
            "2 points dropped, the position is not a number",
        ),
        ('<trkpt lat="1e400" lon="1"/>', "1 point dropped, the position is not a number"),
        ('<trkpt lat="4_6.5" lon="1_1.3"/>', "the position is not a number ('4_6.5, 1_1.3')"),
        ('<trkpt lat="46,5" lon="11,3"/>', "the position is not a number ('46,5, 11,3')"),
        ('<trkpt lat="0x10" lon="1"/>', "the position is not a number"),
        ('<trkpt lat="46"/><trkpt/><trkpt lon="3" lat=""/>', "3 points dropped, without a position"),
    ],
)
def test_single_bad_points_are_dropped_and_told_with_their_line(bad: str, says: str) -> None:
    file = read_gpx(gpx(trk(f"{TWO_GOOD}\n{bad}")))
    assert len(file.lines[0].track) == 2
    assert says in warnings(file)
    assert file.problems[0].line_number == 5


def test_dropped_points_do_not_shift_segments() -> None:
    bad = '<trkpt lat="99" lon="1"/>'
    body = trk(f"{bad}{TWO_GOOD}{bad}</trkseg><trkseg>{bad}{TWO_GOOD}</trkseg><trkseg>{bad}")
    line = read_gpx(gpx(body)).lines[0]
    assert line.track.segment_start.tolist() == [0, 2]
    assert len(line.track) == 4


def test_numbers_with_blanks_signs_and_exponents_are_read() -> None:
    body = (
        '<trkpt lat=" 46.5 " lon="+11.3"><ele> 1.0E3\n</ele></trkpt>'
        '<trkpt lat="465e-1" lon=".5"><ele>5.</ele></trkpt>'
    )
    line = read_gpx(gpx(trk(body))).lines[0]
    assert line.track.latitude_deg.tolist() == [46.5, 46.5]
    assert line.track.longitude_deg.tolist() == [11.3, 0.5]
    assert line.track.height_m.tolist() == [1000.0, 5.0]


def test_digits_of_other_scripts_are_read_and_told() -> None:
    body = '<trkpt lat="４６.５" lon="１１.３"/><trkpt lat="٤٦٫٦" lon="١١.٣"/>'  # noqa: RUF001 - that is the test
    file = read_gpx(gpx(trk(body)))
    assert file.lines[0].track.latitude_deg.tolist() == [46.5, 46.6]
    assert "not written in the digits 0 to 9" in warnings(file)


@pytest.mark.parametrize("void", ["-9999", "-32768", "65535", "1e6", "-20000"])
def test_void_elevations_are_missing(void: str) -> None:
    points = CLIMB_POINTS.replace("<ele>1050</ele>", f"<ele>{void}</ele>")
    file = read_gpx(gpx(trk(points)))
    assert np.isnan(file.lines[0].track.height_m[5])
    assert profile(file.lines[0].track).ascent_m == pytest.approx(100.0, abs=1e-6)
    assert "impossible on land" in warnings(file)


def test_elevations_that_are_all_zero_are_missing() -> None:
    file = read_gpx(
        gpx(trk('<trkpt lat="1" lon="1"><ele>0</ele></trkpt><trkpt lat="1.1" lon="1"><ele>0.0</ele></trkpt>'))
    )
    assert np.isnan(file.lines[0].track.height_m).all()
    assert "every elevation is 0" in warnings(file)


def test_below_sea_level_is_possible() -> None:
    body = (
        '<trkpt lat="31.5" lon="35.5"><ele>-430</ele></trkpt>'
        '<trkpt lat="31.51" lon="35.5"><ele>-380</ele></trkpt>'
    )
    file = read_gpx(gpx(trk(body)))
    assert file.lines[0].track.height_m.tolist() == [-430.0, -380.0]
    assert warnings(file) == ""


def test_an_elevation_that_is_no_number_is_unknown_and_told() -> None:
    file = read_gpx(gpx(trk(CLIMB_POINTS.replace("<ele>1050<", "<ele>high<"))))
    assert "1 elevation could not be read as a number ('high')" in warnings(file)
    assert "1 point without elevation" in notes(file)


@pytest.mark.parametrize(
    ("written", "seconds"),
    [
        ("2024-06-01T08:00:00", 1_717_228_800.0),
        ("2024-06-01T10:00:00+02:00", 1_717_228_800.0),
        ("2024-06-01T04:30:00-0330", 1_717_228_800.0),
        ("2024-06-01T08:00:00.250Z", 1_717_228_800.25),
        ("2024-06-01T08:00:60Z", 1_717_228_860.0),
        (" 2024-06-01 08:00:00Z\n", 1_717_228_800.0),
    ],
)
def test_times_in_every_notation(written: str, seconds: float) -> None:
    line = read_gpx(gpx(trk(f'<trkpt lat="1" lon="1"><time>{written}</time></trkpt>'))).lines[0]
    assert line.times is not None
    assert line.times[0] == pytest.approx(seconds, abs=1e-6)


@pytest.mark.parametrize(
    "written", ["yesterday", "2024-13-01T00:00:00Z", "2023-02-29T00:00:00Z", "2024-06-01T25:00:00Z"]
)
def test_what_is_no_time_is_told(written: str) -> None:
    file = read_gpx(gpx(trk(f'<trkpt lat="1" lon="1"><time>{written}</time></trkpt>')))
    assert file.lines[0].times is None
    assert "1 time could not be read" in warnings(file)


@pytest.mark.parametrize(
    "written", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00", "1901-12-13T20:45:52Z"]
)
def test_implausible_dates_are_ignored_and_told(written: str) -> None:
    file = read_gpx(gpx(trk(f'<trkpt lat="1" lon="1"><time>{written}</time></trkpt>')))
    assert file.lines[0].times is None
    assert "the date is implausible" in warnings(file)


def test_names_are_fit_to_be_shown() -> None:
    name = "A&#10;B&#9;C&#127;&#133;&#8232;D \u202egpx.\u202c 🚶\u200d♀️ \u200f\u05e2\u05d1"
    assert read_gpx(gpx(trk(CLIMB_POINTS, name))).lines[0].name == "A B C D gpx. 🚶\u200d♀️ \u200f\u05e2\u05d1"


def test_a_huge_name_is_shortened_and_told() -> None:
    file = read_gpx(gpx(trk(CLIMB_POINTS, "n" * 1_000_000)))
    assert len(file.lines[0].name) == 200
    assert "A text of 1000000 characters (<name>) was shortened." in warnings(file)


def test_the_caller_is_told_of_the_progress_and_may_stop() -> None:
    document = gpx(trk(CLIMB_POINTS) * 200)
    seen: list[tuple[int, int]] = []

    def watch(done: int, total: int) -> bool:
        seen.append((done, total))
        return len(seen) < 3

    with pytest.raises(ReadingStopped, match="day\\.gpx"):
        read_gpx(document, "day.gpx", watch)
    assert seen == [(65_536 * number, len(document)) for number in (1, 2, 3)]
    seen_whole: list[tuple[int, int]] = []

    def keep_on(done: int, total: int) -> bool:
        seen_whole.append((done, total))
        return True

    read_gpx(document, "day.gpx", keep_on)
    assert seen_whole[-1] == (len(document), len(document))


def test_a_line_across_many_pieces_is_the_same_as_in_one() -> None:
    """Piece borders fall inside tags, texts and characters; whatever they cut must come out whole."""
    points = "\n".join(
        f'<trkpt lat="{46 + n * 1e-5:.5f}" lon="11.30000"><ele>{1000 + n % 97}.25</ele>'
        f"<cmt>é{'ü' * (n % 7)}</cmt></trkpt>"
        for n in range(4_000)
    )
    line = read_gpx(gpx(trk(points, "é" * 50))).lines[0]
    assert line.name == "é" * 50
    assert line.track.latitude_deg.tolist() == [float(f"{46 + n * 1e-5:.5f}") for n in range(4_000)]
    assert line.track.height_m.tolist() == [1000.25 + n % 97 for n in range(4_000)]


def test_a_line_that_lies_elsewhere_with_swapped_coordinates_is_told() -> None:
    swapped = CLIMB_POINTS.replace("lat=", "x=").replace("lon=", "lat=").replace("x=", "lon=")
    document = gpx(trk(swapped))
    assert warnings(read_gpx(document)) == ""
    assert "look swapped" in warnings(read_gpx(document, region_deg=(46.5, 11.3)))
    assert warnings(read_gpx(CLIMB, region_deg=(46.5, 11.3))) == ""
