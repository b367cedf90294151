"""Makes project files and brings old ones up to date."""

import os
from contextlib import suppress
from pathlib import Path

from lacet.passing import passing_folder
from lacet.store.engine import WRITES, connected, make_engine
from lacet.store.errors import FileBusy, FileThere
from lacet.store.lock import has_hot_journal, held, journal_of


def make(path: Path) -> None:
    """Make a new file whole, then give it its name: a killed program leaves no half-made project."""
    with passing_folder(path.parent) as folder:
        draft = make_empty(folder / path.name)
        bring_up_to_date(draft)
        name_without_overwriting(draft, path)


def make_empty(path: Path) -> Path:
    """Make an empty file for its owner alone, whatever the umask: guests' data will lie in it."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    return path


def bring_up_to_date(path: Path) -> None:
    """Run the migrations a file lacks; what needs a copy makes it before."""
    # Alembic takes a quarter of a second to import; a file that is up to date does without.
    from lacet.store.migrate import upgrade

    with held(path, exclusive=True):
        engine = make_engine(path)
        try:
            with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
                upgrade(connection)
        finally:
            engine.dispose()


def without_log(path: Path) -> None:
    """Let a file that was kept with a write-ahead log be kept without; what stood in the log is in it then.

    Raises
    ------
    FileBusy
        When a program that keeps it with a log has it open.
    """
    with connected(path, writes=True) as connection:
        if connection.execute("PRAGMA journal_mode = DELETE").fetchone() != ("delete",):
            raise FileBusy(
                "'{name}' is open in an older Lacet. Close it there, then try again.", name=path.name
            )


def without_journal(path: Path) -> None:
    """Undo what a killed program left half done, and remove what it had only begun to note."""
    with connected(path, writes=True) as connection:
        # Reading undoes; SQLite leaves a journal that was never flushed lying until somebody writes.
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        if not has_hot_journal(path):
            journal_of(path).unlink(missing_ok=True)


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
            raise FileThere(
                "'{name}' is there already. Open it, or choose another name.", name=path.name
            ) from None
        with suppress(FileNotFoundError):
            draft.rename(path)
