"""Files looked at together, corrected, and kept: all of it or nothing."""

from dataclasses import replace
from pathlib import Path

import pytest

from lacet.intake.corrections import (
    CorrectionRefused,
    new_places,
    with_name,
    with_place,
    with_place_called,
    with_take,
    with_ways,
)
from lacet.intake.material import NoSuchFile, choose, files_in, keep, look_at
from lacet.intake.proposals import Proposal
from lacet.store import open_project
from lacet.tracks.gpx_document import GpxLine
from lacet.trip.library import Place, Stage
from lacet.trip.words import Way
from tests.intake.files import LODGING_HEADER, gpx, library, line, sheet


def two_that_meet(folder: Path) -> tuple[Proposal, ...]:
    """Two lines, one after the other, far from every known place."""
    first = gpx(folder, "one.gpx", GpxLine("One", "", "track", line(20_000, 25_000)))
    second = gpx(folder, "two.gpx", GpxLine("Two", "", "track", line(25_000, 30_000)))
    return look_at((first, second), library()).proposed.proposals


def test_folders_give_what_can_be_read_and_each_file_once(tmp_path: Path) -> None:
    track = gpx(tmp_path / "in", "a.GPX", GpxLine("A", "", "track", line(0, 3_000)))
    table = sheet(tmp_path / "in", "places.csv", "id,name\n")
    sheet(tmp_path / "in", "notes.txt", "not meant")
    sheet(tmp_path / "in", ".~lock.places.csv", "")
    assert files_in((tmp_path / "in", track)) == (track, table)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(NoSuchFile, match="no such file"):
        files_in((tmp_path / "gone.gpx",))


def test_naming_a_new_place_for_one_line_names_it_for_all_that_meet_there(tmp_path: Path) -> None:
    named = with_place_called(two_that_meet(tmp_path), 0, "end", "  The ford ", ())
    assert named[0].end.place == named[1].start.place
    assert named[1].start.place.name == "The ford"
    assert len(new_places(named)) == 3


def test_the_name_of_a_known_place_is_that_place_the_nearer_of_two(tmp_path: Path) -> None:
    near = Place(id="near", name="Mill", latitude_deg=44.2, longitude_deg=-24.0)
    far = replace(near, id="far", latitude_deg=48.0)
    (first, _) = with_place_called(two_that_meet(tmp_path), 0, "start", "mill", (far, near))
    assert first.start.place == near
    assert not first.start.is_new
    assert first.start.off_m == pytest.approx(2_240, rel=0.05)


def test_a_known_end_given_a_new_name_becomes_a_place_of_its_own(tmp_path: Path) -> None:
    path = gpx(tmp_path, "lane2.gpx", GpxLine("Lane", "", "track", line(0, 5_000)))
    (proposal,) = with_place_called(
        look_at((path,), library()).proposed.proposals, 0, "start", "Back quay", library().current(Place)
    )
    assert proposal.start.is_new
    assert proposal.start.place.id == "back-quay"
    assert proposal.start.off_m < 1


def test_a_round_begins_and_ends_at_one_place(tmp_path: Path) -> None:
    path = gpx(
        tmp_path, "r.gpx", GpxLine("R", "", "track", line(0, 3_000)), GpxLine("S", "", "track", line(9, 9))
    )
    proposals = tuple(replace(each, shape="loop") for each in look_at((path,), library()).proposed.proposals)
    hill = library().place("hill")
    assert hill is not None
    moved = with_place(proposals, 0, "end", hill, new=False)
    assert moved[0].start.place == moved[0].end.place == hill


def test_a_nameless_stage_or_place_is_refused(tmp_path: Path) -> None:
    proposals = two_that_meet(tmp_path)
    with pytest.raises(CorrectionRefused, match="needs a name"):
        with_name(proposals, 0, " ")
    with pytest.raises(CorrectionRefused, match="begins and ends somewhere"):
        with_place_called(proposals, 0, "end", "", ())


def test_what_is_corrected_is_what_is_kept(tmp_path: Path) -> None:
    lodging = sheet(tmp_path, "lodgings.csv", f"{LODGING_HEADER}\nmill,Mill,quay,44.0,-24.0,,\n")
    two_that_meet(tmp_path)
    with open_project(tmp_path / "new.lacet", create=True) as project:
        material = look_at((tmp_path / "one.gpx", tmp_path / "two.gpx", lodging), library())
        proposals = with_take(material.proposed.proposals, (1,), take=False)
        proposals = with_ways(with_name(proposals, 0, "Over the moor"), (0,), (Way.CYCLING,))
        chosen = choose(material, (), proposals)
        with project.unit_of_work() as unit:
            for place in library().current(Place):
                unit.library.add_version(place)
            keep(unit, chosen, tmp_path)
            unit.commit()
        catalogue = project.catalogue()
        (stage,) = catalogue.current(Stage)
        assert (stage.name, [each.way for each in stage.ways]) == ("Over the moor", [Way.CYCLING])
        assert len(catalogue.tracks[stage.track_id]) == len(proposals[0].track)
        assert len(catalogue.current(Place)) == 4


def test_split_recordings_stay_apart_when_wished(tmp_path: Path) -> None:
    path = gpx(
        tmp_path,
        "ridge.gpx",
        GpxLine("Ridge 1", "", "track", line(0, 3_000)),
        GpxLine("Ridge 2", "", "track", line(3_000, 6_000)),
    )
    assert len(look_at((path,), library()).proposed.proposals) == 1
    assert len(look_at((path,), library(), merge=False).proposed.proposals) == 2


def test_a_duplicate_that_is_taken_all_the_same_leaves_the_other_stage_alone(tmp_path: Path) -> None:
    path = gpx(tmp_path, "lane.gpx", GpxLine("Lane", "", "track", line(0, 6_000)))
    material = look_at((path,), library())
    (twin,) = material.proposed.proposals
    assert twin.duplicate_of == "lane"
    assert not twin.take
    assert choose(material, ()).items == ()
    chosen = choose(material, (), (replace(twin, take=True),))
    assert [(each.kind, each.what) for each in chosen.changes] == [("stage", "new")]
