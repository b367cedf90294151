"""The one window: header, shelf, sheet with its totals, map and what to settle.

Dialogs are imported when they are asked for, so that the window is there sooner.
"""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, Qt, Signal
from PySide6.QtGui import QCloseEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QMainWindow, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from lacet.service.sheet.totals import totals_text
from lacet.trip.edits import fresh_trip_id, set_party
from lacet.trip.errors import LacetError
from lacet.trip.library import Place, Stage
from lacet.window.closing import close_others, closes_by_keys
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import Need, Where
from lacet.window.drops import FileDrops
from lacet.window.first_steps import FirstSteps
from lacet.window.header import Header
from lacet.window.hints import HintBar
from lacet.window.lost_file import LostFile
from lacet.window.map.panel import MapPanel
from lacet.window.opening import GEOMETRY, keep_last_seen, place_window
from lacet.window.other_windows import OtherWindows
from lacet.window.projects import ask_open, new_library
from lacet.window.qt_session import QtSession
from lacet.window.settle_panel import SettlePanel
from lacet.window.sheet.panel import SheetPanel
from lacet.window.shelf.panel import ShelfPanel
from lacet.window.starting import Left, keep_left
from lacet.window.variant_menu import copy, propose, rename

if TYPE_CHECKING:
    from lacet.window.intake.desk import DropTable

SHELF_WIDTH = 216
LEAST_MAP_HEIGHT = 168
MAP_SHARE = 0.34
REGION_PAGE = 4  # of the settings, which are imported when they are asked for


Opens = Callable[[Path], "MainWindow"]


class MainWindow(QMainWindow):
    """Puts the panels together; holds no state of the trip. `closed` when it lets go of its project.

    `opens` makes the window on another project.
    """

    closed = Signal()

    def __init__(self, session: QtSession, opens: Opens) -> None:
        super().__init__()
        self.session = session
        self._opens = opens
        self.others = OtherWindows(session, self)
        self.lost_file = LostFile(session, self, self._go_on_at)
        self.library: QWidget | None = None
        self.drop_table: DropTable | None = None
        self.stage_desk: QWidget | None = None
        self.next_window: MainWindow | None = None
        self._map_height_chosen = False
        self.setWindowTitle("Lacet")
        self.commands = Commands(self, Where.MAIN, self._doing(), self._lacks)
        self.header = Header(session, self.commands)
        self.shelf = ShelfPanel(session)
        self.sheet = SheetPanel(session)
        self.first_steps = FirstSteps(session, self.commands)
        self.hints = HintBar()
        self.map = MapPanel(session)
        self.settle = SettlePanel(session)
        self.setCentralWidget(self._laid_out())
        session.changed.connect(lambda opened: self.setWindowTitle(f"{opened.trip.name} – Lacet"))
        session.changed.connect(lambda _: self._share_height())
        session.refused.connect(self.header.show_sentence)
        session.kept.connect(self.header.show_quietly)
        session.saving.connect(self.header.show_quietly)
        self.commands.refused.connect(self.header.show_sentence)
        self.header.project_wanted.connect(self.go_to)
        session.changed.connect(lambda _: self.show_first_steps())
        session.library_changed.connect(lambda _: self.show_first_steps())
        session.lost_race.connect(self.decide_race)
        self.lost_file.raced.connect(self.decide_race)
        self.lost_file.refused.connect(self.header.show_sentence)
        session.client_looks.connect(self._on_client_looks)
        session.stage_desk_asked.connect(self.open_stage_desk)
        closes_by_keys(self, escape=False)
        self.drops = FileDrops(self, self.bring_in)
        place_window(self)
        self.sheet.view.setFocus()

    def choose_trip(self) -> None:
        """Open another trip of the project."""
        from lacet.window.dialogs.trips import TripChooser

        chosen = TripChooser.ask(self.session, self)
        if chosen is not None:
            self.session.do(lambda: self.session.session.open_trip(chosen))

    def begin_trip(self) -> None:
        """A new trip from an enquiry."""
        from lacet.service.standards import standard_trip, trip_rows
        from lacet.window.dialogs.trips import EnquiryDialog

        inner = self.session.session
        hubs = tuple(place for place in inner.catalogue.current(Place) if place.hub)
        rows = trip_rows(inner.project)
        enquiry = EnquiryDialog.ask(hubs, inner.as_of, self, [row for row in rows if row.standard])
        if enquiry is not None:
            fresh = fresh_trip_id({row.id for row in rows})
            trip = enquiry.trip(fresh, hubs, standard_trip(inner.project, enquiry.standard or ""))
            self.session.do(lambda: inner.add_trip(trip), f"New trip: {trip.name}")

    def save_standard(self) -> None:
        """The open variant as a standard trip, without the client."""
        from lacet.window.standards import save_as_standard

        save_as_standard(self.session, self)

    def step_variant(self, steps: int) -> None:
        """Show the next or the previous variant."""
        opened = self.session.opened
        if opened is not None:
            ids = [variant.id for variant in opened.trip.variants]
            chosen = ids[(ids.index(opened.variant_id) + steps) % len(ids)]
            self.session.do(lambda: self.session.session.show_variant(chosen))

    def add_rest_day(self) -> None:
        """A rest day after the selected one."""
        day = self.session.selection.day
        self.sheet.gestures.add_rest_day(0 if day is None else day + 1)

    def show_library(self) -> None:
        """The library desk, in a window of its own."""
        from lacet.window.library.desk import LibraryDesk

        if self.library is None:
            self.library = LibraryDesk(self.session, self, self.bring_in)
        self.library.show()
        self.library.raise_()
        self.library.activateWindow()

    def bring_in(self, named: Sequence[Path] = ()) -> None:
        """GPX files, sheets and folders, looked at before they are taken in."""
        if self.session.client_looks_on:
            self.header.show_sentence(Need.OFFICE)
            return
        from lacet.window.intake.desk import DropTable

        if self.drop_table is None:
            self.drop_table = DropTable(self.session, self)
        self.drop_table.show()
        self.drop_table.raise_()
        self.drop_table.activateWindow()
        if named:
            self.drop_table.bring(named)

    def edit_stage(self) -> None:
        """The stage desk, on the selected leg's stage or another."""
        from lacet.window.stage_desk.choosing import StageChooser, selected_stage

        stages = self.session.session.catalogue.current(Stage)
        chosen = StageChooser.ask(stages, selected_stage(self.session), self)
        if chosen is not None:
            self.open_stage_desk(chosen, self)

    def open_stage_desk(self, stage_id: str, parent: QWidget) -> None:
        """A stage's line in a window of its own, over the window it was asked from."""
        # Late: rasters and their library are no part of the window's first second.
        from lacet.window.stage_desk.desk import open_desk

        self.stage_desk = open_desk(self.session, stage_id, parent)

    def make_proposal(self) -> None:
        """The variant as its client will read it, looked at before it is saved."""
        # Templates and the browser engine are no part of the first second of a window.
        from lacet.window.proposal import show_proposal

        show_proposal(self.session, self)

    def make_pack(self) -> None:
        """What guests find their way with, told what it lacks before it is saved."""
        from lacet.window.pack import show_pack

        show_pack(self.session, self)

    def edit_party(self) -> None:
        """Guests, needs, limits, wishes."""
        from lacet.window.dialogs.party import PartyDialog

        opened = self.session.opened
        if opened is not None:
            party = PartyDialog.ask(opened.trip.party, imperial=self.session.wording.imperial, parent=self)
            if party is not None:
                self.session.apply(lambda trip: set_party(trip, party), "edit the party")

    def edit_settings(self, page: int = 0) -> None:
        """How figures are said, the office, the base map, the house rules, the region."""
        from lacet.window.dialogs.settings import Page
        from lacet.window.settings import ask_settings

        if ask_settings(self.session, self, Page(page)):
            self.map.read_settings()

    def _on_client_looks(self, looks: bool) -> None:
        """The library desk and the drop table show what suppliers ask, so they close."""
        for window in (self.library, self.drop_table) if looks else ():
            if window is not None:
                window.close()

    def decide_race(self, race: LacetError) -> None:
        """Another window saved this trip first: whose goes on?"""
        from lacet.window.dialogs.race import KEEP, RaceDialog

        if RaceDialog.ask(str(race), self) == KEEP:
            self.session.keep_mine()
        else:
            self.session.do(self.session.session.take_theirs)

    def leave_at(self, path: Path) -> None:
        """The next window on this file begins where this one is."""
        opened = self.session.opened
        if opened is not None:
            keep_left(path, Left(opened.trip.id, opened.variant_id, self.session.selection.day))

    def _go_on_at(self, path: Path, says: str) -> None:
        """Go on in another file as in this one, and say there what was done."""
        self.leave_at(path)
        self.go_to(path)
        if self.next_window is not None:
            self.next_window.header.show_sentence(says)

    def _doing(self) -> dict[str, Callable[[], object]]:
        """What each command of this window does."""
        session = self.session
        return {
            "trips": self.choose_trip,
            "new": self.begin_trip,
            "party": self.edit_party,
            "save standard": self.save_standard,
            "since standard": lambda: self.others.show("since standard"),
            "undo": session.undo,
            "redo": session.redo,
            "rest day": self.add_rest_day,
            "find": lambda: self.shelf.finder.setFocus(),
            "copy variant": lambda: self._with_variant(copy),
            "rename variant": lambda: self._with_variant(rename, self),
            "propose variant": lambda: self._with_variant(propose),
            "next variant": lambda: self.step_variant(1),
            "previous variant": lambda: self.step_variant(-1),
            "bookings": lambda: self.others.show("bookings"),
            "compare": lambda: self.others.show("compare"),
            "price": lambda: self.others.show("price"),
            "what if": lambda: self.others.show("what if"),
            "client looks": lambda: session.let_client_look(not session.client_looks_on),
            "proposal": self.make_proposal,
            "pack": self.make_pack,
            "library": self.show_library,
            "bring": self.bring_in,
            "stage": self.edit_stage,
            "settings": self.edit_settings,
            "region": lambda: self.edit_settings(REGION_PAGE),
            "open project": lambda: self._choose_project(ask_open),
            "new project": lambda: self._choose_project(new_library),
            "elsewhere": lambda: self.lost_file.save_elsewhere(),
            "commands": self.find_command,
            "keys": self.show_keys,
            "licences": self.show_licences,
        }

    def _lacks(self, need: Need) -> bool:
        return self.session.client_looks_on if need is Need.OFFICE else self.session.opened is None

    def _with_variant(self, does: Callable[..., None], *more: object) -> None:
        opened = self.session.opened
        if opened is not None:
            does(self.session, opened.variant_id, *more)

    def find_command(self) -> None:
        """All commands of this window, found by words."""
        from lacet.window.dialogs.commands import CommandList

        CommandList(self.commands, self).exec()

    def show_keys(self) -> None:
        """All keys, window by window."""
        from lacet.window.dialogs.commands import KeysPage

        KeysPage(self).exec()

    def show_licences(self) -> None:
        """Whose packages Lacet stands on."""
        from lacet.window.dialogs.licences import LicencesDialog

        LicencesDialog(self).exec()

    def _choose_project(self, ask: Callable[[QWidget], Path | None]) -> None:
        try:
            chosen = ask(self)
        except LacetError as refusal:
            self.header.show_sentence(str(refusal))
            return
        if chosen is not None:
            self.go_to(chosen)

    def show_first_steps(self) -> None:
        """What comes first while no trip is open, else the sheet; hints only where they can be followed."""
        inner = self.session.session
        self.main.setCurrentWidget(self.first_steps if inner.opened is None else self.sheet)
        self.below.setVisible(inner.opened is not None)
        self.hints.allow(inner.opened is not None and inner.catalogue.count_current(Stage) > 0)
        if inner.opened is None:
            self.shelf.refresh()

    def go_to(self, path: Path) -> None:
        """Open another project in the place of this one; this one stays when that can't be opened."""
        # Whoever keeps a window of this project open stays with it.
        if not close_others(self) or not self.lost_file.may_close():
            return
        try:
            other = self._opens(path)
        except LacetError as refusal:
            self.header.show_sentence(str(refusal))
            return
        other.setGeometry(self.geometry())
        other.show()
        self.next_window = other
        self.close()

    def _laid_out(self) -> QWidget:
        self.below = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        self.below.addWidget(self.map)
        self.below.addWidget(self.settle)
        self.below.setStretchFactor(0, 3)
        self.below.setStretchFactor(1, 2)
        self.below.setSizes([620, 400])
        self.right = QSplitter(Qt.Orientation.Vertical, childrenCollapsible=False)
        self.main = QStackedWidget()
        self.main.addWidget(self.sheet)
        self.main.addWidget(self.first_steps)
        self.right.addWidget(self.main)
        self.right.addWidget(self.below)
        self.right.setStretchFactor(0, 1)
        self.right.splitterMoved.connect(self._on_splitter_moved)
        self.across = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        self.across.addWidget(self.shelf)
        self.across.addWidget(self.right)
        self.across.setStretchFactor(1, 1)
        self.across.setSizes([SHELF_WIDTH, 1000])
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        column.addWidget(self.hints)
        column.addWidget(self.across, 1)
        return whole

    def _on_splitter_moved(self, *_: int) -> None:
        """From now on the person decides how high the map is."""
        self._map_height_chosen = True

    def _share_height(self) -> None:
        """Every row of the sheet first; the map gets up to a third of a large screen."""
        if not self._map_height_chosen:
            whole = self.right.height()
            spare = whole - self.sheet.least_height() - self.right.handleWidth()
            below = max(LEAST_MAP_HEIGHT, min(round(whole * MAP_SHARE), spare))
            self.right.setSizes([whole - below, below])

    # --- Qt overrides

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_height()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._share_height()

    def closeEvent(self, event: QCloseEvent) -> None:
        if not close_others(self) or not self.lost_file.may_close():
            event.ignore()
            return
        QSettings().setValue(GEOMETRY, self.saveGeometry())
        opened = self.session.opened
        if opened is not None:
            # The first picture of the next start; what a client may see, since it is shown unasked.
            totals = totals_text(opened, show_money=False, wording=self.session.wording)
            path = self.session.session.project.path
            keep_last_seen(path, totals)
            self.leave_at(path)
        self.session.stop_following()
        self.map.shut()
        super().closeEvent(event)
        self.closed.emit()
