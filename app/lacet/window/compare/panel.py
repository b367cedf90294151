"""Two to four variants of the open trip side by side, kept up to date while the trip is edited."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QCloseEvent, QFont, QFontMetrics, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMenu,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from lacet.compare import Comparison, Side, compare
from lacet.compare.comparison import MOST
from lacet.service.documents import COMPARISON, Order, Whom
from lacet.service.eyes import for_eyes
from lacet.service.gathering import as_open
from lacet.service.shown import Opened, Selection, Shown
from lacet.service.taking import Taking
from lacet.service.variants_beside import Assessed
from lacet.trip import edits
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant
from lacet.window.beside import Beside
from lacet.window.compare.accept import AcceptDialog
from lacet.window.compare.days_table import DaysTable
from lacet.window.compare.figures_table import FiguresTable
from lacet.window.compare.look import SWATCH, swatch
from lacet.window.compare.profiles import Profiles
from lacet.window.compare.route_map import RouteMap
from lacet.window.fields import ComboBox
from lacet.window.file_dialogs import ask_save
from lacet.window.flow_layout import FlowLayout
from lacet.window.map.panel import shaded
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession
from lacet.window.theme import Theme, current_theme
from lacet.window.work import Work

MOST_FIGURES = 0.56
SIDE_PX = 10
FEW = "Choose two to four variants to set side by side."
HOW = "Drag a day, or a run of days, onto another variant; or choose them and press Return."

FORMS = {".xlsx": "Workbook", ".html": "Web page", ".pdf": "PDF"}
READERS = {Whom.CLIENT: "for the client", Whom.OFFICE: "for the office, with margins"}


class ComparePanel(Beside):
    """A window of its own beside the sheet; follows every edit, and every drag before it is one."""

    saved = Signal(bool)

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.theme: Theme = current_theme()
        self.resize(1240, 780)
        self.found: Comparison | None = None
        self.assessed = Assessed(session.session)
        self.work, self.saving = Work(self), Work(self)
        self._chosen: list[str] = []
        self._trip = ""
        self._met: Opened | None = None
        self._few_before = False
        self._shared = (0, 0)
        self._dragging = False
        self._grounded = False
        self.chips: list[QPushButton] = []
        self.base = ComboBox()
        self.base.setAccessibleName("Base: the variant the others are held against")
        self.base.currentIndexChanged.connect(lambda _: self._on_base_chosen())
        self.plot = Profiles(self.theme)
        self.map = RouteMap(self.theme)
        self.figures = FiguresTable(self.theme)
        self.days = DaysTable(self.theme)
        self.sentence = label(HOW, name="Message", quiet=True)
        self._lay_out()
        self.plot.told.connect(lambda says: self.sentence.setText(says or HOW))
        self.days.tried.connect(self._on_tried)
        self.days.let_go.connect(self._on_let_go)
        self.days.pointed.connect(self._on_pointed)
        session.refused.connect(self.sentence.setText)
        self.follow()

    def _lay_out(self) -> None:
        self.chip_row = QWidget()
        FlowLayout(self.chip_row)
        self.propose_button = push_button("Make it the proposed one", self.propose, primary=True)
        self.accept_button = push_button("Accepted…", self.accept_or_withdraw)
        self.export_button = push_button("Export", lambda: None)
        self.export_button.setMenu(self._export_menu())
        actions = QHBoxLayout()
        actions.addWidget(label("Held against"))
        actions.addWidget(self.base)
        actions.addStretch(1)
        for button in (self.export_button, self.accept_button, self.propose_button):
            actions.addWidget(button)
        above = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        above.addWidget(self.plot)
        above.addWidget(self.map)
        above.setSizes([760, 460])
        below = self.below = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        below.addWidget(self.figures)
        below.addWidget(self.days)
        below.setStretchFactor(0, 0)
        below.setStretchFactor(1, 1)
        parts = QSplitter(Qt.Orientation.Vertical, childrenCollapsible=False)
        parts.addWidget(above)
        parts.addWidget(below)
        parts.setSizes([210, 460])
        parts.setStretchFactor(0, 1)
        parts.setStretchFactor(1, 2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(SIDE_PX, 8, SIDE_PX, 6)
        whole.addWidget(self.chip_row)
        whole.addLayout(actions)
        whole.addWidget(parts, 1)
        whole.addWidget(self.sentence)

    def chosen(self) -> list[str]:
        """Ids of the variants that are shown, in the order of their letters."""
        return list(self._chosen)

    def choose(self, variant_id: str, shown: bool) -> None:
        """Show a variant, or leave it out."""
        if shown and len(self._chosen) == MOST:
            self.sentence.setText(f"No more than {MOST} fit side by side: leave one out first.")
        elif shown and variant_id not in self._chosen:
            self._chosen.append(variant_id)
        elif not shown and variant_id in self._chosen:
            self._chosen.remove(variant_id)
        self._met = None
        self.refresh()

    def propose(self) -> None:
        """Make the base variant the proposed one."""
        chosen = self.base.currentData()
        if chosen:
            self.session.apply(lambda trip: edits.propose(trip, str(chosen)), "propose this variant")

    def accept_or_withdraw(self) -> None:
        """Write down that the client said yes to the base variant, or take that back."""
        # The revision the client accepts is one that is saved.
        saved = self.session.finish_saving()
        opened, chosen = self.session.opened, self.base.currentData()
        variant = opened.trip.variant(str(chosen)) if opened is not None else None
        if not saved or opened is None or variant is None:
            return
        if opened.trip.accepted is not None and opened.trip.accepted.variant == variant.id:
            self.session.apply(edits.withdraw_acceptance, "the client thinks again")
            return
        price = self.assessed.of(opened, variant).quote.total
        yes = AcceptDialog.ask(variant.name, price, self.session.session.as_of, self)
        if yes is not None:
            self.session.apply(
                lambda trip: edits.accept(
                    trip, variant.id, revision=opened.revision, price=yes.price, on=yes.on
                ),
                "accepted by the client",
            )

    def save_as(self, path: Path, *, for_client: bool) -> None:
        """Write what is shown as a file of the kind its ending names, off the window's thread.

        `saved` tells whether it was; a refusal is told in a sentence.
        """
        opened = self.session.opened
        if self.found is None or opened is None:
            self._on_saved(False, FEW)
            return
        inner = self.session.session
        whom = Whom.CLIENT if for_client or self.session.client_looks_on else Whom.OFFICE
        order = Order(it=as_open(inner, opened), whom=whom, beside=self.found, over=True)

        self.saving.run(
            f"Making {path.name}",
            lambda _: COMPARISON.hand_over(inner.project, order, path),
            lambda _: self._on_saved(True, f"Saved as {path.name}."),
            lambda refusal: self._on_saved(False, refusal),
            may_be_called_off=False,
        )

    def _on_saved(self, well: bool, says: str) -> None:
        self.sentence.setText(says)
        self.saved.emit(well)

    def refresh(self) -> None:
        """Compare what is chosen, as it is or as it would become."""
        opened = self.session.opened
        if opened is not None and opened is not self._met:
            self._meet(opened)
        shown = self.session.session.preview or opened
        chosen = self._chosen
        if shown is None or not 2 <= len(chosen) <= MOST:
            self.found = None
            self._draw(None, [], [])
            self.sentence.setText(FEW)
            return
        variants = [variant for variant in shown.trip.variants if variant.id in chosen]
        if len(variants) < 2:
            return
        base = next((index for index, each in enumerate(variants) if each.id == self.base.currentData()), 0)
        views = [
            Shown(shown.trip, each.id, self.assessed.of(shown, each), shown.bookings) for each in variants
        ]
        looks = self.session.client_looks_on
        views = [for_eyes(view, looks) for view in views]
        sides = [Side(view.variant, view.assessment) for view in views]
        inner = self.session.session
        self.found = compare(sides, inner.catalogue, base, show_money=not looks, wording=inner.wording)
        self._draw(self.found, views, [letter(shown.trip, each.id) for each in variants])

    # --- within

    def _draw(self, found: Comparison | None, views: list[Shown], letters: list[str]) -> None:
        catalogue, wording = self.session.session.catalogue, self.session.wording
        self.plot.show_comparison(found, letters, wording)
        self.map.show_routes(views, letters, catalogue)
        self.figures.show_comparison(found, letters, wording)
        self._share_width(len(letters))
        if not self._dragging:
            # While days are held over the table its lines stay where they are under the mouse.
            self.days.show_comparison(found, letters, catalogue)

    def _share_width(self, count: int) -> None:
        """As much for the figures as they need, up to a good half; more if the person likes."""
        if count and (count, self.width()) != self._shared:
            self._shared = count, self.width()
            room = self.width() - 2 * SIDE_PX - self.below.handleWidth()
            needed = min(self.figures.whole_width(), round(room * MOST_FIGURES))
            self.figures.setMinimumWidth(needed)
            self.below.setSizes([needed, room - needed])

    def _meet(self, opened: Opened) -> None:
        """Variants may have come, gone, changed names."""
        self._met, trip = opened, opened.trip
        self.setWindowTitle(f"Side by side: {trip.name} – Lacet")
        there = [variant.id for variant in trip.variants]
        if trip.id != self._trip:
            self._trip, self._chosen = trip.id, there[:MOST]
        self._chosen = [each for each in there if each in self._chosen]
        if len(self._chosen) < 2 and len(there) > 1 and self._few_before:
            self._chosen = there[:2]
        self._few_before = len(there) < 2
        self._show_chips(trip)
        self._show_bases(trip)
        self._name_buttons(trip)

    def _show_chips(self, trip: Trip) -> None:
        """One for each variant, made anew only when variants come or go."""
        if [chip.property("variant") for chip in self.chips] != [variant.id for variant in trip.variants]:
            self._make_chips(trip)
        for chip, variant in zip(self.chips, trip.variants, strict=True):
            self._dress_chip(chip, trip, variant)

    def _make_chips(self, trip: Trip) -> None:
        row = self.chip_row.layout()
        assert row is not None, "laid out before anything is shown"
        for old in self.chips:
            row.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.chips = []
        for variant in trip.variants:
            chip = QPushButton()
            chip.setProperty("variant", variant.id)
            chip.setCheckable(True)
            chip.setIconSize(SWATCH)
            chip.toggled.connect(lambda on, chosen=variant.id: self.choose(chosen, on))
            row.addWidget(chip)
            chip.show()
            self.chips.append(chip)

    def _dress_chip(self, chip: QPushButton, trip: Trip, variant: Variant) -> None:
        shown = variant.id in self._chosen
        accepted = trip.accepted is not None and trip.accepted.variant == variant.id
        state = "  ·  accepted" if accepted else "  ·  proposed" if trip.proposed == variant.id else ""
        chip.setText(f"{letter(trip, variant.id)}  {variant.name}{state}")
        with QSignalBlocker(chip):
            chip.setChecked(shown)
        chip.setIcon(swatch(self._chosen.index(variant.id) if shown else None, self.theme))
        chip.setToolTip("Shown: press to leave it out" if shown else "Press to set it beside the others")
        chip.setAccessibleName(f"Variant {chip.text()}")
        bold = QFont(chip.font())
        bold.setWeight(QFont.Weight.DemiBold)
        chip.setMinimumWidth(QFontMetrics(bold).horizontalAdvance(chip.text()) + SWATCH.width() + 58)
        chip.updateGeometry()

    def _show_bases(self, trip: Trip) -> None:
        held = self.base.currentData()
        with QSignalBlocker(self.base):
            self.base.clear()
            for variant_id in self._chosen:
                variant = trip.variant(variant_id)
                assert variant is not None, "only variants that are there are chosen"
                self.base.addItem(f"{letter(trip, variant_id)}  {variant.name}", variant_id)
            self.base.setCurrentIndex(max(self.base.findData(held), 0))

    def _name_buttons(self, trip: Trip) -> None:
        """What a press would do to the base variant."""
        chosen = self.base.currentData()
        if chosen is None or trip.variant(str(chosen)) is None:
            return
        mark = letter(trip, str(chosen))
        accepted = trip.accepted is not None and trip.accepted.variant == chosen
        self.accept_button.setText("Not accepted any more" if accepted else f"{mark} is accepted…")
        self.propose_button.setText(f"Propose {mark}")
        self.propose_button.setEnabled(trip.proposed != chosen)

    def _export_menu(self) -> QMenu:
        menu = QMenu(self)
        menu.aboutToShow.connect(lambda: self._fill_export_menu(menu))
        return menu

    def _fill_export_menu(self, menu: QMenu) -> None:
        menu.clear()
        for whom in COMPARISON.whom:
            if whom is Whom.OFFICE and self.session.client_looks_on:
                continue
            for ending in COMPARISON.endings:
                action = menu.addAction(f"{FORMS[ending]} {READERS[whom]}…")
                action.triggered.connect(self._asker(ending, whom is Whom.CLIENT))

    def _asker(self, ending: str, for_client: bool) -> Callable[..., None]:
        def ask(_: bool = False) -> None:
            chosen = ask_save(self, "Where the comparison goes", f"side-by-side{ending}", f"*{ending}")
            if chosen is not None:
                self.save_as(chosen[0].with_suffix(ending), for_client=for_client)

        return ask

    def _on_base_chosen(self) -> None:
        self._met = None
        self.refresh()

    def _on_tried(self, found: Taking | None) -> None:
        was, self._dragging = self._dragging, found is not None
        inner = self.session.session
        if found is None:
            inner.stop_preview(self)
            if was:
                self.sentence.setText(HOW)
        else:
            inner.start_preview(found.edit, self)
            self.sentence.setText(f"{found.says[0].upper()}{found.says[1:]}")

    def _on_let_go(self, found: Taking) -> None:
        self._dragging = False
        if self.session.apply(found.edit, found.says):
            self.sentence.setText(f"Done: {found.says}.")

    def _on_pointed(self, side: int, day: int) -> None:
        """The sheet follows where the variant is the open one."""
        opened = self.session.opened
        shown = None if self.found is None else self.found.sides[side].variant.id
        if opened is not None and shown == opened.variant_id:
            self.session.select(Selection(day=day))

    # --- Qt overrides

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.days.setFocus()
        if not self._grounded:
            self._grounded = True
            inner = self.session.session
            files = inner.project.raster_files(inner.catalogue.region.rasters)
            tint = self.theme.name
            self.work.run(
                "Shading the ground",
                lambda _: shaded(files, tint)[0],
                self.map.show_ground,
                self.sentence.setText,
                quiet=True,
            )

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width(self.days.sides)

    def closeEvent(self, event: QCloseEvent) -> None:
        super().closeEvent(event)
        self.session.session.stop_preview(self)
        self.work.wait()
        self.saving.wait()
