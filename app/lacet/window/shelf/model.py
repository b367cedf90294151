"""The shelf's entries as a Qt list model; dragging one carries a payload of ids."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QMimeData, QModelIndex, QObject, QPersistentModelIndex, Qt

from lacet.service.offers import Offer
from lacet.service.ranking import ShelfStage
from lacet.window.carrying import MIME

Index = QModelIndex | QPersistentModelIndex
ENTRY_ROLE = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the shelf: a heading, a stage, another card, or an offer for the picked cell.

    Cards carry a `payload` as JSON and can be dragged; an `offer` is taken by pressing it.
    """

    kind: str
    text: str
    sub: str = ""
    says: str = ""
    stage: ShelfStage | None = None
    payload: str = ""
    offer: Offer | None = None


class ShelfModel(QAbstractListModel):
    """Shows entries; headings can't be dragged."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.entries: Sequence[Entry] = ()

    def show(self, entries: Sequence[Entry]) -> None:
        self.beginResetModel()
        self.entries = tuple(entries)
        self.endResetModel()

    def entry(self, index: Index) -> Entry | None:
        return self.entries[index.row()] if index.isValid() and index.row() < len(self.entries) else None

    # --- Qt overrides

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.entries)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        entry = self.entry(index)
        if entry is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return entry.text
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return entry.says or f"{entry.text}, {entry.sub}"
        return entry if role == ENTRY_ROLE else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        entry = self.entry(index)
        if entry is None:
            return Qt.ItemFlag.NoItemFlags
        if entry.offer is not None:
            return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if not entry.payload:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsDragEnabled

    def mimeTypes(self) -> list[str]:
        return [MIME]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        data = QMimeData()
        entry = self.entry(indexes[0]) if indexes else None
        if entry is not None:
            data.setData(MIME, entry.payload.encode())
            data.setText(entry.text)
        return data
