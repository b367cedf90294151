"""The catalogue: the same object until the library changes, complete, and safe to use from threads."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from lacet.store import Project, open_project
from lacet.store.snapshot import TRACKS_IN_MEMORY
from lacet.trip.catalogue import UnknownItem
from lacet.trip.library import Lodging, Place, Ref, Stage
from lacet.trip.region import Region
from tests.store.things import guests_trip, house, line, place, stage


def test_a_catalogue_is_the_same_object_until_the_library_changes(project: Project) -> None:
    first = project.catalogue()
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="more"), 1, "an edit of a trip")
        unit.commit()
    assert project.catalogue() is first
    with project.unit_of_work() as unit:
        unit.library.add_version(house("weir", name="Weir Farm"))
        unit.commit()
    assert project.catalogue() is not first


def test_a_catalogue_made_before_a_change_does_not_see_it(project: Project) -> None:
    before = project.catalogue()
    with project.unit_of_work() as unit:
        unit.library.add_version(house("weir", name="Weir Farm"))
        unit.library.add_version(house("forge"))
        unit.commit()
    assert [item.name for item in before.current(Lodging)] == ["Weir"]
    assert [item.name for item in project.catalogue().current(Lodging)] == ["Forge", "Weir Farm"]
    assert project.catalogue().need(Lodging, Ref("weir", 1)) == house("weir")


def test_another_window_sees_the_change(project: Project, path: Path) -> None:
    with open_project(path) as other:
        seen = other.catalogue()
        with project.unit_of_work() as unit:
            unit.settings.save(Region(name="Verrin"))
            unit.commit()
        assert other.catalogue().region.name == "Verrin"
        assert seen.region.name == ""


def test_unknown_items_are_told_as_ever(project: Project) -> None:
    catalogue = project.catalogue()
    assert catalogue.get(Stage, Ref("moor", 2)) is None
    assert catalogue.latest(Stage, "nowhere") is None
    with pytest.raises(UnknownItem):
        catalogue.need(Place, Ref("nowhere"))


def test_tracks_are_unpacked_when_asked_for_and_stay_within_bounds(project: Project) -> None:
    with project.unit_of_work() as unit:
        ids = [unit.library.add_track(line(50 + n / 100)) for n in range(TRACKS_IN_MEMORY + 3)]
        unit.commit()
    tracks = project.catalogue().tracks
    assert all(np.isclose(tracks[name].latitude_deg[0], 50 + n / 100) for n, name in enumerate(ids))
    assert tracks[ids[-1]] is tracks[ids[-1]]
    assert ids[0] in tracks
    assert "nothing" not in tracks
    with pytest.raises(KeyError):
        tracks["nothing"]


def test_threads_share_a_catalogue(project: Project) -> None:
    with project.unit_of_work() as unit:
        for n in range(30):
            unit.library.add_stage(stage(f"s{n:02}"), line(50 + n))
        unit.commit()

    def read(n: int) -> tuple[str, int]:
        catalogue = project.catalogue()
        found = catalogue.need(Stage, Ref(f"s{n % 30:02}"))
        return found.id, len(catalogue.tracks[found.track_id])

    with ThreadPoolExecutor(8) as pool:
        assert list(pool.map(read, range(200))) == [(f"s{n % 30:02}", 200) for n in range(200)]


def test_what_was_read_is_not_mixed_up_after_a_restore(project: Project, tmp_path: Path) -> None:
    project.backup(tmp_path / "copy.lacet")
    with open_project(project.path) as other:
        with project.unit_of_work() as unit:
            unit.library.add_version(place("cedar", name="Cedar before"))
            unit.commit()
        assert other.catalogue().need(Place, Ref("cedar")).name == "Cedar before"
        project.restore(tmp_path / "copy.lacet")
        with project.unit_of_work() as unit:
            unit.library.add_version(place("cedar", name="Cedar after"))
            unit.commit()
        assert other.catalogue().need(Place, Ref("cedar")).name == "Cedar after"


def test_a_catalogue_can_be_read_when_its_project_is_closed_and_leaves_nothing_open(path: Path) -> None:
    with open_project(path) as project:
        library = project.catalogue()
    for lodging in library.items[Lodging]:
        assert library.latest(Lodging, lodging) is not None
    assert [file.name for file in path.parent.iterdir()] == ["mine.lacet"]
