"""A file dialog that lists the project's folder opens and closes the project; nothing kept is lost by it.

Closing any descriptor of a file drops the locks that SQLite has on it in this process. The dialog is the
toolkit's own, as it shows itself where the desktop has none to offer.
"""

import os
import subprocess
import sys
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from textwrap import dedent

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from lacet.store import Project, open_project
from tests.store.things import fill, house, raw

ROOT = Path(__file__).resolve().parents[2]
EDITS = int(os.environ.get("LACET_DIALOG_EDITS", "300"))
HOUSES_AT_A_TIME = 40

# Opens the project anew for every edit, as the command line does.
SECOND_PROGRAM = dedent("""
    import sys
    from lacet.store import open_project
    from lacet.trip.library import Lodging
    done = 0
    while done < int(sys.argv[2]):
        with open_project(sys.argv[1]) as project:
            project.catalogue()
            with project.unit_of_work() as unit:
                name = f"theirs-{done}"
                where = {"place": "birch", "latitude_deg": 44.1, "longitude_deg": -24.6}
                unit.library.add_version(Lodging(id=name, name=name, **where))
                unit.commit()
        done += 1
    print(done)
""")


def spill_early(project: Project) -> None:
    """Let every transaction of more than a few pages write to the file before its end."""
    from sqlalchemy import event

    @event.listens_for(project._access.engine, "begin")
    def shrink(connection: object) -> None:
        connection.exec_driver_sql("PRAGMA cache_size = 4")  # type: ignore[attr-defined]  # an event's argument
        connection.exec_driver_sql("PRAGMA cache_spill = 4")  # type: ignore[attr-defined]  # an event's argument


def import_and_edit(path: Path, edits: int) -> list[int]:
    """A worker of the window: long imports and short edits in turn; the notes that were acknowledged."""
    kept = []
    with open_project(path) as project:
        spill_early(project)
        for number in range(1, edits + 1):
            with project.unit_of_work() as unit:
                trip, revision = unit.trips.load("may")
                unit.trips.save(replace(trip, note=str(number)), revision, f"note {number}")
                if number % 15 == 0:
                    for each in range(HOUSES_AT_A_TIME):
                        unit.library.add_version(house(f"ours-{number}-{each}", note="long " * 400))
                unit.commit()
            kept.append(number)
    return kept


def list_folder_until(done: "Future[list[int]]", folder: Path, qtbot: QtBot) -> int:
    """Show the toolkit's own dialog on the folder again and again; how often."""
    shown = 0
    while not done.done():
        dialog = QFileDialog(None, "Open", str(folder))
        dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
        qtbot.addWidget(dialog)
        dialog.show()
        for _ in range(10):
            QApplication.processEvents()
        dialog.close()
        shown += 1
    return shown


@pytest.mark.skipif(sys.platform == "win32", reason="closing a descriptor drops no lock there")
def test_a_dialog_on_the_folder_loses_no_edit_of_two_programs(tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / "shared.lacet"
    with open_project(path, create=True) as project:
        fill(project)
    environment = os.environ | {"PYTHONPATH": f"{ROOT / 'app'}{os.pathsep}{ROOT}"}
    second = subprocess.Popen(
        [sys.executable, "-c", SECOND_PROGRAM, str(path), str(EDITS // 10)],
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    )
    with ThreadPoolExecutor(1) as worker:
        importing = worker.submit(import_and_edit, path, EDITS)
        shown = list_folder_until(importing, tmp_path, qtbot)
        kept = importing.result()
    theirs = second.communicate(timeout=120)[0]
    assert second.returncode == 0
    assert shown
    assert kept == list(range(1, EDITS + 1))
    with open_project(path) as project:
        project.check()
        with project.reading() as unit:
            _, revision = unit.trips.load("may")
            notes = [unit.trips.load_revision("may", each).note for each in range(2, revision + 1)]
    assert notes == [str(number) for number in kept]
    ((ours,),) = raw(path, "SELECT count(*) FROM items WHERE id LIKE 'ours-%'")
    ((others,),) = raw(path, "SELECT count(*) FROM items WHERE id LIKE 'theirs-%'")
    assert (ours, others) == (EDITS // 15 * HOUSES_AT_A_TIME, int(theirs))
    assert raw(path, "PRAGMA integrity_check") == [("ok",)]
