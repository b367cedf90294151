"""The lines of dropped files as a table: a row a line, its cells corrected in place.

Corrections are pure functions of `intake.corrections`; this model holds the proposals and tells what changed.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from lacet.intake import corrections
from lacet.intake.corrections import Which
from lacet.intake.ends import End
from lacet.intake.proposals import Proposal
from lacet.trip.errors import LacetError
from lacet.trip.library import Place, StagePoint
from lacet.trip.words import Way
from lacet.window.theme import current_theme
from lacet.wording import Wording

Index = QModelIndex | QPersistentModelIndex
HEADS = ("Stage", "From", "To", "Way", "Length", "Climb", "To know", "Shape", "File")
NAME, FROM, TO, WAY, LENGTH, CLIMB, TOLD, SHAPE, FILE = range(len(HEADS))
EDITABLE = (NAME, FROM, TO, WAY)
WAYS: dict[str, tuple[Way, ...]] = {
    "on foot": (Way.WALKING,),
    "by bike": (Way.CYCLING,),
    "both": (Way.WALKING, Way.CYCLING),
}
_SIDE: dict[int, Which] = {FROM: "start", TO: "end"}
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
_ROLE = Qt.ItemDataRole
_ROOT = QModelIndex()


class TrackModel(QAbstractTableModel):
    """Proposals; `corrected` after each correction, `refused(sentence)` for one without meaning."""

    corrected = Signal()
    refused = Signal(str)

    def __init__(self, wording: Wording, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._wording = wording
        self.proposals: tuple[Proposal, ...] = ()
        self.known: tuple[Place, ...] = ()
        self.names: Mapping[str, str] = {}

    def show_all(
        self, proposals: Sequence[Proposal], known: Sequence[Place], names: Mapping[str, str]
    ) -> None:
        """Other lines, beside these places of the library; `names` are those of the stages they double."""
        self.beginResetModel()
        self.proposals, self.known, self.names = tuple(proposals), tuple(known), names
        self.endResetModel()
        self.corrected.emit()

    def take(self, rows: Sequence[int], take: bool) -> None:
        """Take these lines, or leave them."""
        self._become(corrections.with_take(self.proposals, rows, take))

    def set_ways(self, rows: Sequence[int], ways: tuple[Way, ...]) -> None:
        """Say on which ways these are travelled."""
        self._become(corrections.with_ways(self.proposals, rows, ways))

    def set_points(self, row: int, points: tuple[StagePoint, ...]) -> None:
        """Take these marks of the file as points of the stage."""
        self._become(corrections.with_points(self.proposals, row, points))

    def told(self, each: Proposal) -> tuple[str, ...]:
        """What a person should know before taking a line."""
        says = list(each.problems)
        if each.duplicate_of is not None:
            twin = next((other.name for other in self.proposals if other.id == each.duplicate_of), None)
            known = self.names.get(each.duplicate_of, each.duplicate_of)
            where = f"the line {twin} above" if twin is not None else f"the library's {known}"
            says.insert(0, f"like {where}{', reversed' if each.duplicate_direction == 'reversed' else ''}")
        if each.merged:
            says.append(f"put together from {len(each.merged)} parts ({', '.join(each.merged)})")
        if each.recording is not None:
            says.append("its time is kept, without who or when")
        if each.offered:
            says.append(f"{len(each.points)} of {len(each.offered)} marks taken as points")
        return tuple(says)

    def _become(self, proposals: tuple[Proposal, ...]) -> None:
        if proposals != self.proposals:
            self.proposals = proposals
            # Naming a place may change any row.
            last = self.index(len(proposals) - 1, len(HEADS) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            self.corrected.emit()

    def _edited(self, row: int, column: int, text: str) -> tuple[Proposal, ...]:
        if column == NAME:
            return corrections.with_name(self.proposals, row, text)
        if column == WAY:
            return corrections.with_ways(self.proposals, (row,), WAYS[text])
        return corrections.with_place_called(self.proposals, row, _SIDE[column], text, self.known)

    def _text(self, each: Proposal, column: int) -> str:
        if column in _SIDE:
            end: End = getattr(each, _SIDE[column])
            return end.place.name
        if column == WAY:
            return ways_word(each.ways)
        if column == LENGTH:
            return self._wording.length(each.length_m)
        if column == CLIMB:
            return "unknown" if each.ascent_m is None else self._wording.height(each.ascent_m)
        if column == TOLD:
            return "; ".join(self.told(each))
        return {NAME: each.name, SHAPE: each.shape, FILE: each.file}[column]

    # --- Qt overrides

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.proposals)

    def columnCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(HEADS)

    def headerData(self, section: int, side: Qt.Orientation, role: int = _ROLE.DisplayRole) -> Any:
        if role == _ROLE.DisplayRole and side is Qt.Orientation.Horizontal:
            return HEADS[section]
        return None

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> Any:
        each, column = self.proposals[index.row()], index.column()
        if role in (_ROLE.DisplayRole, _ROLE.EditRole):
            new = role == _ROLE.DisplayRole and column in _SIDE and getattr(each, _SIDE[column]).is_new
            return self._text(each, column) + (" (new)" if new else "")
        if role == _ROLE.CheckStateRole and column == NAME:
            return Qt.CheckState.Checked if each.take else Qt.CheckState.Unchecked
        if role == _ROLE.TextAlignmentRole and column in (LENGTH, CLIMB):
            return _RIGHT
        if role == _ROLE.ForegroundRole and not each.take:
            return current_theme().color("quiet")
        if role == _ROLE.ToolTipRole:
            return self._tip(each, column)
        if role == _ROLE.AccessibleTextRole:
            return f"{HEADS[column]}: {self._text(each, column)}"
        return None

    def _tip(self, each: Proposal, column: int) -> str:
        if column not in _SIDE:
            return self._text(each, column)
        end = getattr(each, _SIDE[column])
        if end.is_new:
            return (
                f"{end.place.name}: a new place, made where the line {'begins' if column == FROM else 'ends'}"
            )
        return f"{end.place.name}: {self._wording.length(end.off_m)} from the line's own end"

    def setData(self, index: Index, value: Any, role: int = _ROLE.EditRole) -> bool:
        if role == _ROLE.CheckStateRole and index.column() == NAME:
            self.take((index.row(),), Qt.CheckState(value) is Qt.CheckState.Checked)
            return True
        if role != _ROLE.EditRole or index.column() not in EDITABLE:
            return False
        try:
            self._become(self._edited(index.row(), index.column(), str(value)))
        except LacetError as refusal:
            self.refused.emit(str(refusal))
            return False
        return True

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        if index.column() in EDITABLE:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags | Qt.ItemFlag.ItemIsUserCheckable if index.column() == NAME else flags


def ways_word(ways: tuple[Way, ...]) -> str:
    """How ways are called in the table."""
    return next(word for word, each in WAYS.items() if set(each) == set(ways))
