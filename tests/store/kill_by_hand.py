"""Kills programs while they work on one file, again and again, and looks at what is left.

    python tests/store/kill_by_hand.py FILE ROUNDS [PROGRAMS]

Each round forks children: the first edits, adds to the library and saves as fast as it can, and writes each
revision to a pipe once its commit has returned, or it edits as the window does, by a session whose saves are
on their way on another thread, and writes what it was told is saved; the others do the same, or import,
compact, back up, restore (another file), send a trip, forget one, write sheets, or bring files of the first
layout up to date. After a random while all get SIGKILL. Then the file must open, hold at least the last
acknowledged revisions, each as it was said to be, and nothing may lie about; sheets are the old or the new,
and older files come up to date.
The test suite runs a few dozen rounds; run a thousand by hand, four programs each, after touching how things
are kept.
"""

import os
import shutil
import signal
import sqlite3
import struct
import sys
import time
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path
from random import Random
from threading import Event

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.intake.write import NotGivenOut, write_csv_folder
from lacet.passing import passing_folder
from lacet.service.saver import Worker
from lacet.service.session import Session
from lacet.store import Project, StaleRevision, StoreError, open_project
from lacet.store.copies import copies_folder, leftovers
from lacet.store.engine import WRITES, make_engine
from lacet.store.errors import FileBusy, FileThere, UnknownTrip
from lacet.store.making import make_empty
from lacet.store.migrate import upgrade
from lacet.trip import edits
from lacet.trip.catalogue import Office, catalogue_of
from lacet.trip.library import Lodging, Place, Ref
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Night, Trip, Variant

FIRST = "of the first layout"
LONGEST_S = 0.02
KILLED_WHILE_OPENING_SHARE = 0.25
OTHERS_EDIT_SHARE = 0.3
BY_SESSION_SHARE = 0.5
AT_ONCE = 8
HOUSE = Lodging(id="weir", name="Weir", place="birch", latitude_deg=44.0, longitude_deg=-24.0)
DAYS = tuple(Day(id=f"d{n}", nights=(Night(id=f"n{n}", lodging=Ref("weir")),)) for n in range(1, 15))
TRIP = Trip(
    id="may", name="May", party=placeholder_party(4), variants=(Variant(id="v1", name="A", days=DAYS),)
)
# Revision, number in the note, and of which day (from 0; -1 = the note of the trip).
ACKNOWLEDGED = struct.Struct("<qqq")


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
                revision = unit.trips.save(replace(trip, note=str(number)), revision, f"note {number}")
                unit.commit()
            os.write(pipe, ACKNOWLEDGED.pack(revision, number, -1))


def edit_until_killed(path: Path, pipe: int, random: Random, day: int) -> None:
    """The child as a window: bursts of edits of a day of its own, saved by a thread; never returns."""
    arrived = Event()
    with open_project(path) as project:
        saver = Worker(ready=arrived.set)
        session = Session(project, saver=saver)
        session.open_trip("may")
        here = session.need_open()

        def acknowledge(_: object) -> None:
            now = session.need_open()
            os.write(pipe, ACKNOWLEDGED.pack(now.revision, int(now.variant.days[day].note), day))

        session.saved.connect(acknowledge)
        number = int(here.variant.days[day].note or 0)
        while True:
            for _ in range(random.randint(1, AT_ONCE)):
                number += 1
                session.apply(
                    lambda trip, says=str(number): edits.set_day_note(  # type: ignore[misc]
                        trip, "v1", f"d{day + 1}", says
                    ),
                    f"note {number}",
                )
            while session.has_unsaved:
                arrived.wait(1.0)
                arrived.clear()
                saver.deliver()
                if session.failure is not None:
                    assert isinstance(session.failure, FileBusy), session.failure
                    session.try_saving_again()
            session.follow()


def work_until_killed(path: Path, number: int, random: Random) -> None:
    """One of the other children: one kind of work over and over; never returns."""
    works = (importing, compacting, backing_up, restoring, sending, forgetting, writing_sheets, migrating)
    work = random.choice(works)
    with suppress(StoreError), open_project(path) as project:
        for turn in range(1_000_000):
            with suppress(FileBusy, StaleRevision, UnknownTrip, FileThere):
                work(project, f"{os.getpid()}-{number}-{turn}")


def importing(project: Project, name: str) -> None:
    """Many items in one transaction."""
    with project.unit_of_work() as unit:
        for each in range(40):
            unit.library.add_version(replace(HOUSE, id=f"{name}-{each}", note="long " * 100))
        unit.commit()


def compacting(project: Project, name: str) -> None:
    project.compact()


def backing_up(project: Project, name: str) -> None:
    project.backup(project.path.parent / "copies" / f"{name}.lacet")


def restoring(project: Project, name: str) -> None:
    """Restored is another file, since restoring takes edits back on purpose."""
    with open_project(project.path.with_name("other.lacet"), create=True) as other:
        other.restore(project.path)


def sending(project: Project, name: str) -> None:
    project.export_trip("may", project.path.parent / "copies" / f"sent {name}.lacet")


def forgetting(project: Project, name: str) -> None:
    with project.unit_of_work() as unit:
        revision = unit.trips.save(replace(TRIP, id=name, name=name), 0, "new")
        unit.commit()
    project.forget_party(name, revision)


def writing_sheets(project: Project, name: str) -> None:
    """Every sheet tells who wrote it, so that sheets of two exports are told apart."""
    where = Place(id="birch", name=name, latitude_deg=44.0, longitude_deg=-24.0)
    with suppress(NotGivenOut):
        write_csv_folder(catalogue_of((where, replace(HOUSE, name=name))), project.path.parent / "sheets")


def migrating(project: Project, name: str) -> None:
    """A file of the first layout, which gets its name whole; bringing it up to date is what is killed."""
    folder = project.path.parent / "older"
    with passing_folder(folder) as passing:
        shutil.copyfile(folder / FIRST, passing / name)
        (passing / name).rename(folder / f"{name}.lacet")
    open_project(folder / f"{name}.lacet").close()


def write_first_layout(path: Path, older: Path) -> None:
    """What a project holds as the first Lacet would have kept it."""
    engine = make_engine(make_empty(older))
    with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        upgrade(connection, "0001")
    engine.dispose()
    with closing(sqlite3.connect(older, isolation_level=None)) as plain:
        plain.execute("ATTACH ? AS newest", (str(path),))
        for table in ("items", "trips", "revisions", "parties", "travellers", "uses", "search_text"):
            plain.execute(f"INSERT INTO {table} SELECT * FROM newest.{table}")


def acknowledged(pipe: int, data: bytes) -> tuple[int, ...] | None:
    """The last that the child wrote whole; `data` was read before."""
    while piece := os.read(pipe, 1 << 16):
        data += piece
    whole = len(data) // ACKNOWLEDGED.size * ACKNOWLEDGED.size
    return ACKNOWLEDGED.unpack_from(data, whole - ACKNOWLEDGED.size) if whole else None


def begun(path: Path, number: int, random: Random) -> tuple[int, int]:
    """Fork a child; its process id, and the end of the pipe that it acknowledges by."""
    from_child, to_parent = os.pipe()
    edits_trip = number == 0 or random.random() < OTHERS_EDIT_SHARE
    by_session = edits_trip and random.random() < BY_SESSION_SHARE
    seed = random.random()
    child = os.fork()
    if not child:
        os.close(from_child)
        try:
            if by_session:
                edit_until_killed(path, to_parent, Random(seed), number)
            if edits_trip:
                save_until_killed(path, to_parent, Random(seed))
            work_until_killed(path, number, Random(seed))
        finally:
            os._exit(1)
    os.close(to_parent)
    return child, from_child


def one_round(path: Path, random: Random, programs: int) -> list[tuple[int, ...]]:
    """Fork, kill, and return what each of the programs acknowledged last."""
    children = [begun(path, number, random) for number in range(programs)]
    first = b""
    if random.random() > KILLED_WHILE_OPENING_SHARE:
        first = os.read(children[0][1], ACKNOWLEDGED.size)
    time.sleep(random.uniform(0.0, LONGEST_S * programs))
    for child, _ in children:
        os.kill(child, signal.SIGKILL)
    lasts = []
    for number, (child, pipe) in enumerate(children):
        _, status = os.waitpid(child, 0)
        # Of several, one may lose its patience with the others, which is told and no loss.
        assert os.WIFSIGNALED(status) or programs > 1, "the child ended on its own"
        lasts.append(acknowledged(pipe, b"" if number else first))
        os.close(pipe)
    return [last for last in lasts if last is not None]


def look(path: Path, lasts: list[tuple[int, ...]]) -> int:
    """Open the file, hold it to what was acknowledged, and return its revision."""
    with open_project(path) as project, project.reading() as unit:
        trip, revision = unit.trips.load("may")
        for last in lasts:
            assert revision >= last[0], f"revision {last[0]} was acknowledged, {revision} is kept"
            kept = unit.trips.load_revision("may", last[0])
            note = kept.note if last[2] < 0 else kept.variants[0].days[last[2]].note
            assert note == str(last[1]), f"revision {last[0]} holds {note}, not {last[1]}"
        # What is kept together is kept together.
        number = int(trip.note or 0)
        office = unit.settings.office().name
        assert office == (str(number // 7 * 7) if number >= 7 else ""), (office, number)
    assert leftovers(path) == [], leftovers(path)
    sheets = {each.name: each.read_text() for each in (path.parent / "sheets").glob("*.csv")}
    names = {text.splitlines()[1].split(",")[1] for text in sheets.values()}
    assert not sheets or (len(sheets), len(names)) == (2, 1), sheets
    if not revision % 10:
        sound_copies(path.parent / "copies")
        sound_copies(path.parent / "older", "may")
    return revision


def sound_copies(folder: Path, trip_id: str = "") -> None:
    """Every copy that has its name is whole, and holds the trip; then make room."""
    for copy in folder.glob("*.lacet"):
        with open_project(copy) as opened:
            opened.check()
            if trip_id:
                with opened.reading() as unit:
                    assert unit.trips.load(trip_id)[0] == TRIP
        for own in copies_folder(copy).glob("*.lacet"):
            with closing(sqlite3.connect(own)) as before:
                assert before.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            own.unlink()
        assert leftovers(copy) == [], leftovers(copy)
        copy.unlink()


def main(path: Path, rounds: int, programs: int = 1) -> int:
    """Run the rounds; prints what was seen."""
    random = Random(rounds)
    for name in ("copies", "older"):
        (path.parent / name).mkdir(exist_ok=True)
    if not path.exists():
        with open_project(path, create=True) as project, project.unit_of_work() as unit:
            unit.library.add_version(HOUSE)
            unit.trips.save(TRIP, 0, "new")
            unit.commit()
        write_first_layout(path, path.parent / "older" / FIRST)
    revision = acknowledgements = with_journal = 0
    for _ in range(rounds):
        lasts = one_round(path, random, programs)
        acknowledgements += bool(lasts)
        with_journal += path.with_name(path.name + "-journal").exists()
        revision = look(path, lasts)
    with open_project(path) as project:
        project.check()
    print(f"{rounds} kills, {acknowledgements} after an acknowledged save, {with_journal} left a journal")
    print(f"{revision} revisions, all sound")
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), *map(int, sys.argv[2:])))
