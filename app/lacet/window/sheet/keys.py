"""What a key means on the sheet: everything a mouse can do there can be done from the keyboard.

Space takes what stands in the cell in hand: a card; on the night's row the end of the stay; else the day.
"""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, Qt, SignalInstance
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from lacet.service.sheet.table import RowKind, SheetTable
from lacet.trip.drop import DayPayload, ItemPayload, Payload, StayPayload
from lacet.trip.itinerary import night_of
from lacet.trip.trip import Night

NARROWER, WIDER = 0.8, 1.25
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
AWAY = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)


class Keyed(Protocol):
    """What keys are pressed on: the sheet's view, as far as a key has to do with it."""

    carrying: bool

    @property
    def table(self) -> SheetTable | None: ...
    @property
    def carried_key(self) -> SignalInstance: ...
    @property
    def picked(self) -> SignalInstance: ...
    @property
    def card_removed(self) -> SignalInstance: ...
    @property
    def card_menu_wanted(self) -> SignalInstance: ...
    @property
    def day_opened(self) -> SignalInstance: ...
    def zoom_by(self, factor: float) -> None: ...
    def zoom_to(self, width: int | None) -> None: ...
    def currentIndex(self) -> QModelIndex: ...
    def viewport(self) -> QWidget: ...
    def visualRect(self, index: QModelIndex | QPersistentModelIndex, /) -> QRect: ...


def in_hand(table: SheetTable, row: int, column: int) -> tuple[Payload, str]:
    """What Space picks up in a cell, and how it is called."""
    cell, kind = table.cells[row, column], table.rows[row][0]
    if cell.item_id:
        return ItemPayload(cell.item_id), cell.text
    if kind is RowKind.NIGHT:
        stay = _stay(table, column)
        if stay is not None:
            return stay, f"The stay at {cell.text}"
    figures = table.figures(column)
    return DayPayload(figures.id), f"Day {figures.number}"


def _stay(table: SheetTable, column: int) -> StayPayload | None:
    """The end of the stay that the night after a column's day belongs to."""
    group, days = table.group(column), table.shown.variant.days
    who = group.travellers[0] if group and group.travellers else ""
    last = table.columns[column].day
    night = night_of(days[last], who)
    if night is None:
        return None
    while last + 1 < len(days) and _sleeps(night_of(days[last + 1], who), night.lodging.id):
        last += 1
    return StayPayload(days[last].id, night.lodging.id)


def _sleeps(night: Night | None, lodging: str) -> bool:
    return night is not None and night.lodging.id == lodging


def zoomed(view: Keyed, event: QKeyEvent) -> bool:
    """Ctrl with plus, minus or 0: wider, narrower, the whole trip."""
    if not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
        return False
    means: dict[int, Callable[[], None]] = {
        Qt.Key.Key_Plus: lambda: view.zoom_by(WIDER),
        Qt.Key.Key_Equal: lambda: view.zoom_by(WIDER),
        Qt.Key.Key_Minus: lambda: view.zoom_by(NARROWER),
        Qt.Key.Key_0: lambda: view.zoom_to(None),
    }
    action = means.get(event.key())
    if action is not None:
        action()
    return action is not None


def pressed(view: Keyed, event: QKeyEvent) -> bool:
    """Do what a key means; False when it means nothing here."""
    if view.carrying:
        view.carried_key.emit(event.key())
        return True
    if zoomed(view, event):
        return True
    table, here, key = view.table, view.currentIndex(), event.key()
    if table is None or not here.isValid():
        return False
    item = table.cells[here.row(), here.column()].item_id
    if key == Qt.Key.Key_Space:
        view.picked.emit(*in_hand(table, here.row(), here.column()))
    elif key in AWAY and item:
        view.card_removed.emit(item)
    elif key in ENTER and item:
        below = view.viewport().mapToGlobal(view.visualRect(here).bottomLeft())
        view.card_menu_wanted.emit(item, below)
    elif key in ENTER or key == Qt.Key.Key_F2:
        view.day_opened.emit(table.columns[here.column()].day)
    else:
        return False
    return True
