"""The shelf: what continues from the selected day's place, what needs a transfer, and other cards."""

from contextlib import suppress

from PySide6.QtCore import QEvent, QMimeData, QModelIndex, Qt, QTimer, Signal
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QListView,
    QVBoxLayout,
)

from lacet.service.offers import Offer, dinner_offers, lodging_offers, move_offers
from lacet.service.ranking import ShelfStage, continuing, stage_figures, with_transfer
from lacet.service.shown import Opened, Selection
from lacet.store import StageFilter, StoreError
from lacet.trip.drop import (
    CardPayload,
    DayPayload,
    Drop,
    Gap,
    ItemPayload,
    Out,
    Payload,
    StagePayload,
    drop,
    from_json,
    to_json,
)
from lacet.trip.library import Stage
from lacet.trip.words import Way
from lacet.window.carrying import payload_of
from lacet.window.commands.listed import command
from lacet.window.guide import standing_of
from lacet.window.parts import label, tool_button
from lacet.window.qt_session import QtSession
from lacet.window.shelf.delegate import ShelfDelegate
from lacet.window.shelf.filters import FilterButton
from lacet.window.shelf.model import Entry, ShelfModel
from lacet.window.theme import current_theme
from lacet.wording import Wording

TYPING_MS = 80
FAR_SHOWN = 40
# Whether the way itself can be done; beds and dinners are chosen later.
ABOUT_THE_WAY = frozenset(
    ("day_within_limits", "done_by_sunset", "stage_closed", "battery", "days_join_up", "minors")
)
OTHERS = (
    ("rest", "Rest day", "as they like"),
    ("ride", "Transfer", "van or taxi"),
    ("visit", "Visit", "something to see"),
    ("note", "Note", ""),
)


class ShelfList(QListView):
    """The list; takes back cards and days that are pulled off the sheet."""

    dropped_out = Signal(object)
    drag_ended = Signal()

    def _taken_back(self, data: QMimeData) -> Payload | None:
        payload = payload_of(data)
        return payload if isinstance(payload, ItemPayload | DayPayload) else None

    # --- Qt overrides

    def startDrag(self, actions: Qt.DropAction) -> None:
        super().startDrag(actions)
        self.drag_ended.emit()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.dragMoveEvent(event)

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        if self._taken_back(event.mimeData()) is None:
            event.ignore()
        else:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        payload = self._taken_back(event.mimeData())
        if payload is None:
            event.ignore()
            return
        event.acceptProposedAction()
        self.dropped_out.emit(payload)


class ShelfPanel(QFrame):
    """Search, filters and the list."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.setObjectName("panel")
        self.session = session
        self._near: list[ShelfStage] = []
        self._far: list[ShelfStage] = []
        self._shown: object = None
        self.model = ShelfModel(self)
        self.heading = label(name="Where the party stands")
        self.heading.setStyleSheet("font-weight: 600;")
        self.finder = QLineEdit()
        self.finder.setPlaceholderText("Find a stage or place")
        self.finder.setAccessibleName("Find a stage or place")
        self.finder.setClearButtonEnabled(True)
        down = QShortcut(Qt.Key.Key_Down, self.finder, context=Qt.ShortcutContext.WidgetShortcut)
        down.activated.connect(self.go_to_list)
        self.on_foot = tool_button("On foot", "Show stages on foot", self.refresh)
        self.by_bike = tool_button("By bike", "Show stages by bike", self.refresh)
        for button in (self.on_foot, self.by_bike):
            button.setCheckable(True)
            button.setChecked(True)
        self.filters = FilterButton(self.refresh)
        self.list = ShelfList()
        self._lay_out()
        self._typing = QTimer(self, singleShot=True, interval=TYPING_MS)
        self._typing.timeout.connect(self.refresh)
        self.finder.textChanged.connect(lambda _: self._typing.start())
        session.changed.connect(self._on_changed)
        session.selected.connect(self._on_selected)
        session.library_changed.connect(lambda _: self.refresh())

    def _lay_out(self) -> None:
        view = self.list
        view.setModel(self.model)
        view.setItemDelegate(ShelfDelegate(current_theme()))
        view.setFrameShape(QFrame.Shape.NoFrame)
        view.setDragEnabled(True)
        view.setDragDropMode(QAbstractItemView.DragDropMode.DragDrop)
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.setAccessibleName("Shelf")
        view.activated.connect(self._on_activated)
        view.dropped_out.connect(self._on_dropped_out)
        self.list.drag_ended.connect(self.session.drag_ended.emit)
        view.setMouseTracking(True)
        view.entered.connect(self._on_entered)
        view.setStyleSheet("QListView { background: transparent; }")
        filters = QHBoxLayout()
        for button in (self.on_foot, self.by_bike, self.filters):
            filters.addWidget(button)
        filters.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 4, 0)
        column.addWidget(self.heading)
        column.addWidget(self.finder)
        column.addLayout(filters)
        column.addWidget(view, 1)

    def go_to_list(self) -> None:
        """From the finder to the first card that was found."""
        cards = (row for row, entry in enumerate(self.model.entries) if entry.payload or entry.offer)
        first = next(cards, None)
        if first is not None:
            self.list.setCurrentIndex(self.model.index(first))
            self.list.setFocus()

    def place(self) -> str | None:
        """Where the party stands at the end of the selected day."""
        opened, day = self.session.opened, self.session.selection.day
        if opened is None:
            return None
        days = opened.assessment.figures.days
        if not days:
            arrival = opened.trip.arrivals[0] if opened.trip.arrivals else None
            return arrival.hub if arrival else None
        group = days[min(day or 0, len(days) - 1)].group
        return group.end_place if group else None

    def refresh(self) -> None:
        """Show what fits the picked cell: stages, or houses, kitchens, carriers."""
        self.filters.speak(self.session.wording.imperial)
        offers = self._offers()
        for widget in (self.on_foot, self.by_bike, self.filters):
            widget.setVisible(offers is None)
        if offers is None:
            self._show_stages()
            return
        what, found = offers
        day = self.session.selection.day or 0
        self.heading.setText(f"{what}, day {day + 1}")
        wanted = self.finder.text().strip().casefold()
        entries = [
            Entry("card", offer.text, offer.sub, f"{offer.text}, {offer.sub}", offer=offer)
            for offer in found
            if wanted in offer.text.casefold()
        ]
        self._shown = None
        self.model.show(entries or [Entry("heading", "The library has nothing near by")])

    def _offers(self) -> tuple[str, list[Offer]] | None:
        """What the picked cell can take, or None where it is about stages."""
        opened, chosen = self.session.opened, self.session.selection
        if opened is None or chosen.day is None or chosen.day >= len(opened.variant.days):
            return None
        catalogue = self.session.session.catalogue
        if chosen.row == "NIGHT":
            return "Lodgings", lodging_offers(
                opened, catalogue, chosen.day, self.place(), self.session.wording
            )
        if chosen.row == "DINNER":
            return "Dinner", dinner_offers(opened, catalogue, chosen.day, self.place(), self.session.wording)
        if chosen.row == "MOVES":
            return "Carriers", move_offers(opened, catalogue, chosen.day)
        return None

    def _show_stages(self) -> None:
        """Ask the library again and sort by what can come next, where anything it rests on has changed."""
        inner = self.session.session
        place, chosen, day = self.place(), self._filter(), self.session.selection.day
        buttons = ((Way.WALKING, self.on_foot), (Way.CYCLING, self.by_bike))
        ways = tuple(way for way, button in buttons if button.isChecked())
        # Whether a day works rests on the whole trip; else a trip matters only by where it stands.
        opened = self.session.opened
        trip = (opened.trip, opened.variant_id) if opened and self.filters.works.isChecked() else bool(opened)
        rests_on = (place, chosen, day, ways, trip, self.filters.far.isChecked(), inner.wording)
        if (inner.catalogue, rests_on) == self._shown:
            return
        near, far = self._near, self._far
        # A lost or busy file is told elsewhere; until then what was there is offered on.
        with suppress(StoreError):
            near, far = self._near, self._far = self._asked(chosen, place, ways)
            self._shown = (inner.catalogue, rests_on)
        found = inner.catalogue.place(place) if place else None
        self.heading.setText(
            f"From {found.name}" + (f", day {day + 1}" if day is not None else "") if found else "All stages"
        )
        entries = [_stage_entry(each, inner.wording) for each in near]
        if not inner.catalogue.count_current(Stage):
            entries.append(Entry("heading", f"No stages yet ({command('bring').keys[0]})"))
        elif not near:
            entries.append(Entry("heading", "Nothing continues from here"))
        if far:
            nearest = f": the {FAR_SHOWN} nearest" if len(far) == FAR_SHOWN else ""
            entries.append(Entry("heading", f"With a transfer{nearest}"))
            entries += [_stage_entry(each, inner.wording) for each in far]
        if self.session.opened is not None:
            entries.append(Entry("heading", "Other cards"))
            entries += [
                Entry("card", text, sub, payload=to_json(CardPayload(kind))) for kind, text, sub in OTHERS
            ]
        self.model.show(entries)

    def _asked(
        self, chosen: StageFilter, place: str | None, ways: tuple[Way, ...]
    ) -> tuple[list[ShelfStage], list[ShelfStage]]:
        """What continues, and, where it is to be shown, what needs a transfer."""
        inner = self.session.session
        with inner.project.reading() as unit:
            near = continuing(unit.library.stage_rows, chosen, place, inner.catalogue, ways)
        if self.filters.works.isChecked():
            near = [offered for offered in near if self._works(offered)]
        if near and not chosen.words and not self.filters.far.isChecked():
            return near, []
        with inner.project.reading() as unit:
            ask = unit.library.stage_rows
            return near, with_transfer(ask, chosen, place, inner.catalogue, ways, most=FAR_SHOWN)

    def _filter(self) -> StageFilter:
        return StageFilter(
            words=self.finder.text().strip(),
            distance_to_m=self.filters.length_m,
            ascent_to_m=self.filters.climb_m,
            footing=self.filters.footing,
        )

    def _works(self, offered: ShelfStage) -> bool:
        """Whether the day after the selected one would work with this stage and nothing else."""
        opened, day = self.session.opened, self.session.selection.day
        if opened is None or day is None:
            return True
        found = drop(opened.trip, opened.variant_id, _payload(offered), Gap(day + 1), standing_of(opened))
        tried = self.session.session.try_out(found.edit) if isinstance(found, Drop) else None
        return tried is not None and not any(
            finding.open_stop and finding.check in ABOUT_THE_WAY
            for finding in tried.assessment.findings_of(day + 2)
        )

    def _on_activated(self, index: QModelIndex) -> None:
        """Enter on an entry takes it in hand for the keyboard."""
        entry = self.model.entry(index)
        if entry is not None and entry.offer is not None:
            self.session.apply(entry.offer.edit, entry.offer.says)
        elif entry is not None and entry.payload:
            self.session.picked_up.emit(from_json(entry.payload), entry.text)

    def _on_dropped_out(self, payload: Payload) -> None:
        """A card or a day pulled off the sheet and let go over the shelf is taken out."""
        opened = self.session.opened
        if opened is None:
            return
        found = drop(opened.trip, opened.variant_id, payload, Out(), standing_of(opened))
        if isinstance(found, Drop):
            self.session.apply(found.edit, found.says)

    def _on_entered(self, index: QModelIndex) -> None:
        """The mouse over an offer shows what it would change."""
        entry = self.model.entry(index)
        inner = self.session.session
        if entry is not None and entry.offer is not None:
            inner.start_preview(entry.offer.edit, self)
        else:
            inner.stop_preview(self)

    def _on_changed(self, _: Opened) -> None:
        self.refresh()

    def _on_selected(self, _: Selection) -> None:
        self.refresh()

    # --- Qt overrides

    def leaveEvent(self, event: QEvent) -> None:
        self.session.session.stop_preview(self)
        super().leaveEvent(event)


def _payload(offered: ShelfStage) -> StagePayload:
    row = offered.row
    return StagePayload(row.id, row.version, offered.way, row.from_place, row.to_place, offered.backward)


def _stage_entry(offered: ShelfStage, wording: Wording) -> Entry:
    way = "on foot" if offered.way is Way.WALKING else "by bike"
    away = "" if offered.continues else f"  · {wording.length(offered.away_m)} away"
    figures = stage_figures(offered, wording)
    payload = _payload(offered)
    return Entry(
        "stage",
        offered.title,
        f"{figures}{away}",
        f"{offered.title}, {offered.row.name}, {way}, {figures}{away}",
        offered,
        to_json(payload),
    )
