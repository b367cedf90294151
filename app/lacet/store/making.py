"""Makes project files and brings old ones up to date."""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from uuid import uuid4

from lacet.store.engine import WRITES, make_engine
from lacet.store.errors import FileThere


def make(path: Path) -> None:
    """Make a new file whole, then give it its name: a killed program leaves no half-made project."""
    draft = path.with_name(f".{path.name}.{uuid4().hex[:8]}.new")
    try:
        with closing(sqlite3.connect(draft, isolation_level=None)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
        bring_up_to_date(draft)
        name_without_overwriting(draft, path)
    finally:
        for left in (draft, *(draft.with_name(draft.name + end) for end in ("-wal", "-shm"))):
            left.unlink(missing_ok=True)


def bring_up_to_date(path: Path) -> None:
    """Run the migrations a file lacks; what needs a copy makes it before."""
    # Alembic takes a quarter of a second to import; a file that is up to date does without.
    from lacet.store.migrate import upgrade

    engine = make_engine(path)
    try:
        with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
            upgrade(connection)
    finally:
        engine.dispose()


def name_without_overwriting(draft: Path, path: Path) -> None:
    """Give a finished file its name; a file that got it meanwhile stays."""
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
