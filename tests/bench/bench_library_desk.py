"""How fluid the library desk is with 10 000 stages and 1 000 lodgings: list, find, open, edit, save.

Ratios beside sqlite3 alone on the same file, taken in turn in one process (medians); and the longest the
event loop stood still. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

# Beside this file, where Python looks first when it is run.
from bench_store import (  # type: ignore[import-not-found]  # not on mypy's path
    BY_NAME,
    FOUND,
    SUMMARIES,
    beside,
    fill,
)
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from lacet.service.session import Session
from lacet.store import open_project
from lacet.window.app import make_application
from lacet.window.library.desk import LibraryDesk
from lacet.window.library.kind_page import KindPage
from lacet.window.qt_session import QtSession
from lacet.window.work import Work

STALL_GOAL_MS = 100.0
HOUSES = "SELECT id, version, name, place, latitude_deg, longitude_deg FROM items WHERE kind = ? AND newest "
IN_BOX = "SELECT row_id FROM search_box WHERE south <= ? AND north >= ? AND west <= ? AND east >= ?"
NEAR = f"AND row_id IN ({IN_BOX}) "
NEAR_POSITION = "44.50 -24.60"


class Heart:
    """Beats every few milliseconds; remembers the longest time between two beats."""

    def __init__(self) -> None:
        self.longest_s = 0.0
        self._last = time.perf_counter()
        self._timer = QTimer(interval=2)
        self._timer.timeout.connect(self._beat)
        self._timer.start()

    def _beat(self) -> None:
        now = time.perf_counter()
        self.longest_s = max(self.longest_s, now - self._last)
        self._last = now

    def start_anew(self) -> None:
        QApplication.processEvents()
        self.longest_s, self._last = 0.0, time.perf_counter()

    def told(self) -> str:
        QApplication.processEvents()
        self._beat()
        return f"{self.longest_s * 1e3:.0f} ms (goal {STALL_GOAL_MS:.0f})"


def shown(page: KindPage, text: str = "") -> Callable[[], None]:
    """Find something and paint the list."""

    def run() -> None:
        page.list.finder.blockSignals(True)
        page.list.finder.setText(text)
        page.list.finder.blockSignals(False)
        page.list.refresh()
        page.list.table.viewport().repaint()

    return run


def told(what: str, ours: Callable[[], object], theirs: Callable[[], object]) -> None:
    ours_s, theirs_s = beside(ours, theirs)
    print(f"{what:<44} {ours_s / theirs_s:6.1f}   {ours_s * 1e3:6.1f} ms; sqlite3 {theirs_s * 1e3:.1f} ms")


def listing(desk: LibraryDesk, alone: sqlite3.Connection) -> None:
    """Lists and finders, painted, beside the bare queries."""

    def bare(statement: str, *given: object) -> Callable[[], object]:
        return lambda: alone.execute(statement, given).fetchall()

    stages = desk.show_kind("stages")
    told("list 10 000 stages, painted", shown(stages), bare(SUMMARIES + BY_NAME))
    told("find 'orch har'", shown(stages, "orch har"), bare(FOUND, '"orch"* "har"*'))
    told("find 'mo'", shown(stages, "mo"), bare(FOUND, '"mo"*'))
    near = (44.527, 44.473, -24.562, -24.638)
    told("find stages by position", shown(stages, NEAR_POSITION), bare(SUMMARIES + NEAR + BY_NAME, *near))
    shown(stages)()
    lodgings = desk.show_kind("lodgings")
    told("list 1 000 lodgings, painted", shown(lodgings), bare(HOUSES + BY_NAME, "lodging"))


def editing(desk: LibraryDesk, alone: sqlite3.Connection) -> None:
    """Opening a form, and saving what was typed, beside reading and committing one row."""
    for name, start in (("stages", "s77"), ("lodgings", "h77")):
        page = desk.show_kind(name)
        ids = [start[0] + str(number) for number in range(100, 140)]
        turn = iter(ids * 20)

        def opened(page: KindPage = page, turn: Iterator[str] = turn) -> None:
            page.open_item(next(turn))
            page.editor.form.viewport().repaint()

        told(
            f"open one of the {name} in its form",
            opened,
            lambda: alone.execute("SELECT body FROM items WHERE id = 's77' AND newest").fetchone(),
        )

        def saved(page: KindPage = page) -> None:
            page.editor.form.fields["note"].set_text(f"{time.perf_counter_ns()}")
            assert page.editor.save()
            QApplication.processEvents()

        def committed() -> None:
            alone.execute("INSERT OR REPLACE INTO copies VALUES (?, '')", (f"{time.perf_counter_ns()}",))
            alone.commit()

        told(f"save one of the {name}: lists and sheet follow", saved, committed)


def stalls(desk: LibraryDesk, heart: Heart) -> None:
    """The longest the loop stands still in each gesture, and while everything is looked over."""
    page = desk.show_kind("stages")
    heart.start_anew()
    for end in range(1, 7):
        page.list.finder.setText("orchard"[:end])
        until = time.perf_counter() + 0.2
        while time.perf_counter() < until:
            QApplication.processEvents()
    print(f"loop at a stand, typing into the finder     {heart.told()}")
    page.list.finder.clear()
    page.list.refresh()
    heart.start_anew()
    page.open_item("s300")
    page.editor.form.fields["note"].set_text("typed")
    QApplication.processEvents()
    print(f"loop at a stand, opening a form             {heart.told()}")
    heart.start_anew()
    page.editor.save()
    print(f"loop at a stand, saving                     {heart.told()}")
    for number in (4, 0):
        heart.start_anew()
        page.list.table.sortByColumn(number, page.list.table.horizontalHeader().sortIndicatorOrder())
        print(f"loop at a stand, sorting by column {number}        {heart.told()}")
    desk.network.offer()
    errands: tuple[tuple[str, Callable[[], None], Work], ...] = (
        ("looking all over", desk.health.look, desk.health.work),
        ("following the network", desk.network.reckon, desk.network.work),
    )
    for what, start, work in errands:
        heart.start_anew()
        began = time.perf_counter()
        start()
        while work.busy and time.perf_counter() - began < 20.0:
            QApplication.processEvents()
        took_s, ended = time.perf_counter() - began, not work.busy
        work.call_off()
        work.wait()
        QApplication.processEvents()
        said = f"{took_s:.1f} s" if ended else f"called off after {took_s:.0f} s"
        print(f"loop at a stand, {what:<26} {heart.told()}; {said}")


def main() -> None:
    """Print the ratios."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    print("library desk: / sqlite3 alone")
    application = make_application(["lacet"])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "big.lacet"
        with open_project(path, create=True) as project:
            fill(project)
            session = Session(project)
            session.open_trip("trip")
            desk = LibraryDesk(QtSession(session))
            desk.resize(1280, 800)
            desk.show()
            application.processEvents()
            with closing(sqlite3.connect(path)) as alone:
                listing(desk, alone)
                editing(desk, alone)
                stalls(desk, Heart())
            desk.close()


if __name__ == "__main__":
    main()
