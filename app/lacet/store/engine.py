"""How a connection to a project file is made: the one place that sets SQLite's switches.

Every connection is made, used and given back under the lock of the file (`lock`), which orders programs,
windows and threads; SQLite's own locks are a second fence against programs of other kinds. Transactions begin
where SQLAlchemy begins them, not where the driver guesses.
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event

from lacet.store.errors import FileReadOnly, told
from lacet.store.lock import FileLock, held, tidy
from lacet.store.standing import Standing

BUSY_MS = 5_000
WRITES = "lacet_writes"

# The journal is SQLite's first kind, with which a file lies whole between transactions. FULL: each commit is
# flushed to the disk, so that an acknowledged edit survives a killed program and a power cut alike (as far as
# the disk keeps its word).
PRAGMAS = (
    f"PRAGMA busy_timeout = {BUSY_MS}",
    "PRAGMA foreign_keys = ON",
    "PRAGMA synchronous = FULL",
    # Deleted guests are overwritten, not merely unlinked.
    "PRAGMA secure_delete = ON",
    # A file from elsewhere can't run functions of ours from its schema.
    "PRAGMA trusted_schema = OFF",
    "PRAGMA cell_size_check = ON",
)


def connect(path: Path, *, read_only: bool = False, alone: bool = False) -> sqlite3.Connection:
    """A plain connection with our switches set, to be made under the lock; it never makes a file.

    `alone` is for a file that nobody can change: SQLite then needs neither locks nor files beside it.
    """
    uri = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rw'}{'&immutable=1' if alone else ''}"
    connection = sqlite3.connect(
        uri, uri=True, isolation_level=None, check_same_thread=False, timeout=BUSY_MS / 1000
    )
    try:
        for pragma in PRAGMAS:
            connection.execute(pragma)
    except BaseException:
        connection.close()
        raise
    return connection


@contextmanager
def connected(path: Path, *, writes: bool = False) -> Iterator[sqlite3.Connection]:
    """A plain connection under the lock of the file, for as long as the block."""
    with held(path, exclusive=writes), closing(connect(path)) as connection:
        yield connection


def make_engine(path: Path, *, read_only: bool = False, alone: bool = False) -> Engine:
    """An engine on an existing project file."""
    engine = create_engine(
        "sqlite+pysqlite://",
        creator=lambda: connect(path, read_only=read_only, alone=alone),
        poolclass=QueuePool,
        max_overflow=32,
    )
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    options: dict[str, Any] = dict(connection.get_execution_options())
    connection.exec_driver_sql("BEGIN IMMEDIATE" if options.get(WRITES) else "BEGIN")


class _Running(threading.local):
    """The transactions this thread is in, outermost first, and whether each writes."""

    def __init__(self) -> None:
        self.stack: list[tuple[Connection, bool]] = []


class Access:
    """Every way to the rows of an open project: under its lock, and held to the file at its path."""

    def __init__(self, path: Path, *, read_only: bool = False, alone: bool = False) -> None:
        self.path = path
        self.read_only = read_only
        self.engine = make_engine(path, read_only=read_only, alone=alone)
        self.standing = Standing(path)
        self._running = _Running()
        self._seen = self.standing.counter()
        self._elsewhere = False
        self._closed = False
        self._in_use = 0
        self._counting = threading.Lock()

    def begin(self, *, writes: bool) -> "Transaction":
        """Begin a transaction; end it.

        Raises
        ------
        FileBusy, FileLost, FileReadOnly
        """
        if writes:
            self._refuse_if_read_only()
        return Transaction(self, self._running, writes=writes)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection to read by: that of the transaction this thread is in, or one of its own.

        What comes of the rows is decoded within the block: damage of any kind is told there.

        Raises
        ------
        StoreError
        """
        with told(self.path):
            if self._running.stack:
                yield self._running.stack[-1][0]
                return
            transaction = self.begin(writes=False)
            try:
                yield transaction.connection
            finally:
                transaction.end()

    def is_writing(self) -> bool:
        """Whether this thread is in a transaction that may still be undone."""
        return any(writes for _, writes in self._running.stack)

    @contextmanager
    def changing(self) -> Iterator[None]:
        """Hold the file to write by other means than a transaction of ours; the change counts as our own."""
        self._refuse_if_read_only()
        with held(self.path, exclusive=True):
            self.standing.check()
            self.look()
            yield
            self.standing.check()
            self.acknowledge()

    def look(self) -> None:
        """Note whether somebody else has committed since the last look. Under the lock."""
        counter = self.standing.counter()
        if counter != self._seen:
            self._seen, self._elsewhere = counter, True

    def acknowledge(self) -> None:
        """Take what is kept now for our own. Under the lock, before letting it go."""
        self._seen = self.standing.counter()

    def take_elsewhere(self) -> bool:
        """Whether somebody else has committed since this was last asked."""
        was, self._elsewhere = self._elsewhere, False
        return was

    def _refuse_if_read_only(self) -> None:
        if self.read_only:
            raise FileReadOnly.of(self.path)

    def close(self) -> None:
        """Let go of the file, when the last transaction has ended."""
        with self._counting:
            self._closed = True
            self._let_go_if_unused()

    def enter(self) -> None:
        """Count a transaction in. A catalogue outlives its project: what it reads then is opened for that."""
        with self._counting:
            self.standing.reopen()
            self._in_use += 1

    def leave(self) -> None:
        """Count a transaction out."""
        with self._counting:
            self._in_use -= 1
            if self._closed:
                self._let_go_if_unused()

    def _let_go_if_unused(self) -> None:
        if not self._in_use:
            self.engine.dispose()
            self.standing.close()
            tidy(self.path)


class Transaction:
    """One transaction under the lock of the file, from its beginning to its end."""

    def __init__(self, access: Access, running: _Running, *, writes: bool) -> None:
        self._access = access
        self._writes = writes
        self._stack = running.stack
        self._lock = FileLock(access.path, exclusive=writes)
        access.enter()
        try:
            self._lock.acquire()
        except BaseException:
            access.leave()
            raise
        try:
            access.standing.check()
            access.look()
            self.connection = self._begun(writes)
        except BaseException:
            self._lock.release()
            access.leave()
            raise
        self._entry = (self.connection, writes)
        self._stack.append(self._entry)

    def _begun(self, writes: bool) -> Connection:
        connection = self._access.engine.connect().execution_options(**{WRITES: writes})
        try:
            connection.begin()
        except BaseException:
            connection.close()
            raise
        return connection

    def commit(self) -> None:
        """Keep what was done, if the file is still the one at its path, before and after."""
        self._access.standing.check()
        self.connection.commit()
        self._access.standing.check()
        self._access.acknowledge()

    def end(self) -> None:
        """Undo what was not kept, and let the file go."""
        try:
            self._stack.remove(self._entry)
            self.connection.close()
        finally:
            self._lock.release()
            self._access.leave()
