"""Another window's changes are told once and seen; one's own are not told."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from lacet.store import Project, open_project
from lacet.trip.library import Lodging
from tests.store.things import guests_trip, house, read_elsewhere


def note(project: Project, text: str) -> None:
    with project.unit_of_work() as unit:
        trip, revision = unit.trips.load("may")
        unit.trips.save(replace(trip, note=text), revision, text)
        unit.commit()


def test_a_change_of_another_window_is_told_once(path: Path) -> None:
    with open_project(path) as ours, open_project(path) as theirs:
        assert not ours.changed_elsewhere()
        note(theirs, "theirs")
        assert not theirs.changed_elsewhere()
        assert ours.changed_elsewhere()
        assert not ours.changed_elsewhere()


def test_ones_own_changes_are_not_told(project: Project, tmp_path: Path) -> None:
    note(project, "ours")
    project.backup(tmp_path / "copy.lacet")
    project.compact()
    project.restore(tmp_path / "copy.lacet")
    assert not project.changed_elsewhere()


def test_what_another_changed_before_ones_own_change_is_still_told(path: Path) -> None:
    with open_project(path) as ours, open_project(path) as theirs:
        note(theirs, "theirs")
        note(ours, "ours")
        assert ours.changed_elsewhere()
        assert theirs.changed_elsewhere()


def test_restoring_and_compacting_are_told_to_other_windows(path: Path, tmp_path: Path) -> None:
    with open_project(path) as ours, open_project(path) as theirs:
        theirs.backup(tmp_path / "copy.lacet")
        assert ours.changed_elsewhere()
        theirs.restore(tmp_path / "copy.lacet")
        assert ours.changed_elsewhere()
        theirs.compact()
        assert ours.changed_elsewhere()


def test_what_is_undone_is_not_told(path: Path) -> None:
    with open_project(path) as ours, open_project(path) as theirs:
        with theirs.unit_of_work() as unit:
            unit.trips.save(guests_trip(note="undone"), 1, "undone")
            assert not ours.changed_elsewhere()
        assert not ours.changed_elsewhere()


def test_asking_never_waits(path: Path) -> None:
    with open_project(path) as ours:
        with read_elsewhere(path):
            assert not ours.changed_elsewhere()
        with closing(sqlite3.connect(path, isolation_level=None)) as stranger:
            stranger.execute("UPDATE trips SET name = 'by another program'")
        assert ours.changed_elsewhere()


def test_the_library_and_the_rules_are_the_others_new_ones(path: Path) -> None:
    with open_project(path) as ours, open_project(path) as theirs:
        ours.catalogue()
        with theirs.unit_of_work() as unit:
            unit.library.add_version(house("new"))
            unit.settings.save(replace(unit.settings.house_rules(), markup_share=0.4))
            unit.commit()
        assert "new" in ours.catalogue().items[Lodging]
        assert ours.house_rules().markup_share == 0.4


def test_what_is_undone_in_the_library_is_not_remembered(path: Path) -> None:
    with open_project(path) as ours:
        with ours.unit_of_work() as unit:
            unit.library.add_version(house("weir", name="undone"))
            inner = ours.catalogue().latest(Lodging, "weir")
            assert inner is not None
            assert inner.name == "undone"
        with ours.unit_of_work() as unit:
            unit.library.add_version(house("weir", name="kept"))
            unit.commit()
        kept = ours.catalogue().latest(Lodging, "weir")
        assert kept is not None
        assert kept.name == "kept"
