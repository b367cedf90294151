"""GPX lines become proposals that say what they are, where they lead and what they double."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from lacet.intake import proposals as room
from lacet.intake.proposals import Proposal, accept, propose, with_recording
from lacet.tracks.edit import join, same_line
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.problem import ReadingStopped
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.library import LibraryItem, Ref, Stage
from lacet.trip.words import Way
from tests.intake.files import Tracks, gpx, library, line, sheet

MAY_S = 1_810_000_000.0


def named(name: str, track: Track, seconds_a_step: float | None = None, begins_s: float = MAY_S) -> GpxLine:
    """A line; with seconds a step (of 50 m) it is a recording."""
    times = (
        None
        if seconds_a_step is None
        else begins_s + seconds_a_step * np.arange(len(track), dtype=np.float64)
    )
    return GpxLine(name, "", "track", track, times)


def proposals(folder: Path, *lines: GpxLine, catalogue: Catalogue | None = None) -> tuple[Proposal, ...]:
    return propose([gpx(folder, "own.gpx", *lines)], catalogue or library()).proposals


def test_ends_near_known_places_are_those_places_and_others_are_made(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Up and over", line(100, 9_000, east_m=150)))
    assert (found.start.place.id, found.start.is_new) == ("quay", False)
    assert 170 < found.start.off_m < 190
    assert (found.end.place.name, found.end.is_new) == ("End of Up and over", True)
    assert found.shape == "point to point"
    assert found.length_m == pytest.approx(8_900, rel=0.01)


def test_two_lines_that_meet_get_one_new_place(tmp_path: Path) -> None:
    first, second = proposals(
        tmp_path, named("North", line(20_000, 24_000)), named("Further", line(24_100, 28_000))
    )
    assert first.end.place == second.start.place
    assert accept(second).places == (second.start.place, second.end.place)


def test_a_round_comes_back_to_one_place_and_out_and_back_is_told_from_it(tmp_path: Path) -> None:
    out, across = line(0, 3_000), line(3_000, 0, east_m=1_500)
    round_, back = proposals(
        tmp_path,
        named("Round", join((out, across, line(0, 0.1)))),
        named("To the bench", join((line(0, 2_000, east_m=400), line(2_000, 0, east_m=400)))),
    )
    assert (round_.shape, back.shape) == ("loop", "out and back")
    assert round_.start == round_.end


@pytest.mark.parametrize(("seconds_a_step", "way"), [(40.0, Way.WALKING), (10.0, Way.CYCLING)])
def test_the_pace_of_a_recording_tells_the_way(tmp_path: Path, seconds_a_step: float, way: Way) -> None:
    (found,) = proposals(tmp_path, named("Recorded", line(10_000, 16_000), seconds_a_step))
    assert found.ways == (way,)
    assert found.recording is not None
    assert found.recording.way is way
    assert found.recording.moving_s == pytest.approx(seconds_a_step * 120, abs=1)
    assert found.recording.distance_m == pytest.approx(6_000, abs=15)


def test_a_drive_is_told_and_its_time_not_kept(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Shuttle", line(10_000, 16_000), 2.5))
    assert "recorded in a vehicle?" in " ".join(found.problems)
    assert found.recording is None


def test_pauses_dont_count_as_moving(tmp_path: Path) -> None:
    times = MAY_S + 40.0 * np.arange(121, dtype=np.float64)
    times[60:] += 3_600.0
    (found,) = proposals(tmp_path, GpxLine("Lunch", "", "track", line(10_000, 16_000), times))
    assert found.recording is not None
    assert found.recording.moving_s == pytest.approx(40.0 * 119, abs=1)


def test_a_split_recording_is_put_together_and_says_so(tmp_path: Path) -> None:
    (found,) = proposals(
        tmp_path,
        named("Ridge", line(10_000, 13_000), 40.0),
        named("Ridge after lunch", line(13_050, 16_000), 40.0, MAY_S + 60 * 40.0 + 1_800.0),
    )
    assert found.merged == ("Ridge", "Ridge after lunch")
    assert found.length_m == pytest.approx(5_950, abs=60)


def test_days_of_a_tour_stay_apart(tmp_path: Path) -> None:
    assert len(proposals(tmp_path, named("Day 1", line(0, 6_000)), named("Day 2", line(6_000, 12_000)))) == 2
    later = named("Second", line(6_000, 12_000), 40.0, MAY_S + 86_400.0)
    assert len(proposals(tmp_path, named("First", line(10_000, 6_000), 40.0), later)) == 2


@pytest.mark.parametrize(("backward", "direction"), [(False, "same"), (True, "reversed")])
def test_a_line_of_the_library_is_known_in_both_directions(
    tmp_path: Path, backward: bool, direction: str
) -> None:
    track = line(6_000, 0, east_m=15) if backward else line(0, 6_000, east_m=15)
    (found,) = proposals(tmp_path, named("Again", track, 40.0))
    assert (found.duplicate_of, found.duplicate_direction, found.take) == ("lane", direction, False)
    timed = with_recording(found, library().need(Stage, Ref("lane")))
    assert (timed is None) == backward


def test_a_recorded_time_is_added_once_to_the_stage_it_doubles(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Again", line(0, 6_000), 40.0))
    timed = with_recording(found, library().need(Stage, Ref("lane")))
    assert timed is not None
    assert len(timed.recordings) == 1
    assert with_recording(found, timed) is None


def test_two_files_of_one_line_are_taken_once(tmp_path: Path) -> None:
    files = [gpx(tmp_path, name, named("Coast", line(20_000, 24_000))) for name in ("a.gpx", "b.gpx")]
    first, second = propose(files, library()).proposals
    assert (first.take, second.take) == (True, False)
    assert second.duplicate_of == first.id == "coast"


def test_a_file_that_cant_be_read_is_told_and_the_others_are_proposed(tmp_path: Path) -> None:
    bad = sheet(tmp_path, "bad.gpx", "<gpx><trk>")
    found = propose([bad, gpx(tmp_path, "good.gpx", named("Good", line(0, 4_000)))], library())
    assert len(found.proposals) == 1
    assert found.refusals[0].startswith("bad.gpx")


def test_what_is_no_stage_is_not_proposed_for_taking(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Stub", line(0, 120)))
    assert not found.take
    assert found.problems[-1] == "only 120 m long"


def test_a_corrected_proposal_is_accepted_as_corrected(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Über den Grat", line(100, 6_100, east_m=900)))
    assert found.id == "uber-den-grat"
    taken = accept(replace(found, name="Over the ridge", ways=(Way.WALKING,)))
    assert (taken.stage.id, taken.stage.name) == ("uber-den-grat", "Over the ridge")
    assert [facts.way for facts in taken.stage.ways] == [Way.WALKING]


def test_nothing_of_who_or_when_is_kept(tmp_path: Path) -> None:
    (found,) = proposals(tmp_path, named("Recorded", line(10_000, 16_000), 40.0))
    kept = repr(accept(found))
    assert "18100" not in kept
    assert not hasattr(accept(found).track, "times")


def test_reading_stops_when_asked(tmp_path: Path) -> None:
    with pytest.raises(ReadingStopped, match="nothing was taken in"):
        propose([gpx(tmp_path, "a.gpx", named("A", line(0, 1_000)))], library(), progress=lambda *_: False)


def test_lines_close_together_are_laid_beside_their_neighbours_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four times as many lines 11 m apart take four times as many comparisons, not sixteen."""
    laid = 0

    def counted(one: Track, other: Track, tolerance_m: float) -> str | None:
        nonlocal laid
        laid += 1
        return same_line(one, other, tolerance_m)

    monkeypatch.setattr(room, "same_line", counted)
    counts = []
    for lines in (50, 200):
        laid = 0
        path = tmp_path / f"{lines}.gpx"
        path.write_text(gpx_of_parallels(lines))
        made = propose([path], Catalogue()).proposals
        counts.append(laid - lines)
        assert [each.duplicate_of for each in made[:5]] == [None, "l0", "l0", "l0", "l1"]
    assert counts[1] < 5 * counts[0]


def test_lines_are_laid_beside_those_of_a_library_that_pass_their_ends_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stages of a close network lie within three kilometres of each other; few follow the same line."""
    laid: list[str | None] = []

    def counted(one: Track, other: Track, tolerance_m: float) -> str | None:
        laid.append(same_line(one, other, tolerance_m))
        return laid[-1]

    path = tmp_path / "parallels.gpx"
    path.write_text(gpx_of_parallels(40))
    taken = [accept(each) for each in propose([path], Catalogue()).proposals]
    items: list[LibraryItem] = [replace(each.stage, track_id=each.stage.id) for each in taken]
    items += [place for each in taken for place in each.places]
    tracks = Tracks({each.stage.id: each.track for each in taken})
    monkeypatch.setattr(room, "same_line", counted)
    made = propose([path], catalogue_of(tuple(items), tracks)).proposals
    assert made[0].duplicate_of == "l0"
    assert all(each.duplicate_of for each in made)
    assert len(laid) < 4 * len(made)


def gpx_of_parallels(lines: int) -> str:
    """Lines of 800 m and two points, each 11.1 m north of the one before."""
    tracks = (
        f'<trk><name>L{number}</name><trkseg><trkpt lat="{44 + number * 1e-4:.4f}" lon="-24.40"/>'
        f'<trkpt lat="{44 + number * 1e-4:.4f}" lon="-24.39"/></trkseg></trk>'
        for number in range(lines)
    )
    return f'<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">{"".join(tracks)}</gpx>'


@pytest.mark.parametrize(("first", "last"), [(179.99, -179.99), (-24.0, -23.0)], ids=["date line", "sparse"])
def test_a_line_is_found_again_over_the_date_line_and_when_it_is_sparse(
    tmp_path: Path, first: float, last: float
) -> None:
    ends = (f'<trkpt lat="60" lon="{first}"/>', f'<trkpt lat="60.1" lon="{last}"/>')
    ways = (f"<trk><trkseg>{''.join(way)}</trkseg></trk>" for way in (ends, ends[::-1]))
    path = tmp_path / "there and back.gpx"
    path.write_text(f"<gpx>{''.join(ways)}</gpx>")
    made = propose([path], Catalogue(), merge=False).proposals
    assert [each.duplicate_direction for each in made] == [None, "reversed"]


def test_no_files_make_no_proposals(tmp_path: Path) -> None:
    assert propose([], library()).proposals == ()
    assert propose([], Catalogue()).proposals == ()
