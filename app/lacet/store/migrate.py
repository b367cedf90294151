"""Brings a file's tables up to date with Alembic, inside the program and without any file of settings.

Importing Alembic takes a quarter of a second, so only what makes or migrates a file imports this module.
Each migration is one transaction: it is done, or the file is as before.
"""

from collections.abc import Callable
from importlib.resources import as_file, files
from typing import Any

from alembic.config import Config
from alembic.runtime.environment import EnvironmentContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from lacet.store.schema import APPLICATION_ID


def upgrade(connection: Connection, to: str = "head") -> None:
    """Run every migration the file lacks. The caller's transaction holds it."""
    with as_file(files("lacet.store") / "migrations") as folder:
        upgrade_with(connection, ScriptDirectory(str(folder)), to)


def upgrade_with(connection: Connection, scripts: ScriptDirectory, to: str = "head") -> None:
    """Run the migrations of these scripts up to `to`, and number the file after the last."""
    environment = EnvironmentContext(Config(), scripts, fn=_steps(scripts, to))
    with environment:
        environment.configure(connection=connection)
        with environment.begin_transaction():
            environment.run_migrations()
    reached = scripts.get_revision(to)
    assert reached is not None, f"no migration {to}"
    # PRAGMA takes no parameters; both are numbers of ours.
    connection.exec_driver_sql(f"PRAGMA user_version = {int(reached.revision)}")
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")


def _steps(scripts: ScriptDirectory, to: str) -> Callable[[Any, Any], Any]:
    def steps(revision: Any, context: Any) -> Any:
        return scripts._upgrade_revs(to, revision)  # the way Alembic's own `upgrade` command goes

    return steps
