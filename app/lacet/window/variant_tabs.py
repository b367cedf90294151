"""The variants of the trip as a row of buttons; names give way when there is little room, letters never."""

from PySide6.QtCore import QPoint, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from lacet.service.shown import Opened
from lacet.trip.edits import letter

SHOWN_PX, OTHER_PX, LETTER_PX = 230, 170, 34
PADDING_PX = 30
SPACING = 4


class VariantTabs(QWidget):
    """`chosen` sends the id of the variant to be shown, `menu_wanted` one whose menu is wanted, and where."""

    chosen = Signal(str)
    menu_wanted = Signal(str, QPoint)

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Variants")
        self.tabs: list[QPushButton] = []
        self._names: list[tuple[str, str]] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(SPACING)
        self._row.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        self._row.addStretch(1)

    def show_variants(self, opened: Opened) -> None:
        """One button each; the shown one is pressed."""
        for tab in self.tabs:
            self._row.removeWidget(tab)
            tab.hide()
            tab.deleteLater()
        trip = opened.trip
        self._names = [(letter(trip, variant.id), variant.name) for variant in trip.variants]
        self.tabs = [
            self._tab(variant.id, names, variant.id == opened.variant_id)
            for variant, names in zip(trip.variants, self._names, strict=True)
        ]
        self.updateGeometry()
        self._fit()

    def _tab(self, variant_id: str, names: tuple[str, str], shown: bool) -> QPushButton:
        mark, name = names
        tab = QPushButton()
        tab.setCheckable(True)
        tab.setChecked(shown)
        tab.setToolTip(f"{name} (right click: rename, copy, take out)")
        tab.setAccessibleName(f"Variant {mark}, {name}")
        tab.clicked.connect(lambda _=False: self.chosen.emit(variant_id))
        tab.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        tab.customContextMenuRequested.connect(
            lambda at: self.menu_wanted.emit(variant_id, tab.mapToGlobal(at))
        )
        self._row.insertWidget(self._row.count() - 1, tab)
        return tab

    def _whole(self, index: int) -> int:
        tab = self.tabs[index]
        most = SHOWN_PX if tab.isChecked() else OTHER_PX
        return min(self._metrics().horizontalAdvance(self._text(index)) + PADDING_PX, most)

    def _text(self, index: int) -> str:
        """'B  Seven days', and only the letter where the name says no more."""
        mark, name = self._names[index]
        return mark if name == mark else f"{mark}  {name}"

    def _metrics(self) -> QFontMetrics:
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        return QFontMetrics(bold)

    def _fit(self) -> None:
        """The shown one takes what it needs, the others share what is left."""
        room = self.width() - SPACING * (len(self.tabs) - 1)
        shown = [index for index, tab in enumerate(self.tabs) if tab.isChecked()]
        others = [index for index, tab in enumerate(self.tabs) if not tab.isChecked()]
        for index in shown:
            room -= self._give(index, max(room - LETTER_PX * len(others), LETTER_PX))
        for left, index in zip(range(len(others), 0, -1), others, strict=True):
            room -= self._give(index, max(room // left, LETTER_PX))

    def _give(self, index: int, most: int) -> int:
        """Let a tab have up to so many pixels; returns how many it took."""
        width = min(self._whole(index), most)
        tab, mark = self.tabs[index], self._names[index][0]
        roomy = width > LETTER_PX + PADDING_PX
        text = self._metrics().elidedText(
            self._text(index), Qt.TextElideMode.ElideRight, width - PADDING_PX + 2
        )
        tab.setText(text if roomy else mark)
        tab.setFixedWidth(width)
        return width

    # --- Qt overrides

    def sizeHint(self) -> QSize:
        wide = sum(self._whole(index) + SPACING for index in range(len(self.tabs)))
        return QSize(wide, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        wide = sum(min(self._whole(index), LETTER_PX) + SPACING for index in range(len(self.tabs)))
        return QSize(wide, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
