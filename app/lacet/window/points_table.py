"""The file's marks along a line: which become points of the stage, of what kind, by what name."""

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from lacet.intake.proposals import Proposal
from lacet.trip.library import StagePoint
from lacet.trip.words import PointKind
from lacet.window.fields import ComboBox
from lacet.wording import Wording

KIND_WORDS = {kind: kind.value.replace("_", " ").replace("pickup", "pick-up") for kind in PointKind}


class PointsTable(QTableWidget):
    """`chosen(tuple[StagePoint, ...])` after each change of the person's."""

    chosen = Signal(object)

    def __init__(self, wording: Wording, parent: QWidget | None = None) -> None:
        super().__init__(0, 3, parent)
        self._wording = wording
        self._offered: tuple[StagePoint, ...] = ()
        self.setAccessibleName("Marks of the file along this line")
        self.setHorizontalHeaderLabels(["Take as a point", "Kind", "At"])
        self.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.setColumnWidth(1, 120)
        self.setColumnWidth(2, 70)
        self.verticalHeader().hide()
        self.setTabKeyNavigation(False)
        self.itemChanged.connect(lambda _: self.chosen.emit(self.points()))

    def show_proposal(self, proposal: Proposal | None) -> None:
        """The marks of this line; those taken are ticked, as they were corrected."""
        self.blockSignals(True)
        self._offered = () if proposal is None else tuple(each.point for each in proposal.offered)
        taken = {} if proposal is None else {point.along_m: point for point in proposal.points}
        self.setRowCount(len(self._offered))
        for row, point in enumerate(self._offered):
            self._show(row, taken.get(point.along_m, point), point.along_m in taken)
        self.blockSignals(False)

    def points(self) -> tuple[StagePoint, ...]:
        """The ticked ones as they stand."""
        found = []
        for row, offered in enumerate(self._offered):
            name, kind = self.item(row, 0), self.cellWidget(row, 1)
            if (
                name is not None
                and name.checkState() is Qt.CheckState.Checked
                and isinstance(kind, QComboBox)
            ):
                called = name.text().strip() or offered.name
                found.append(replace(offered, name=called, kind=PointKind(kind.currentData())))
        return tuple(found)

    def _show(self, row: int, point: StagePoint, ticked: bool) -> None:
        name = QTableWidgetItem(point.name)
        name.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)
        kind = ComboBox()
        kind.setAccessibleName(f"Kind of {point.name}")
        for each, word in KIND_WORDS.items():
            kind.addItem(word, each.value)
        kind.setCurrentIndex(list(KIND_WORDS).index(point.kind))
        kind.currentIndexChanged.connect(lambda _: self.chosen.emit(self.points()))
        along = QTableWidgetItem(self._wording.length(point.along_m))
        along.setFlags(along.flags() & ~Qt.ItemFlag.ItemIsEditable)
        self.setItem(row, 0, name)
        self.setCellWidget(row, 1, kind)
        self.setItem(row, 2, along)
