"""The catalogue: the same object until the library changes, complete, and safe to use from threads."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from lacet.store import Project, keeping, open_project, stored_items
from lacet.store.kinds import KINDS
from lacet.store.snapshot import TRACKS_IN_MEMORY
from lacet.trip.catalogue import UnknownItem, catalogue_of
from lacet.trip.library import Lodging, Place, Ref, Restaurant, Stage
from lacet.trip.region import Region
from tests.small_library import write_small_project
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


def test_what_is_asked_by_place_or_name_is_answered_as_it_was_then(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_stage(stage("loop", from_place="cedar", to_place="cedar"), line(45))
        unit.commit()
    before = project.catalogue()
    assert [each.id for each in before.current_under(Stage, "birch")] == ["lane", "moor"]
    with project.unit_of_work() as unit:
        unit.library.add_version(stage("moor", from_place="cedar", to_place="alder"))
        unit.library.add_version(stage("new", from_place="birch", name="Moor"))
        unit.library.retire(Stage, "loop")
        unit.commit()
    now = project.catalogue()
    assert [each.version for each in before.current_under(Stage, "birch")] == [1, 1]
    assert [each.id for each in before.current_under(Stage, "cedar")] == ["loop"]
    assert [each.id for each in before.current_named(Stage, "Moor")] == ["moor"]
    assert before.count_current(Stage) == 3
    assert [each.version for each in before.newest(Stage)] == [1, 1, 1]
    assert [each.id for each in now.newest(Stage) if each.retired] == ["loop"]
    assert [each.id for each in now.current_under(Stage, "birch")] == ["lane", "new"]
    assert [each.id for each in now.current_under(Stage, "cedar")] == ["moor"]
    assert [each.id for each in now.current_named(Stage, "Moor")] == ["moor", "new"]
    assert now.count_current(Stage) == 3


def test_a_stored_library_answers_like_one_in_memory(tmp_path: Path) -> None:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    with open_project(path) as project:
        stored = project.catalogue()
    held = catalogue_of(tuple(item for kind in KINDS.values() for item in stored.current(kind)))
    for kind in KINDS.values():
        assert stored.count_current(kind) == held.count_current(kind)
        assert list(stored.newest(kind)) == list(held.newest(kind))
        if kind in (Place, Lodging, Restaurant):
            assert stored.located(kind) == held.located(kind)
        for key in ("alder", "birch", "cedar", "", "nowhere"):
            assert stored.current_under(kind, key) == held.current_under(kind, key)
        for item in stored.current(kind):
            assert stored.current_named(kind, item.name) == held.current_named(kind, item.name)


def test_what_joins_a_place_is_found_without_reading_the_library(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    with project.unit_of_work() as unit:
        for n in range(20):
            unit.library.add_version(stage(f"far{n}", from_place=f"p{n}", to_place=f"p{n + 1}"))
        unit.commit()
    catalogue = project.catalogue()
    read: list[str] = []

    def reading(kind: type, body: str) -> object:
        read.append(body)
        return keeping.value_of(kind, body)

    monkeypatch.setattr(stored_items, "value_of", reading)
    assert [each.id for each in catalogue.current_under(Stage, "p3")] == ["far2", "far3"]
    assert catalogue.count_current(Stage) == 22
    assert len(read) == 2


def test_memory_holds_the_stages_used_last_and_a_catalogue_reads_on(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stored_items, "MOST_STAGES", 3)
    with project.unit_of_work() as unit:
        for n in range(9):
            unit.library.add_version(stage(f"s{n}"))
        unit.commit()
    catalogue = project.catalogue()
    assert len(catalogue.current(Stage)) == 11
    assert [each.id for each in project._snapshots.in_memory()] == ["s6", "s7", "s8"]
    assert catalogue.need(Stage, Ref("s0")) == stage("s0")


def test_a_library_that_changes_adds_to_the_index_it_had(project: Project) -> None:
    for n in range(3):
        with project.unit_of_work() as unit:
            unit.library.add_version(stage("moor", note=str(n)))
            unit.library.add_version(house(f"h{n}"))
            unit.commit()
        with open_project(project.path) as afresh:
            ours, theirs = project.catalogue(), afresh.catalogue()
        for kind in KINDS.values():
            assert {each: tuple(ours.items[kind][each]) for each in ours.items[kind]} == {
                each: tuple(theirs.items[kind][each]) for each in theirs.items[kind]
            }


def test_where_items_lie_is_read_again_only_when_one_of_their_kind_changed(project: Project) -> None:
    before = project.catalogue()
    lay = before.located(Place)
    with project.unit_of_work() as unit:
        unit.library.add_version(stage("moor", note="wet"))
        unit.commit()
    assert project.catalogue().located(Place) is lay
    with project.unit_of_work() as unit:
        unit.library.add_version(place("alder", latitude_deg=45.0))
        unit.library.retire(Place, "birch")
        unit.commit()
    now = project.catalogue()
    assert [each.id for each in lay if each not in now.located(Place)] == ["alder", "birch"]
    assert before.located(Place) == lay
