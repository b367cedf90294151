"""Work on a stage: steps back and forth, and one saving that keeps all of it or nothing."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from lacet.intake.stage_work import (
    StageChangedMeanwhile,
    StageWork,
    figures,
    heights_from,
    smooth_heights,
)
from lacet.store import Project, open_project
from lacet.tracks.drawn import Drawn, StageEditRefused, renamed, with_point
from lacet.tracks.track import Track
from lacet.trip.library import Place, Stage, StagePoint
from lacet.trip.words import PointKind
from tests.small_library import BASE, METRES_PER_DEGREE, write_small_project

WELL = StagePoint(2_000.0, PointKind.WATER, "Well")


@pytest.fixture
def project(tmp_path: Path) -> Project:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    return open_project(path)


def saved(project: Project, work: StageWork, *, retire: bool = False) -> tuple[Stage, ...]:
    with project.unit_of_work() as unit:
        made = work.save(unit.library, retire=retire)
        unit.commit()
    return made


def ascii_raster(path: Path, height: str = "120") -> Path:
    """A grid of one height over the small library."""
    rows = "\n".join(" ".join([height] * 20) for _ in range(40))
    path.write_text(f"ncols 20\nnrows 40\nxllcorner {BASE[1] - 0.1}\nyllcorner {BASE[0] - 0.05}\n"
                    f"cellsize 0.0125\nNODATA_value -9999\n{rows}\n")  # fmt: skip
    return path


def test_steps_go_back_and_forth_and_a_new_one_drops_what_was_undone(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    assert not work.changed
    work.apply(lambda each: with_point(each, WELL), "add a well")
    work.apply(lambda each: renamed(each, "Up"), "rename")
    work.undo()
    assert (work.top.drawn.stage.name, work.undo_says, work.redo_says) == (
        "Over the hill",
        "add a well",
        "rename",
    )
    work.redo()
    assert work.top.drawn.stage.name == "Up"
    work.undo()
    work.apply(lambda each: renamed(each, "Down"), "rename again")
    work.redo()
    assert work.top.drawn.stage.name == "Down"
    for _ in range(5):
        work.undo()
    assert not work.changed


def test_a_saved_edit_is_a_new_version_on_the_same_line(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    work.apply(lambda each: with_point(each, WELL), "add a well")
    (stage,) = saved(project, work)
    assert (stage.version, stage.points) == (2, (WELL,))
    assert stage.track_id == work.catalogue.latest(Stage, "climb").track_id  # type: ignore[union-attr]  # it is there


def test_a_cut_makes_two_stages_and_the_old_one_goes_only_if_wished(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    work.cut(4_000.0, "Halfway")
    saved(project, work)
    names = [each.name for each in project.catalogue().current(Stage)]
    assert names == ["Over the hill", "Over the hill: Alder to Halfway", "Over the hill: Halfway to Birch",
                     "The long lane"]  # fmt: skip
    halfway = project.catalogue().latest(Place, "halfway")
    assert halfway is not None
    assert halfway.latitude_deg == pytest.approx(BASE[0] + 4_000 / METRES_PER_DEGREE, abs=1e-4)
    again = StageWork(project.catalogue(), "climb")
    again.cut(5_000.0, "Further")
    saved(project, again, retire=True)
    assert "climb" not in {each.id for each in project.catalogue().current(Stage)}


def test_cutting_near_a_known_place_meets_there_and_elsewhere_a_name_is_needed(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    work.cut(8_700.0)
    assert work.top.stages[0].stage.to_place == "birch"
    work.undo()
    with pytest.raises(StageEditRefused, match="name the place"):
        work.cut(4_000.0)
    assert len(work.top.stages) == 1


def test_joining_after_cutting_on_the_desk_leaves_no_trace_of_the_part(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    work.cut(4_000.0, "Halfway")
    second = work.top.stages[1].stage.id
    assert second in {each.id for each in work.joinable()}
    work.join(second)
    assert work.top.gone == ("climb",)
    assert work.top.drawn.stage.to_place == "birch"
    assert len(work.top.stages) == 1


def test_stages_that_go_on_from_the_end_can_be_joined(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    assert [each.id for each in work.joinable()] == ["lane"]
    work.join("lane")
    (stage,) = saved(project, work, retire=True)
    assert (stage.id, stage.from_place, stage.to_place) == ("climb", "alder", "cedar")
    assert [each.id for each in project.catalogue().current(Stage)] == ["climb"]


def test_what_was_saved_elsewhere_meanwhile_is_never_lost(project: Project) -> None:
    work = StageWork(project.catalogue(), "climb")
    work.apply(lambda each: renamed(each, "Mine"), "rename")
    theirs = project.catalogue().latest(Stage, "climb")
    assert theirs is not None
    with project.unit_of_work() as unit:
        unit.library.add_version(replace(theirs, name="Theirs"))
        unit.commit()
    with pytest.raises(StageChangedMeanwhile, match="Theirs was saved elsewhere"):
        saved(project, work)
    assert project.catalogue().latest(Stage, "climb").name == "Theirs"  # type: ignore[union-attr]  # it is there


def test_trimming_ends_at_the_places_near(project: Project) -> None:
    work = StageWork(project.catalogue(), "lane")
    work.trim(0.0, 29_700.0)
    assert work.top.drawn.stage.to_place == "cedar"
    assert figures(work.top.drawn).length_m == pytest.approx(29_700.0, abs=1)


def test_heights_are_filled_or_taken_anew_from_a_raster(project: Project, tmp_path: Path) -> None:
    ascii_raster(tmp_path / "hills.asc")
    drawn = StageWork(project.catalogue(), "climb").top.drawn
    with pytest.raises(StageEditRefused, match="nothing to fill"):
        heights_from([tmp_path / "hills.asc"], replaced=False)(drawn)
    anew = heights_from([tmp_path / "hills.asc"], replaced=True)(drawn)
    assert np.allclose(anew.track.height_m, 120.0)
    assert anew.length_m == pytest.approx(drawn.length_m, abs=0.1)
    with pytest.raises(StageEditRefused, match="no elevation raster"):
        heights_from((), replaced=True)(drawn)


def test_a_raster_elsewhere_is_told(project: Project, tmp_path: Path) -> None:
    path = ascii_raster(tmp_path / "far.asc")
    path.write_text(path.read_text().replace(f"yllcorner {BASE[0] - 0.05}", "yllcorner 10"))
    drawn = StageWork(project.catalogue(), "climb").top.drawn
    with pytest.raises(StageEditRefused, match="don't reach"):
        heights_from([tmp_path / "far.asc"], replaced=True)(drawn)


def test_smoothing_calms_noise_and_leaves_the_hill(project: Project) -> None:
    drawn = StageWork(project.catalogue(), "climb").top.drawn
    noise = np.random.default_rng(3).normal(0.0, 6.0, len(drawn.track))
    line = drawn.track
    rough = Drawn(
        drawn.stage, Track(line.latitude_deg, line.longitude_deg, line.height_m + noise, line.segment_start)
    )
    calm = smooth_heights(rough)
    assert (
        np.abs(np.diff(calm.track.height_m, 2)).mean() < 0.3 * np.abs(np.diff(rough.track.height_m, 2)).mean()
    )
    assert calm.track.height_m[-1] - calm.track.height_m[0] == pytest.approx(300.0, abs=25.0)


def test_a_stage_without_a_line_has_no_desk(project: Project) -> None:
    with pytest.raises(StageEditRefused, match="where the stage 'gone' runs"):
        StageWork(project.catalogue(), "gone")
