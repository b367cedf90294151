"""How long a library of 10 000 stages takes to be listed, searched and edited, and a revision to be saved.

Ratios beside SQLite itself on the same file, taken in turn in one process; medians of several runs. Run with
`tests/run.py --bench`.
"""

from __future__ import annotations

import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.store import Project, StageFilter, box_around, open_project
from lacet.store.engine import connect
from lacet.tracks.track import Track, track
from lacet.trip.library import Lodging, Place, Ref, Stage, StageWay
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Leg, Meal, Night, Trip, Variant
from lacet.trip.words import Footing, MealKind, Way

STAGES = 10_000
PLACES = 400
HOUSES = 1_000
RUNS = 9
NAMES = ("Moor", "Ridge", "Lane", "Orchard", "Crater", "Pans", "Harbour", "Mill", "Chapel", "Heath")
SUMMARIES = (
    "SELECT id, version, name, from_place, to_place, from_name, to_name, ways, distance_m, ascent_m, "
    "descent_m, lowest_m, highest_m, sparkline, retired FROM stages WHERE newest AND NOT retired "
)
BY_NAME = "ORDER BY name COLLATE NOCASE, id"
FOUND = SUMMARIES + "AND row_id IN (SELECT rowid FROM search_text WHERE search_text MATCH ?) " + BY_NAME


def beside(ours: Callable[[], object], theirs: Callable[[], object], runs: int = RUNS) -> tuple[float, float]:
    """Run two things in turn and return the median time of each [s]."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):
        for kept, run in zip(times, (ours, theirs), strict=True):
            began = time.perf_counter()
            run()
            kept.append(time.perf_counter() - began)
    return statistics.median(times[0]), statistics.median(times[1])


def line(number: int) -> Track:
    """A short hilly line, a different one for each number."""
    along = np.linspace(0.0, 1.0, 120)
    south, west = 44 + number % 100 / 100, -25 + number // 100 / 100
    return track(south + along * 0.08, west + along * 0.03, 200 + (50 + number % 300) * np.sin(along * 9))


def fill(project: Project) -> None:
    """Places, stages and houses, and one trip."""
    ways = (StageWay(way=Way.WALKING, footing=Footing.UNEVEN), StageWay(way=Way.CYCLING))
    with project.unit_of_work() as unit:
        for n in range(PLACES):
            unit.library.add_version(
                Place(id=f"p{n}", name=f"{NAMES[n % 10]} {n}", latitude_deg=44 + n / 400, longitude_deg=-24.5)
            )
        for n in range(STAGES):
            one = Stage(
                id=f"s{n}",
                name=f"{NAMES[n % 10]} and {NAMES[n // 10 % 10]} way {n}",
                from_place=f"p{n % PLACES}",
                to_place=f"p{(n * 7 + 1) % PLACES}",
                track_id="",
                ways=ways,
                text="Along the wall and over the hill, past the well and down to the quay. " * 4,
            )
            unit.library.add_stage(one, line(n))
        for n in range(HOUSES):
            inn = Lodging(
                id=f"h{n}", name=f"Inn {n}", place=f"p{n % PLACES}", latitude_deg=44.2, longitude_deg=-24.5
            )
            unit.library.add_version(inn)
        unit.trips.save(two_weeks(), 0, "new")
        unit.commit()


def two_weeks() -> Trip:
    """Fourteen days in three variants."""
    days = tuple(
        Day(
            id=f"d{n}",
            items=(Leg(id=f"i{n}", stage=Ref(f"s{n}"), way=Way.WALKING),),
            nights=(Night(lodging=Ref(f"h{n}")),),
            meals=(Meal(kind=MealKind.DINNER, at_lodging=True),),
            note="The way turns left at the chapel.",
        )
        for n in range(14)
    )
    variants = tuple(Variant(id=f"v{n}", name=f"Variant {n}", days=days) for n in range(3))
    return Trip(id="trip", name="Two weeks", party=placeholder_party(4), variants=variants)


def listing(project: Project, path: Path) -> None:
    """Print how lists and searches stand beside SQLite alone."""
    asked = (
        ("list 10 000 stages", StageFilter(), SUMMARIES + BY_NAME, ()),
        ("search 'orch har'", StageFilter(words="orch har"), FOUND, ('"orch"* "har"*',)),
        ("search 'mo'", StageFilter(words="mo"), FOUND, ('"mo"*',)),
    )
    with closing(sqlite3.connect(path)) as alone:
        for says, chosen, statement, given in asked:

            def ours(chosen: StageFilter = chosen) -> list[object]:
                with project.reading() as unit:
                    return list(unit.library.stage_rows(chosen))

            def theirs(statement: str = statement, given: tuple[str, ...] = given) -> list[object]:
                return alone.execute(statement, given).fetchall()

            assert len(ours()) == len(theirs()) > 0
            ours_s, theirs_s = beside(ours, theirs)
            print(f"{says} / sqlite3 alone: {ours_s / theirs_s:.2f} (goal: at most 2); {ours_s * 1e3:.1f} ms")
    near = StageFilter(box=box_around(44.5, -24.6, 3_000.0))
    with project.reading() as unit:
        near_s, all_s = beside(lambda: unit.library.stage_rows(near), unit.library.stage_rows)
    print(f"stages within 3 km of a place / all stages: {near_s / all_s:.3f}")


def saving(project: Project, path: Path) -> None:
    """Print what a revision costs beside a bare commit of one row with the same durability."""
    trip, revision = two_weeks(), 1

    def ours() -> None:
        nonlocal trip, revision
        day = replace(trip.variants[0].days[3], note=f"edit {revision}")
        days = (*trip.variants[0].days[:3], day, *trip.variants[0].days[4:])
        trip = replace(trip, variants=(replace(trip.variants[0], days=days), *trip.variants[1:]))
        with project.unit_of_work() as unit:
            revision = unit.trips.save(trip, revision, "note")
            unit.commit()

    with closing(connect(path)) as bare:

        def theirs() -> None:
            bare.execute("BEGIN IMMEDIATE")
            bare.execute("INSERT INTO copies VALUES (?, '')", (f"{time.perf_counter_ns()}",))
            bare.execute("COMMIT")

        ours_s, theirs_s = beside(ours, theirs, 201)
        (size,) = bare.execute("SELECT avg(length(body)) FROM revisions WHERE base NOT NULL").fetchone()
        bare.execute("DELETE FROM copies")
    print(f"save a revision: {ours_s * 1e3:.2f} ms, {size:.0f} bytes; a bare commit: {theirs_s * 1e3:.2f} ms")


def opening(project: Project, path: Path) -> None:
    """Print what opening, a first catalogue and an edit of the library cost."""

    def bare() -> None:
        with closing(connect(path)) as connection:
            connection.execute("SELECT count(*) FROM trips").fetchone()

    ours_s, bare_s = beside(lambda: open_project(path).close(), bare)
    print(
        f"open and check a file of {path.stat().st_size / 1e6:.0f} MB: {ours_s * 1e3:.1f} ms; "
        f"SQLite alone, unchecked: {bare_s * 1e3:.1f} ms"
    )

    def catalogue() -> None:
        with open_project(path) as fresh:
            began = time.perf_counter()
            fresh.catalogue()
            times.append(time.perf_counter() - began)

    times: list[float] = []
    for _ in range(RUNS):
        catalogue()
    print(f"first catalogue of {STAGES} stages: {statistics.median(times) * 1e3:.1f} ms")

    def edit() -> None:
        with project.unit_of_work() as unit:
            one = unit.library.latest(Stage, "s77")
            assert one is not None
            unit.library.add_version(replace(one, note=str(time.perf_counter_ns())))
            unit.commit()
        project.catalogue()

    edit_s, again_s = beside(edit, project.catalogue)
    print(f"edit a stage and renew the catalogue: {edit_s * 1e3:.1f} ms; unchanged: {again_s * 1e3:.2f} ms")


def importing() -> None:
    """Print what importing costs before and with the first use."""
    for what in ("import lacet.store", "import lacet.store; lacet.store.warm_up()"):
        code = f"import time; began = time.perf_counter(); {what}; print(time.perf_counter() - began)"
        runs = [
            float(
                subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, cwd=APP).stdout
            )
            for _ in range(5)
        ]
        print(f"{what}: {statistics.median(runs) * 1e3:.0f} ms")


APP = Path(__file__).resolve().parents[2] / "app"


def main() -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "big.lacet"
        with open_project(path, create=True) as project:
            began = time.perf_counter()
            fill(project)
            each_ms = (time.perf_counter() - began) / STAGES * 1e3
            print(f"keep a stage with its track: {each_ms:.2f} ms each, in one unit of work")
            listing(project, path)
            saving(project, path)
            opening(project, path)
    importing()


if __name__ == "__main__":
    main()
