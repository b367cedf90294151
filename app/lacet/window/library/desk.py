"""The library desk: a window beside the journey sheet, a page for each kind of thing the office knows.

Whatever is kept here reaches the sheet at once: the session takes the new catalogue and tells everybody.
"""

import gc
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from lacet.service.keeper import Keeper
from lacet.service.library.fields import BY_NAME, KINDS, Names
from lacet.service.library.looking_after import Remedy
from lacet.service.library.rows import names_of, tariff_is_for
from lacet.tracks.relief import Relief
from lacet.trip.errors import LacetError
from lacet.trip.library import Place
from lacet.window.closing import closes_by_keys
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import Where, command
from lacet.window.drops import FileDrops
from lacet.window.fields import TabWidget
from lacet.window.library.health_page import HealthPage
from lacet.window.library.kind_page import KindPage
from lacet.window.library.network_page import NetworkPage
from lacet.window.library.upkeep import Upkeep
from lacet.window.map.ground_view import At, GroundView, Node
from lacet.window.map.panel import cache_folder, shaded
from lacet.window.parts import label, tool_button
from lacet.window.qt_session import QtSession
from lacet.window.theme import current_theme
from lacet.window.work import Work

QUIET_MS = 6_000
UNDO_KEYS, FREE_UNDO_KEYS = command("undo", Where.LIBRARY).keys
# More than this are undone off the window's thread.
MOST_AT_ONCE = 20
LOOK_AFTER = "To look after"
# Young objects are looked at less often than by default, and all of them hardly ever.
COLLECTS = (20_000, 20, 50)


class LibraryDesk(QWidget):
    """A page a kind, made when it is first shown."""

    def __init__(
        self,
        session: QtSession,
        parent: QWidget | None = None,
        bring_in: Callable[[Sequence[Path]], None] | None = None,
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self._bring_in = bring_in
        self.session = session
        self.keeper = Keeper(session.session)
        self.names: Names = {}
        self.nodes: tuple[Node, ...] = ()
        self.pages: dict[str, KindPage] = {}
        self._stale: set[str] = set()
        self._grounds: tuple[Relief, ...] = ()
        self._shading = Work(self)
        self.setWindowTitle("Library – Lacet")
        self.resize(1240, 780)
        self.sentence = label(name="Message")
        self.back = tool_button("↶ Undo", "Nothing was saved here yet", self.undo, "Undo")
        self.back.setEnabled(False)
        self.tabs = TabWidget()
        self.tabs.setDocumentMode(True)
        self._homes = {kind.name: _home() for kind in KINDS}
        self.health = HealthPage(session)
        self.network = NetworkPage(session)
        self.upkeep = Upkeep(session, self, self._nothing_typed)
        self.upkeep.said.connect(self.tell)
        self._lay_out()
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MS)
        self._quiet.timeout.connect(lambda: self.sentence.setText(""))
        self._later = QTimer(self, singleShot=True, interval=0)
        self._later.timeout.connect(self._catch_up)
        self._wording = session.wording
        session.changed.connect(lambda _: self._on_trip_changed())
        session.library_changed.connect(lambda _: self.refresh())
        session.refused.connect(self.tell)
        self._read_names()
        self.tabs.currentChanged.connect(lambda _: self._show_current())
        self._show_current()
        self._shade()
        if self._bring_in is not None:
            FileDrops(self, self._bring_in)
        self.health.counted.connect(self._on_counted)
        self.health.wants.connect(self.mend)
        self.network.wants.connect(self.open_item)
        self.health.on_library_changed()
        _steady()

    # --- going about

    def page(self, name: str) -> KindPage:
        """The page of a kind, made now if need be."""
        if name not in self.pages:
            made = KindPage(self.session, self.keeper, BY_NAME[name], self.names)
            self.pages[name] = made
            made.said.connect(self.tell)
            made.editor.wants_near.connect(self.show_near)
            made.editor.wants_rates.connect(self.show_rates)
            if name == "stages" and self._bring_in is not None:
                made.list.let_bring_in(self._bring_in)
            layout = self._homes[name].layout()
            assert layout is not None
            layout.addWidget(made)
            # At once, so that it can take the focus.
            made.show()
            self._stale.add(name)
        return self.pages[name]

    def open_item(self, name: str, item_id: str, field: str = "") -> None:
        """Go to an item, and to one of its fields."""
        self.show_kind(name).open_item(item_id, field)

    def show_kind(self, name: str) -> KindPage:
        """Go to the page of a kind."""
        self.tabs.setCurrentWidget(self._homes[name])
        self._catch_up()
        return self.page(name)

    def current(self) -> KindPage | None:
        """The page of the kind that is shown, if one is."""
        shown = self.tabs.currentWidget()
        return next((self.page(name) for name, home in self._homes.items() if home is shown), None)

    def mend(self, remedy: Remedy) -> None:
        """Open the form where something is mended."""
        if remedy.id:
            self.open_item(remedy.kind, remedy.id, remedy.field)
            if remedy.on_stage_desk:
                self.page(remedy.kind).editor.open_stage_desk()
        else:
            self.show_kind(remedy.kind).begin(remedy.texts, remedy.field)

    # --- what can be done

    def undo(self) -> None:
        """Take back what was saved last."""
        keeper = self.keeper
        try:
            last = keeper.last()
            if len(last.steps) <= MOST_AT_ONCE:
                keeper.undo()
                self.tell(f"Undone: {last.says}")
                return
        except LacetError as refusal:
            self.tell(str(refusal))
            return

        def taken_back(_: None) -> None:
            keeper.forget(last)
            self.tell(f"Undone: {last.says}")

        if not self.upkeep.work.busy:
            says = f"Undoing {last.says}"
            self.upkeep.work.run(says, lambda step: keeper.take_back(last, step), taken_back, self.tell)

    def tell(self, says: str) -> None:
        """Say something; it stays for a while."""
        self.sentence.setText(says)
        self.sentence.setToolTip(says)
        self._quiet.start()

    def refresh(self) -> None:
        """Take the library as it is now: what is shown soon, the rest when it is shown next."""
        self._read_names()
        self._stale = set(self.pages)
        self.health.on_library_changed()
        self.network.on_library_changed()
        # The sheet has just followed in this turn of the loop; the lists do in the next.
        self._later.start()
        last = self.keeper.done[-1].says if self.keeper.done else ""
        self.back.setEnabled(bool(last))
        self.back.setToolTip(
            f"Take back: {last} ({UNDO_KEYS}; outside fields {FREE_UNDO_KEYS} too)"
            if last
            else "Nothing was saved here yet"
        )

    # --- within

    def _on_trip_changed(self) -> None:
        """Figures are said in other units from now on."""
        if self._wording != self.session.wording:
            self._wording = self.session.wording
            for page in self.pages.values():
                page.list.table.viewport().update()
            self.network.ways.viewport().update()

    def show_near(self, name: str, at: At) -> None:
        """What of a kind lies near a position."""
        page = self.show_kind(name)
        page.list.finder.setText(f"{at[0]:.5f} {at[1]:.5f}")
        page.list.refresh()

    def show_rates(self, item_id: str, texts: Mapping[str, str]) -> None:
        """The tariffs of something; a new one where there is none yet."""
        page = self.show_kind("tariffs")
        page.list.finder.setText(item_id.replace("-", " "))
        page.list.refresh()
        theirs = [row.id for row in page.list.model.rows if tariff_is_for(row, texts["name"])]
        if theirs:
            page.open_item(theirs[0], "rates")
        else:
            page.begin(texts, "valid_from")

    def _read_names(self) -> None:
        with self.session.session.project.reading() as unit:
            self.names = names_of(unit)
            rows = unit.library.listed(Place)
        self.nodes = tuple(
            Node(row.id, row.name, (row.latitude_deg, row.longitude_deg))
            for row in rows
            if row.latitude_deg is not None and row.longitude_deg is not None
        )

    def _dress(self, view: GroundView | None) -> None:
        if view is not None:
            view.show_all(self.nodes, view.links)
            view.set_grounds(self._grounds, cache_folder())

    def _show_current(self) -> None:
        """Another page: its form is made in this turn of the loop, its list filled in the next."""
        page = self.current()
        if page is not None:
            page.list.finder.setFocus()
        self._later.start()

    def _catch_up(self) -> None:
        """Let what is shown tell of the library as it is now."""
        self._later.stop()
        shown = self.tabs.currentWidget()
        if shown is self.health or shown is self.network:
            shown.on_shown()
        page = self.current()
        if page is not None and page.kind.name in self._stale:
            self._stale.discard(page.kind.name)
            self._dress(page.editor.form.map)
            page.take_library(self.names)

    def _shade(self) -> None:
        """Have the ground shaded off the window's thread; the first time it takes some seconds."""
        inner = self.session.session
        files = inner.project.raster_files(inner.catalogue.region.rasters)
        theme = current_theme().name
        self._shading.run(
            "Shading the ground",
            lambda _: shaded(files, theme),
            self._on_shaded,
            self.tell,
            quiet=True,
        )

    def _on_shaded(self, found: tuple[tuple[Relief, ...], str]) -> None:
        self._grounds, missing = found
        for page in self.pages.values():
            self._dress(page.editor.form.map)
        self.network.set_grounds(self._grounds, cache_folder())
        if missing:
            self.tell(missing)

    def _on_counted(self, number: int) -> None:
        title = f"{LOOK_AFTER} ({number})" if number else LOOK_AFTER
        self.tabs.setTabText(self.tabs.indexOf(self.health), title)

    def _save_shown(self) -> None:
        page = self.current()
        if page is not None:
            page.editor.save()

    def _begin(self) -> None:
        page = self.current()
        if page is not None:
            page.list.wants_new.emit()

    def _find(self) -> None:
        page = self.current()
        if page is not None:
            page.list.finder.setFocus()
            page.list.finder.selectAll()

    def _put_back(self) -> None:
        """Give up what was typed; with nothing typed, close."""
        page = self.current()
        if page is not None and page.editor.edited:
            page.editor.put_back()
        else:
            self.close()

    def _nothing_typed(self) -> bool:
        """Whether nothing is left that was typed and not saved; asks for each."""
        return all(page.editor.may_leave() for page in self.pages.values())

    def _step(self, by: int) -> None:
        self.tabs.setCurrentIndex((self.tabs.currentIndex() + by) % self.tabs.count())

    def _lay_out(self) -> None:
        for kind in KINDS:
            self.tabs.addTab(self._homes[kind.name], kind.title)
        self.tabs.addTab(self.health, LOOK_AFTER)
        self.tabs.addTab(self.network, "Network")
        self.care = QToolButton()
        self.care.setText("Upkeep ▾")
        self.care.setStyleSheet("QToolButton::menu-indicator { image: none; }")
        self.care.setToolTip(command("upkeep", Where.LIBRARY).tip)
        self.care.setAccessibleName("Upkeep of the project")
        self.care.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.care.setMenu(self.upkeep.menu(self.care))
        self.tabs.setCornerWidget(self.care)
        self.tabs.setAccessibleName("What the library holds")
        self.foot = QHBoxLayout()
        self.foot.setContentsMargins(8, 2, 8, 6)
        self.foot.setSpacing(10)
        self.foot.addWidget(self.back)
        self.foot.addWidget(self.sentence, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.tabs, 1)
        column.addLayout(self.foot)
        self.commands = Commands(
            self,
            Where.LIBRARY,
            {
                "save": self._save_shown,
                "undo": self.undo,
                "new": self._begin,
                "find": self._find,
                "put back": self._put_back,
                "upkeep": lambda: self.care.showMenu(),
                "next page": lambda: self._step(1),
                "previous page": lambda: self._step(-1),
            },
        )
        closes_by_keys(self, escape=False)

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._nothing_typed():
            for work in (self._shading, self.health.work, self.network.work):
                work.call_off()
            super().closeEvent(event)
        else:
            event.ignore()


def _steady() -> None:
    """Keep what lives as long as the program out of later garbage collections.

    A full collection looks at every object there is and stops the window for a tenth of a second; lists of
    ten thousand rows bring one about. What is there now stays, so it needn't be looked at again.
    """
    gc.freeze()
    gc.set_threshold(*COLLECTS)


def _home() -> QWidget:
    made = QWidget()
    layout = QVBoxLayout(made)
    layout.setContentsMargins(0, 0, 0, 0)
    return made
