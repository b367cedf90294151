"""How a connection to a project file is made: the one place that sets SQLite's switches.

Transactions begin where SQLAlchemy begins them, not where the driver guesses: a writing unit takes the
write lock at once (BEGIN IMMEDIATE), so that it never finds out late that somebody else wrote first.
"""

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event

BUSY_MS = 5_000
WRITES = "lacet_writes"

# FULL: each commit is flushed to the disk, so that an acknowledged edit survives a killed program and a power
# cut alike (as far as the disk keeps its word). It costs about 0.2 ms on a solid-state disk.
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


def connect(path: Path, *, read_only: bool = False) -> sqlite3.Connection:
    """A plain connection with our switches set; it never makes a file."""
    uri = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rw'}"
    connection = sqlite3.connect(
        uri, uri=True, isolation_level=None, check_same_thread=False, timeout=BUSY_MS / 1000
    )
    for pragma in PRAGMAS:
        connection.execute(pragma)
    return connection


def make_engine(path: Path) -> Engine:
    """An engine on an existing project file."""
    engine = create_engine(
        "sqlite+pysqlite://", creator=lambda: connect(path), poolclass=QueuePool, max_overflow=32
    )
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    options: dict[str, Any] = dict(connection.get_execution_options())
    connection.exec_driver_sql("BEGIN IMMEDIATE" if options.get(WRITES) else "BEGIN")
