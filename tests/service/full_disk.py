"""A program that runs out of room while it edits and writes, and goes on when there is room again.

    python tests/service/full_disk.py PROJECT limit
    python tests/service/full_disk.py PROJECT fill

`limit` forbids it to write beyond a size (setrlimit(2), RLIMIT_FSIZE); `fill` fills the disk the project lies
on, which should be a small one of its own. It asserts what must hold, and prints how many edits waited.
"""

import os
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import date
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.intake.write import write_csv_folder
from lacet.service.saver import Worker
from lacet.service.session import Session
from lacet.service.writing import save_remembered, write_file
from lacet.store import Project, open_project
from lacet.store.errors import DiskFull, DiskTrouble
from lacet.trip import edits
from lacet.trip.errors import LacetError
from lacet.trip.trip import Trip

LETTERS = "abcdefghijklmnopqrstuvwxyz"
MOST_EDITS = 200


class Limit:
    """No file may grow beyond a size."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def begin(self, spare_bytes: int) -> None:
        import resource

        most = self.path.stat().st_size + spare_bytes if spare_bytes else 0
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))

    def end(self) -> None:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))


class Fill:
    """A file beside the project takes what room there is."""

    def __init__(self, path: Path) -> None:
        self.filler = path.with_name("filler")

    def begin(self, spare_bytes: int) -> None:
        with self.filler.open("wb", buffering=0) as file, suppress(OSError):
            while file.write(b"x" * 4096):
                pass
        if spare_bytes:
            os.truncate(self.filler, max(self.filler.stat().st_size - spare_bytes, 0))

    def end(self) -> None:
        self.filler.unlink()


def kept(project: Project) -> Trip:
    with project.reading() as unit:
        return unit.trips.load("trip")[0]


def refused(writes: Callable[[], object]) -> None:
    """It must be refused in a sentence, whatever it is."""
    says = ""
    try:
        writes()
    except LacetError as refusal:
        says = str(refusal)
    assert says.endswith("."), says or "nothing was refused although there is no room"


def edit_until_full(session: Session, saver: Worker, random: Random) -> tuple[int, Trip]:
    """Edits until one can't be saved, and two more; how many were made, and the last that was told saved."""
    told = [session.need_open().trip]
    session.saved.connect(lambda _: told.append(session.need_open().trip))
    number = 0
    while session.failure is None and number < MOST_EDITS:
        number += 1
        says = "".join(random.choices(LETTERS, k=20_000))
        # Where it failed before, it is tried again with the next edit, and refused there and then.
        with suppress(DiskFull, DiskTrouble):
            session.apply(lambda trip, says=says: edits.set_trip_note(trip, says), "long note")  # type: ignore[misc]
        saver.wait()
    assert isinstance(session.failure, DiskFull | DiskTrouble), session.failure
    for day in ("d1", "d2"):
        with suppress(DiskFull, DiskTrouble):
            session.apply(lambda trip, day=day: edits.set_day_note(trip, "v1", day, "more"), f"note {day}")  # type: ignore[misc]
    return number + 2, told[-1]


def main(path: Path, how: str) -> int:
    """Run out of room, look at what is left, get room, and look again."""
    room = Limit(path) if how == "limit" else Fill(path)
    with open_project(path) as project:
        saver = Worker(ready=lambda: None)
        session = Session(project, today=lambda: date(2026, 11, 25), saver=saver)
        session.open_trip("trip")
        before = len(history(project))
        sheet = path.with_name("sheet.csv")
        write_file(sheet, b"old")
        there = names(path)
        room.begin(60_000)
        number, acknowledged = edit_until_full(session, saver, Random(1))
        # In the file is what was told to be, and it is sound; in memory is everything.
        assert kept(project) == acknowledged
        assert session.need_open().trip != acknowledged
        project.check()
        room.end()
        room.begin(0)
        large = b"x" * 100_000
        catalogue = project.catalogue()
        for writes in (
            lambda: write_file(path.with_name("new.csv"), large),
            lambda: save_remembered(project, "workbook", "trip", sheet, large, over=True),
            lambda: project.backup(path.with_name("copy.lacet")),
            lambda: project.export_trip("trip", path.with_name("sent.lacet")),
            lambda: write_csv_folder(catalogue, path.with_name("sheets")),
            project.compact,
            session.finish_saving,
        ):
            refused(writes)
        assert sheet.read_bytes() == b"old"
        assert names(path) - {"filler"} == there, names(path) ^ there
        project.check()
        room.end()
        session.try_saving_again()
        session.finish_saving()
        assert kept(project) == session.need_open().trip
        assert len(history(project)) == before + number
        session.close()
    with closing(sqlite3.connect(path)) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    print(f"{number} edits, all kept in the end")
    return 0


def history(project: Project) -> list[str]:
    with project.reading() as unit:
        return [row.says for row in unit.trips.history("trip")]


def names(path: Path) -> set[str]:
    """What lies beside the project, its lock aside."""
    return {each.name for each in path.parent.iterdir()} - {f".{path.name}.lock"}


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2]))
