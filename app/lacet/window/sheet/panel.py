"""The sheet with its totals: reads the session, turns what the view tells into gestures."""

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from lacet.service.eyes import for_eyes
from lacet.service.sheet.table import Reader, SheetTable, sheet_table
from lacet.service.sheet.totals import totals_text
from lacet.service.shown import Opened, Selection, Shown
from lacet.trip.drop import Gap, ItemPayload, Out, Payload, StayPayload
from lacet.window.gestures import Gestures
from lacet.window.guide import DropGuide
from lacet.window.parts import ElidedLabel, tool_button
from lacet.window.qt_session import QtSession, Spot
from lacet.window.sheet.carry import Carry
from lacet.window.sheet.model import SheetModel
from lacet.window.sheet.view import SheetView
from lacet.window.theme import current_theme


class SheetPanel(QWidget):
    """Totals above, the sheet below; shows a preview while there is one."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
        self.theme = current_theme()
        self.show_money = True
        self._following = False
        self.model = SheetModel(self)
        self.view = SheetView(self.model, self.theme)
        self.guide = DropGuide(session, self)
        self.carry = Carry(session, self.guide)
        self._lay_out()
        self.view.dragged_over.connect(self.guide.over)
        self.view.dropped.connect(self.guide.let_go)
        self.view.drag_left.connect(self.guide.leave)
        self.view.carried_key.connect(self._on_carried_key)
        self.view.picked.connect(self._on_picked_up)
        self.view.card_removed.connect(self._on_card_removed)
        self.view.stay_pulled.connect(self._on_stay_pulled)
        self.view.stay_let_go.connect(self._on_stay_let_go)
        self.gestures = Gestures(session, self)
        self.view.card_menu_wanted.connect(self.gestures.card_menu)
        self.view.day_menu_wanted.connect(self.gestures.day_menu)
        self.view.day_opened.connect(self.gestures.edit_day)
        self.carry.says.connect(self.hover_text.setText)
        session.picked_up.connect(self._on_picked_up)
        session.drag_ended.connect(self.view.drag_ended)
        self.view.days.day_pressed.connect(self._on_day_pressed)
        session.changed.connect(self._on_changed)
        session.previewed.connect(self._on_previewed)
        session.selected.connect(self._on_selected)
        session.hovered.connect(self._on_hovered)
        session.client_looks.connect(lambda _: self._on_previewed(session.session.preview))
        self.view.profile.hovered.connect(self._on_profile_hovered)
        self.view.selectionModel().currentChanged.connect(self._on_current_changed)
        if session.opened is not None:
            self._on_changed(session.opened)

    def _lay_out(self) -> None:
        view = self.view
        self.totals = ElidedLabel("Totals of the trip")
        self.hover_text = ElidedLabel("Under the mouse", quiet=True)
        self.hover_text.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.one_scale = tool_button("One km scale", "A kilometre as wide on every day", lambda: None)
        self.one_scale.setCheckable(True)
        self.one_scale.toggled.connect(view.profile.set_one_scale)
        narrower = tool_button("−", "Narrower days (Ctrl+-)", lambda: view.zoom_by(0.8), "Narrower days")
        wider = tool_button("+", "Wider days (Ctrl++)", lambda: view.zoom_by(1.25), "Wider days")
        whole = tool_button("Whole trip", "The whole trip in view (Ctrl+0)", lambda: view.zoom_to(None))
        self.bar = QFrame()
        row = QHBoxLayout(self.bar)
        row.setContentsMargins(10, 3, 10, 3)
        row.addWidget(self.totals)
        row.addSpacing(16)
        row.addWidget(self.hover_text, 1)
        for button in (self.one_scale, narrower, whole, wider):
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addWidget(self.view, 1)

    def least_height(self) -> int:
        """Pixels that show every row, the bar of totals included."""
        return self.view.least_height() + self.bar.sizeHint().height()

    def reader(self, shown: Shown) -> Reader:
        """What cells are made from."""
        inner = self.session.session
        return Reader(shown, inner.catalogue, inner.rules, inner.wording, show_money=self.show_money)

    def show_variant(self, shown: Shown) -> None:
        """Draw one variant, kept or only tried out."""
        shown = for_eyes(shown, self.session.client_looks_on)
        table: SheetTable = sheet_table(self.reader(shown))
        self.model.show(table)
        self.view.profile.show_table(table)
        self.view.refresh()
        self.totals.setText(totals_text(shown, self.show_money, self.session.wording))

    def _on_changed(self, opened: Opened) -> None:
        self.show_variant(opened)
        self._on_selected(self.session.selection)

    def _on_previewed(self, shown: Shown | None) -> None:
        kept = shown or self.session.opened
        if kept is not None:
            self.show_variant(kept)
        self.totals.setProperty("previewing", shown is not None)

    def _on_selected(self, selection: Selection) -> None:
        """Follow a selection made elsewhere; following is no selection of one's own."""
        self._following = True
        self.view.select_day(selection.day)
        self._following = False

    def _on_current_changed(self, current: QModelIndex, _: QModelIndex) -> None:
        table = self.model.table
        if table is None or not current.isValid() or self._following:
            return
        here = table.columns[current.column()]
        kind, _lane = table.rows[current.row()]
        item = self.model.cell(current).item_id or None
        self.session.select(Selection(day=here.day, row=kind.name, group=here.group, item=item))

    def _on_day_pressed(self, column: int) -> None:
        table = self.model.table
        if table is not None and column < len(table.columns):
            self.session.select(Selection(day=table.columns[column].day))

    def _on_picked_up(self, payload: Payload, name: str) -> None:
        self.view.take_ground()
        self.carry.pick_up(payload, name)
        self.view.carrying = self.carry.active
        self.view.setFocus()

    def _on_card_removed(self, item_id: str) -> None:
        self.guide.let_go(ItemPayload(item_id), Out())

    def _on_carried_key(self, key: int) -> None:
        """A key while something is in hand."""
        moves = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        within = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if key in moves:
            self.carry.move(moves[Qt.Key(key)])
        elif key in within:
            self.carry.move_within(within[Qt.Key(key)])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._end_carry(drop=True)
        elif key == Qt.Key.Key_Escape:
            self._end_carry(drop=False)

    def _end_carry(self, *, drop: bool) -> None:
        self.view.carrying = False
        self.view.let_ground()
        if drop:
            self.carry.let_go()
        else:
            self.carry.put_back()

    def _on_stay_pulled(self, payload: StayPayload) -> None:
        if payload.nights:
            self.guide.over(payload, Gap(0))
        else:
            self.guide.leave()

    def _on_stay_let_go(self, payload: StayPayload) -> None:
        if payload.nights:
            self.guide.let_go(payload, Gap(0))
        else:
            self.guide.leave()

    def _on_profile_hovered(self, found: tuple[int, int, float] | None) -> None:
        self.session.hovered.emit(None if found is None else self._spot(*found))

    def _spot(self, column: int, leg: int, along_m: float) -> Spot | None:
        table = self.model.table
        if table is None:
            return None
        here = table.columns[column]
        return Spot(day=here.day, group=here.group, leg=leg, along_m=along_m)

    def _on_hovered(self, spot: Spot | None) -> None:
        table = self.model.table
        if spot is None or table is None:
            self.view.profile.unmark()
            self.hover_text.setText("")
            return
        columns = table.columns_of_day(spot.day)
        if spot.group >= len(columns):
            return
        column = columns[spot.group]
        self.view.profile.mark(column, spot.leg, spot.along_m)
        self.hover_text.setText(self._told(table, column, spot))

    def _told(self, table: SheetTable, column: int, spot: Spot) -> str:
        from lacet.service.sheet.hover import told

        group = table.group(column)
        if group is None or spot.leg >= len(group.legs):
            return ""
        return told(group.legs[spot.leg], spot.along_m, self.session.wording)
