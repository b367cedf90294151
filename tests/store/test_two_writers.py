"""Two programs on one file lose no update; a killed one loses no acknowledged edit."""

import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from textwrap import dedent

import pytest

from lacet.store import Project, StaleRevision, open_project
from lacet.trip.library import Lodging
from tests.store.things import house

HERE = Path(__file__).resolve()
ROOT = HERE.parents[2]
KILLS = int(os.environ.get("LACET_KILLS", "60"))

# Adds one to the number in the trip's note, as often as told; a refused save begins again from what is kept.
COUNT_UP = dedent("""
    import sys
    from dataclasses import replace
    from lacet.store import StaleRevision, open_project
    refused = 0
    with open_project(sys.argv[1]) as project:
        for _ in range(int(sys.argv[2])):
            while True:
                with project.reading() as unit:
                    trip, revision = unit.trips.load("may")
                edited = replace(trip, note=str(int(trip.note) + 1))
                try:
                    with project.unit_of_work() as unit:
                        unit.trips.save(edited, revision, "count")
                        unit.commit()
                    break
                except StaleRevision:
                    refused += 1
    print(refused)
""")


def program(*arguments: str) -> subprocess.Popen[str]:
    environment = os.environ | {"PYTHONPATH": f"{ROOT / 'app'}{os.pathsep}{ROOT}"}
    return subprocess.Popen(
        [sys.executable, *arguments],
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def finish(running: subprocess.Popen[str]) -> str:
    said, complaint = running.communicate(timeout=120)
    assert running.returncode == 0, complaint
    return said


def set_note(project: Project, note: str) -> int:
    with project.unit_of_work() as unit:
        trip, revision = unit.trips.load("may")
        revision = unit.trips.save(replace(trip, note=note), revision, "set")
        unit.commit()
    return revision


def test_two_programs_counting_up_one_trip_lose_no_count(path: Path) -> None:
    with open_project(path) as project:
        first = set_note(project, "0")
        both = [program("-c", COUNT_UP, str(path), "40") for _ in range(2)]
        for running in both:
            finish(running)
        with project.reading() as unit:
            trip, revision = unit.trips.load("may")
            assert (trip.note, revision) == ("80", first + 80)
            assert len(unit.trips.history("may")) == first + 80


def test_of_two_saves_from_one_revision_exactly_one_wins(path: Path) -> None:
    with open_project(path) as one, open_project(path) as other:
        with one.reading() as unit:
            trip, revision = unit.trips.load("may")

        def save(project: Project, note: str) -> bool:
            try:
                with project.unit_of_work() as unit:
                    unit.trips.save(replace(trip, note=note), revision, note)
                    unit.commit()
            except StaleRevision:
                return False
            return True

        with ThreadPoolExecutor(2) as pool:
            won = list(pool.map(save, (one, other), ("one", "other")))
        assert sorted(won) == [False, True]
        with one.reading() as unit:
            assert unit.trips.load("may")[0].note == ("one" if won[0] else "other")


def test_two_programs_adding_versions_number_them_in_a_row(path: Path) -> None:
    with open_project(path) as one, open_project(path) as other:

        def add(n: int) -> None:
            with (one, other)[n % 2].unit_of_work() as unit:
                unit.library.add_version(house("weir", name=f"Weir {n}"))
                unit.commit()

        with ThreadPoolExecutor(2) as pool:
            list(pool.map(add, range(20)))
        with one.reading() as unit:
            assert [item.version for item in unit.library.versions(Lodging, "weir")] == list(range(1, 22))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the children are forked, which Windows can't")
def test_a_killed_program_loses_no_acknowledged_edit(tmp_path: Path) -> None:
    said = finish(program(str(HERE.with_name("kill_by_hand.py")), str(tmp_path / "killed.lacet"), str(KILLS)))
    kills, acknowledged, with_journal = map(int, re.findall(r"\d+", said)[:3])
    assert kills == KILLS
    # The kills fell into the midst of the work, not before or after it.
    assert acknowledged >= KILLS / 2
    assert with_journal >= KILLS / 6
