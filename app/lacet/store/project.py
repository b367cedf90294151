"""A project: one .lacet file that holds a library and its trips, opened."""

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import MappingProxyType, TracebackType

from lacet.passing import passing_folder
from lacet.store import export, forget, guard, take_in, upkeep
from lacet.store.bodies import RecentTexts
from lacet.store.copies import Progress, copy_before, fetched, sweep_leftovers
from lacet.store.engine import Access, connected
from lacet.store.errors import FileLost, FileReadOnly, FileThere, StoreError, told
from lacet.store.known_by import KnownBy
from lacet.store.lock import has_hot_journal, held_at_once, journal_of, tidy
from lacet.store.making import bring_up_to_date, make, name_without_overwriting, without_journal, without_log
from lacet.store.rescue import Rescued, Seen, Setting, rescue
from lacet.store.schema import SCHEMA
from lacet.store.snapshot import Snapshots
from lacet.store.taken import TakenInMemory
from lacet.store.unit_of_work import UnitOfWork
from lacet.store.written import forget_written, noted, remember_written
from lacet.tracks.raster import ElevationRaster
from lacet.tracks.raster_files import readable
from lacet.trip.bookings import Bookings
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip


def open_project(path: Path | str, create: bool = False) -> "Project":
    """Open a project file; with `create`, make it first when there is none.

    A file of an older Lacet is brought up to date, after a copy of it was made beside it. One that may not be
    written, or whose folder may not, is opened to be looked at: its `read_only` is true.

    Raises
    ------
    StoreError
        When the file can't or mustn't be opened; it is then as it was before.
    """
    path = Path(path)
    with told(path):
        if create and not path.exists():
            guard.refuse_unfit_place(path)
            make(path)
        guard.refuse_unfit(path)
        if not _may_be_written(path):
            return _opened_to_look(path)
        sweep_leftovers(path)
        try:
            _made_fit(path)
            return Project(path)
        except BaseException:
            tidy(path)
            raise


def _made_fit(path: Path) -> None:
    """Look at a file that may be written, and bring it to today's form."""
    if guard.has_log(path):
        without_log(path)
    if journal_of(path).exists():
        without_journal(path)
    with connected(path) as connection:
        schema = guard.schema_of(path, connection)
        tables = guard.tables_to_check(connection, thorough=False)
    for table in tables:
        # One at a time: who works in the file waits for none longer than it takes.
        with connected(path) as connection:
            guard.refuse_damaged_table(path, connection, table)
    if schema < SCHEMA:
        copy_before(path, f"schema-{SCHEMA}")
        bring_up_to_date(path)


def _may_be_written(path: Path) -> bool:
    return os.access(path, os.W_OK) and os.access(path.parent, os.W_OK | os.X_OK)


def _opened_to_look(path: Path) -> "Project":
    if guard.log_bytes(path) or guard.refuse_unfit(path) < SCHEMA:
        raise FileReadOnly(
            "'{name}' may only be read, and must be brought up to date before it can be shown. "
            "Copy it to a folder of yours and open the copy.",
            name=path.name,
        )
    # A log that holds nothing would still have to be made beside the file: it is read as one nobody changes.
    project = Project(path, read_only=True, alone=guard.has_log(path))
    try:
        with project.reading() as unit:
            guard.refuse_damaged(path, unit.plain)
    except BaseException:
        project.close()
        raise
    return project


class Project:
    """An open project file. Close it, or use it as a context; any thread may use it.

    Attributes
    ----------
    read_only
        The file can be looked at, not changed: it, or its folder, may not be written by this user. If no side
        file can be made there to be locked, SQLite's own locks keep reading apart from others' writing.
    """

    def __init__(self, path: Path, *, read_only: bool = False, alone: bool = False) -> None:
        self.path = path
        self.read_only = read_only
        self._access = Access(path, read_only=read_only, alone=alone)
        self._recent = RecentTexts()
        self._taken = TakenInMemory()
        self._snapshots = Snapshots(self._access)

    def unit_of_work(self) -> UnitOfWork:
        """A unit that may write. It takes the lock of the file at once, waiting up to five seconds."""
        return UnitOfWork(self._access, self._recent, writes=True, taken=self._taken)

    def reading(self) -> UnitOfWork:
        """A unit that only reads, all of it from one moment; nobody writes meanwhile, so keep it short."""
        return UnitOfWork(self._access, self._recent, writes=False, taken=self._taken)

    def catalogue(self) -> Catalogue:
        """The library as it is now; the same object until somebody changes it."""
        with told(self.path):
            return self._snapshots.catalogue()

    def house_rules(self) -> HouseRules:
        """The house rules as they are now."""
        with self.reading() as unit:
            return unit.settings.house_rules()

    def refuse_if_read_only(self) -> None:
        """Refuse what would have to be kept, before it is done.

        Raises
        ------
        FileReadOnly
        """
        if self.read_only:
            raise FileReadOnly.of(self.path)

    @property
    def name(self) -> str:
        """What the project is called: its file's name without the ending."""
        return self.path.stem

    def raster_files(self, names: Sequence[str]) -> tuple[Path, ...]:
        """Where the elevation rasters of a region lie: never out of the project's folder."""
        return tuple(self.path.parent / Path(name).name for name in names)

    def rasters(self, names: Sequence[str]) -> tuple[ElevationRaster, ...]:
        """Those of the elevation rasters a region names that can be read."""
        return readable(self.raster_files(names))

    def changed_elsewhere(self) -> bool:
        """Whether another window or program has changed the file since this was last asked.

        It never waits: while somebody writes the answer is no, and the next time may be yes. Of a file that
        is lost it says no; units of work tell.
        """
        try:
            with held_at_once(self.path) as held:
                if held and not has_hot_journal(self.path):
                    self._access.look()
                    return self._access.take_elsewhere()
        except (StoreError, OSError):
            pass
        return False

    def stands(self) -> None:
        """Hold the path to the open file; cheap, never waits, and passes while somebody writes.

        Raises
        ------
        FileLost
            When the file was moved, removed, replaced or spoiled: nothing more can be kept in it.
        """
        try:
            with held_at_once(self.path) as held:
                if held and not has_hot_journal(self.path):
                    self._access.standing.check()
        except FileLost:
            raise
        except (StoreError, OSError):
            # What only hinders looking is told by whatever reads or writes next.
            return

    def rescue(
        self, target: Path | str, trips: Iterable[Trip] = (), settings: Iterable[Setting] = (),
        bookings: Mapping[str, Bookings] = MappingProxyType({}),
    ) -> Rescued:  # fmt: skip
        """Write what can still be reached of a lost file, and these trips, to a new project elsewhere.

        The open file itself is taken if it is whole, whatever became of its name; otherwise what was read of
        the library, with these settings. The trips, and the bookings by the
        ids of their trips, are put on top of it where they differ.

        Raises
        ------
        FileThere, StoreError
        """
        rest = Seen(tuple(self._snapshots.in_memory()), tuple(settings), tuple(trips), bookings)
        return rescue(self._access, rest, Path(target))

    # --- care

    def check(self, progress: Progress | None = None) -> None:
        """Look at everything in the file, tracks included; others may go on working.

        Parameters
        ----------
        progress
            Told (tracks looked at, tracks in all); what it raises ends the check.

        Raises
        ------
        DamagedFile
        """
        upkeep.check(self.path, self.reading, progress)

    def backup(self, target: Path | str, progress: Progress | None = None) -> None:
        """Copy the project to a file that isn't there yet; others may go on working.

        Raises
        ------
        FileThere, StoreError
        """
        with self.noting_written("backup", None, [Path(target)]):
            upkeep.backup(self.path, Path(target), progress)

    @contextmanager
    def noting_written(self, kind: str, trip_id: str | None, targets: Sequence[Path]) -> Iterator[None]:
        """Note which files the block writes where: a 'proposal', 'pack', 'workbook', 'trip' and so on.

        Noted before they are written, so that a killed program leaves none that erasing guest data wouldn't
        know of; where the block fails they were never written. A project that may only be read notes nothing.
        """
        if self.read_only:
            yield
            return
        with self.unit_of_work() as unit:
            new = [each for each in targets if each not in noted(unit.connection, targets)]
            remember_written(unit.connection, kind, trip_id, targets)
            unit.commit()
        try:
            yield
        except BaseException:
            # One that is noted and isn't there does no harm.
            with suppress(StoreError), self.unit_of_work() as unit:
                forget_written(unit.connection, new)
                unit.commit()
            raise

    def restore(self, source: Path | str) -> Path:
        """Let the project be what a copy holds; returns the copy made of it before.

        Raises
        ------
        StoreError
            When the copy is no sound project; nothing has changed then.
        """
        before = upkeep.restore(self._access, Path(source))
        self._snapshots.clear()
        self._taken.clear()
        return before

    def compact(self) -> upkeep.Compacted:
        """Write the file anew without unused pages; tells its size before and after [bytes]."""
        with told(self.path), self._access.changing():
            return upkeep.compact(self.path)

    def forget_party(self, trip_id: str, expected_revision: int) -> forget.Forgotten:
        """Take the guests of a trip out of it, its history, its documents and the program's copies.

        The trip stays, without anybody's data and under one new revision. Issued documents lose their bytes
        and keep their figures. What names the guests elsewhere is told and not changed.

        Raises
        ------
        StaleRevision
        """
        done = upkeep.forget_party(self.path, self.unit_of_work(), trip_id, expected_revision)
        self._recent.clear()
        return done

    def redact(self, known: KnownBy) -> tuple[str, ...]:
        """Take what surely names these guests out of all texts of trips, library and settings.

        Returns
        -------
        tuple of str
            What was changed: trips by their names, items by kind and name.
        """
        changed = upkeep.redact(self.path, self.unit_of_work(), known)
        self._recent.clear()
        self._snapshots.clear()
        return changed

    # --- a trip for a colleague

    def export_trip(self, trip_id: str, target: Path | str) -> None:
        """Write one trip, with just what it needs, as a project of its own.

        Raises
        ------
        FileThere, UnknownTrip
        """
        target = Path(target)
        if target.exists():
            raise FileThere(
                "'{target}' is there already. Choose another name, or remove it first.", target=target.name
            )
        with (
            self.noting_written("trip", trip_id, [target]),
            told(target),
            passing_folder(target.parent) as folder,
        ):
            draft = folder / target.name
            with open_project(draft, create=True) as new, self.reading() as unit, new.unit_of_work() as into:
                export.export_trip(unit, into, trip_id)
                into.commit()
            name_without_overwriting(draft, target)

    def take_in(self, source: Path | str) -> take_in.TakenIn:
        """Take in the trips of another project, with what they need; all of it or nothing.

        Raises
        ------
        StoreError
            When the file is no sound project.
        """
        # Worked on as a copy: an older file is brought up to date without being touched.
        with fetched(Path(source), self.path) as copy:
            bring_up_to_date(copy)
            with Project(copy) as other, other.reading() as unit, self.unit_of_work() as into:
                done = take_in.take_in(unit, into)
                into.commit()
        return done

    def close(self) -> None:
        """Let go of the file."""
        self._access.close()

    def __enter__(self) -> "Project":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
