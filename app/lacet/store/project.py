"""A project: one .lacet file that holds a library and its trips, opened."""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from types import TracebackType
from uuid import uuid4

from lacet.store import guard
from lacet.store.bodies import RecentTexts
from lacet.store.copies import copy_before
from lacet.store.engine import WRITES, connect, make_engine
from lacet.store.errors import FileThere, told
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
            _make(path)
        guard.refuse_unfit(path)
        with closing(connect(path)) as connection:
            schema = guard.schema_of(path, connection)
            guard.refuse_damaged(path, connection)
        if schema < SCHEMA:
            copy_before(path, f"schema-{SCHEMA}")
            _bring_up_to_date(path)
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

    def close(self) -> None:
        """Let go of the file. The last to do so leaves one file without a log beside it."""
        self._engine.dispose()

    def __enter__(self) -> "Project":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _make(path: Path) -> None:
    """Make a new file whole, then give it its name: a killed program leaves no half-made project."""
    draft = path.with_name(f".{path.name}.{uuid4().hex[:8]}.new")
    try:
        with closing(sqlite3.connect(draft, isolation_level=None)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
        _bring_up_to_date(draft)
        _name_without_overwriting(draft, path)
    finally:
        for left in (draft, *(draft.with_name(draft.name + end) for end in ("-wal", "-shm"))):
            left.unlink(missing_ok=True)


def _bring_up_to_date(path: Path) -> None:
    # Alembic takes a quarter of a second to import; a file that is up to date does without.
    from lacet.store.migrate import upgrade

    engine = make_engine(path)
    try:
        with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
            upgrade(connection)
    finally:
        engine.dispose()


def _name_without_overwriting(draft: Path, path: Path) -> None:
    try:
        os.link(draft, path)
    except FileExistsError:
        # Somebody else made it meanwhile: theirs is opened.
        return
    except OSError:
        # A file system without links; renaming refuses an existing file on Windows only.
        if path.exists():
            raise FileThere(f"'{path.name}' is there already. Open it, or choose another name.") from None
        with suppress(FileNotFoundError):
            draft.rename(path)
