"""A project: one .lacet file that holds a library and its trips, opened."""

from contextlib import closing
from pathlib import Path
from types import TracebackType
from uuid import uuid4

from lacet.store import export, forget, guard, take_in, upkeep
from lacet.store.bodies import RecentTexts
from lacet.store.copies import Progress, copy_before, fetched
from lacet.store.engine import connect, make_engine
from lacet.store.errors import FileThere, told
from lacet.store.making import bring_up_to_date, make, name_without_overwriting
from lacet.store.schema import SCHEMA
from lacet.store.snapshot import Snapshots
from lacet.store.unit_of_work import UnitOfWork
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules


def open_project(path: Path | str, create: bool = False) -> "Project":
    """Open a project file; with `create`, make it first when there is none.

    A file of an older Lacet is brought up to date, after a copy of it was made beside it.

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
        with closing(connect(path)) as connection:
            schema = guard.schema_of(path, connection)
            guard.refuse_damaged(path, connection)
        if schema < SCHEMA:
            copy_before(path, f"schema-{SCHEMA}")
            bring_up_to_date(path)
        return Project(path)


class Project:
    """An open project file. Close it, or use it as a context; any thread may use it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._engine = make_engine(path)
        self._recent = RecentTexts()
        self._snapshots = Snapshots(self._engine)

    def unit_of_work(self) -> UnitOfWork:
        """A unit that may write. It takes the write lock at once, and waits for it up to five seconds."""
        return UnitOfWork(self._engine, self.path, self._recent, writes=True)

    def reading(self) -> UnitOfWork:
        """A unit that only reads, all of it from one moment; it neither waits nor makes others wait."""
        return UnitOfWork(self._engine, self.path, self._recent, writes=False)

    def catalogue(self) -> Catalogue:
        """The library as it is now; the same object until somebody changes it."""
        with told(self.path):
            return self._snapshots.catalogue()

    def house_rules(self) -> HouseRules:
        """The house rules as they are now."""
        with self.reading() as unit:
            return unit.settings.house_rules()

    # --- care

    def check(self) -> None:
        """Look at everything in the file, tracks included; takes a second for a big library.

        Raises
        ------
        DamagedFile
        """
        with self.reading() as unit:
            upkeep.check(self.path, unit)

    def backup(self, target: Path | str, progress: Progress | None = None) -> None:
        """Copy the project to a file that isn't there yet; others may go on working.

        Raises
        ------
        FileThere, StoreError
        """
        upkeep.backup(self.path, Path(target), progress)
        with self.unit_of_work() as unit:
            upkeep.remember_copy(unit, Path(target))
            unit.commit()

    def restore(self, source: Path | str) -> Path:
        """Let the project be what a copy holds; returns the copy made of it before.

        Raises
        ------
        StoreError
            When the copy is no sound project; nothing has changed then.
        """
        before = upkeep.restore(self.path, Path(source))
        self._snapshots.clear()
        return before

    def compact(self) -> upkeep.Compacted:
        """Write the file anew without unused pages; tells its size before and after [bytes]."""
        return upkeep.compact(self.path)

    def forget_party(self, trip_id: str, expected_revision: int) -> forget.Forgotten:
        """Take the guests of a trip out of it, its history, its documents and the program's copies.

        The trip stays, without anybody's data and under one new revision. Issued documents lose their bytes
        and keep their figures. The answer names what still holds a name, if anything does.

        Raises
        ------
        StaleRevision
        """
        done = upkeep.forget_party(self.path, self.unit_of_work(), trip_id, expected_revision)
        self._recent.clear()
        return done

    # --- a trip for a colleague

    def export_trip(self, trip_id: str, target: Path | str) -> None:
        """Write one trip, with just what it needs, as a project of its own.

        Raises
        ------
        FileThere, UnknownTrip
        """
        target = Path(target)
        if target.exists():
            raise FileThere(f"'{target.name}' is there already. Choose another name, or remove it first.")
        draft = target.with_name(f".{target.name}.{uuid4().hex[:8]}.export")
        try:
            with open_project(draft, create=True) as new, self.reading() as unit, new.unit_of_work() as into:
                export.export_trip(unit, into, trip_id)
                into.commit()
            name_without_overwriting(draft, target)
        finally:
            draft.unlink(missing_ok=True)

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
        """Let go of the file. The last to do so leaves one file without a log beside it."""
        self._engine.dispose()

    def __enter__(self) -> "Project":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
