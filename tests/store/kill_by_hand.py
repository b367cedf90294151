"""Kills a program while it saves, again and again, and looks at what is left.

    python tests/store/kill_by_hand.py FILE ROUNDS

Each round forks a child that edits, adds to the library and saves as fast as it can, and writes each revision
to a pipe once its commit has returned. After a random while the child gets SIGKILL. Then the file must open,
hold at least the last acknowledged revision, and that revision must hold what it was said to hold.
The test suite runs a few dozen rounds; run a thousand by hand after touching how things are kept.
"""

import os
import signal
import struct
import sys
import time
from dataclasses import replace
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.store import open_project
from lacet.trip.catalogue import Office
from lacet.trip.library import Lodging, Ref
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Night, Trip, Variant

LONGEST_S = 0.02
KILLED_WHILE_OPENING_SHARE = 0.25
HOUSE = Lodging(id="weir", name="Weir", place="birch", latitude_deg=44.0, longitude_deg=-24.0)
DAYS = tuple(Day(id=f"d{n}", nights=(Night(lodging=Ref("weir")),)) for n in range(1, 15))
TRIP = Trip(
    id="may", name="May", party=placeholder_party(4), variants=(Variant(id="v1", name="A", days=DAYS),)
)
ACKNOWLEDGED = struct.Struct("<qq")  # revision, number of the note


def save_until_killed(path: Path, pipe: int, random: Random) -> None:
    """The child: never returns."""
    with open_project(path) as project:
        while True:
            with project.unit_of_work() as unit:
                trip, revision = unit.trips.load("may")
                number = int(trip.note or 0) + 1
                if number % 7 == 0:
                    # A longer transaction now and then, over several tables.
                    unit.library.add_version(replace(HOUSE, name=f"Weir {number}"))
                    unit.settings.save(Office(name=str(number)))
                    unit.totals.save("may", "v1", revision, str(number), "{}" * random.randrange(4_000))
                revision = unit.trips.save(replace(trip, note=str(number)), revision, f"note {number}")
                unit.commit()
            os.write(pipe, ACKNOWLEDGED.pack(revision, number))


def acknowledged(pipe: int, data: bytes) -> tuple[int, int] | None:
    """The last pair that the child wrote whole; `data` was read before."""
    while piece := os.read(pipe, 1 << 16):
        data += piece
    whole = len(data) // ACKNOWLEDGED.size * ACKNOWLEDGED.size
    return ACKNOWLEDGED.unpack_from(data, whole - ACKNOWLEDGED.size) if whole else None


def one_round(path: Path, random: Random) -> tuple[int, int] | None:
    """Fork, kill, and return what was acknowledged last."""
    from_child, to_parent = os.pipe()
    child = os.fork()
    if not child:
        os.close(from_child)
        try:
            save_until_killed(path, to_parent, random)
        finally:
            os._exit(1)
    os.close(to_parent)
    first = b""
    if random.random() > KILLED_WHILE_OPENING_SHARE:
        first = os.read(from_child, ACKNOWLEDGED.size)
    time.sleep(random.uniform(0.0, LONGEST_S))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the child ended on its own"
    try:
        return acknowledged(from_child, first)
    finally:
        os.close(from_child)


def look(path: Path, last: tuple[int, int] | None) -> int:
    """Open the file, hold it to what was acknowledged, and return its revision."""
    with open_project(path) as project, project.reading() as unit:
        trip, revision = unit.trips.load("may")
        if last is not None:
            assert revision >= last[0], f"revision {last[0]} was acknowledged, {revision} is kept"
            kept = unit.trips.load_revision("may", last[0])
            assert kept.note == str(last[1]), f"revision {last[0]} holds {kept.note}, not {last[1]}"
        # What is kept together is kept together.
        number = int(trip.note or 0)
        office = unit.settings.office().name
        assert office == (str(number // 7 * 7) if number >= 7 else ""), (office, number)
    return revision


def main(path: Path, rounds: int) -> int:
    """Run the rounds; prints what was seen."""
    random = Random(rounds)
    if not path.exists():
        with open_project(path, create=True) as project, project.unit_of_work() as unit:
            unit.library.add_version(HOUSE)
            unit.trips.save(TRIP, 0, "new")
            unit.commit()
    revision = acknowledgements = with_journal = 0
    for _ in range(rounds):
        last = one_round(path, random)
        acknowledgements += last is not None
        with_journal += path.with_name(path.name + "-journal").exists()
        revision = look(path, last)
    with open_project(path) as project:
        project.check()
    print(f"{rounds} kills, {acknowledgements} after an acknowledged save, {with_journal} left a journal")
    print(f"{revision} revisions, all sound")
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), int(sys.argv[2])))
