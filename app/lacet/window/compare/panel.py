"""Two to four variants of the open trip side by side, kept up to date while the trip is edited."""

from datetime import date

import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.assess import Assessment, assess
from lacet.compare import Comparison, Side, compare
from lacet.compare.comparison import MOST
from lacet.compare.differences import day_words
from lacet.compare.figures import FigureRow
from lacet.compare.saying import difference_text, value_text
from lacet.session import Opened
from lacet.trip import edits
from lacet.trip.edits import letter
from lacet.trip.trip import Variant
from lacet.window.compare.lines import variant_line
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession
from lacet.window.theme import Theme, current_theme

WIDTHS = (4.0, 2.6, 1.6, 1.0)
FIT = QHeaderView.ResizeMode.ResizeToContents
TOKENS = ("ink", "accent", "stone", "quiet")


class ComparePanel(QWidget):
    """A window of its own beside the sheet; follows every edit."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.session = session
        self.theme: Theme = current_theme()
        self.setWindowTitle("Side by side – Lacet")
        self.resize(1240, 780)
        self.found: Comparison | None = None
        self._kept: dict[str, Assessment] = {}
        self._basis: tuple[object, ...] = (None,) * 4
        self._as_of: date | None = None
        self.boxes = QHBoxLayout()
        self._boxes: list[QCheckBox] = []
        self.base = QComboBox()
        self.base.setAccessibleName("Base: the variant the others are held against")
        self.base.currentIndexChanged.connect(lambda _: self.refresh())
        self.plot = pg.PlotWidget(background=self.theme.paper)
        self.figures = _table("Figures of the variants")
        self.days = _table("Day by day, lined up by where the party is")
        self.says = QTableWidget(0, 3)
        self._lay_out()
        session.changed.connect(self._on_changed)
        if session.opened is not None:
            self._on_changed(session.opened)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addLayout(self.boxes)
        top.addStretch(1)
        top.addWidget(label("held against"))
        top.addWidget(self.base)
        top.addWidget(push_button("Make it the proposed one", self.propose, primary=True))
        self.plot.setAccessibleName("Profiles of the variants over one another")
        self.plot.setMinimumHeight(150)
        self.plot.plotItem.setMenuEnabled(False)
        self.plot.plotItem.hideButtons()
        self.plot.setMouseEnabled(False, False)
        for axis in ("left", "bottom"):
            self.plot.getAxis(axis).setTextPen(self.theme.color("quiet"))
            self.plot.getAxis(axis).setPen(self.theme.color("hairline"))
        self.plot.setLabel("bottom", "km from the start", color=self.theme.quiet)
        self.plot.setLabel("left", "m", color=self.theme.quiet)
        self.says.setAccessibleName("What differs, in sentences")
        self.says.setHorizontalHeaderLabels(("Variant", "Day", "What differs"))
        self.says.verticalHeader().hide()
        self.says.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.says.setWordWrap(True)
        self.says.setShowGrid(False)
        for column, mode in enumerate((FIT, FIT, QHeaderView.ResizeMode.Stretch)):
            self.says.horizontalHeader().setSectionResizeMode(column, mode)
        for table in (self.days, self.says):
            table.verticalHeader().setSectionResizeMode(FIT)
        # A figure and its difference are read in one line.
        self.figures.setWordWrap(False)
        right = QSplitter(Qt.Orientation.Vertical)
        right.addWidget(self.days)
        right.addWidget(self.says)
        below = QSplitter(Qt.Orientation.Horizontal)
        below.addWidget(self.figures)
        below.addWidget(right)
        below.setSizes([620, 600])
        whole = QVBoxLayout(self)
        whole.addLayout(top)
        whole.addWidget(self.plot, 2)
        whole.addWidget(below, 5)

    def chosen(self) -> list[str]:
        """Ids of the variants that are shown."""
        return [str(box.property("variant")) for box in self._boxes if box.isChecked()]

    def propose(self) -> None:
        """Make the base variant the proposed one."""
        chosen = self.base.currentData()
        if chosen:
            self.session.apply(lambda trip: edits.propose(trip, str(chosen)), "propose this variant")

    def refresh(self) -> None:
        """Compare what is chosen."""
        opened, chosen = self.session.opened, self.chosen()
        if opened is None or not 2 <= len(chosen) <= MOST:
            self.found = None
            self._clear()
            return
        variants = [variant for variant in opened.trip.variants if variant.id in chosen]
        base = next((index for index, each in enumerate(variants) if each.id == self.base.currentData()), 0)
        sides = [Side(variant, self.assessed(opened, variant)) for variant in variants]
        self.found = compare(sides, self.session.session.catalogue, base)
        letters = [letter(opened.trip, variant.id) for variant in variants]
        self._show_profiles(letters)
        self._show_figures(letters)
        self._show_days(letters)
        self._show_sentences()

    def assessed(self, opened: Opened, variant: Variant) -> Assessment:
        """The open variant's own assessment; the others' are kept until anything they rest on changes."""
        if variant.id == opened.variant_id:
            return opened.assessment
        inner = self.session.session
        basis = (opened.trip, inner.catalogue, inner.rules, inner.commitments)
        if inner.as_of != self._as_of or any(
            now is not then for now, then in zip(basis, self._basis, strict=False)
        ):
            self._kept.clear()
        self._basis, self._as_of = basis, inner.as_of
        if variant.id not in self._kept:
            self._kept[variant.id] = assess(
                opened.trip, variant, inner.catalogue, inner.rules, inner.commitments, as_of=inner.as_of
            )
        return self._kept[variant.id]

    def _on_changed(self, opened: Opened) -> None:
        before = set(self.chosen())
        for old in self._boxes:
            self.boxes.removeWidget(old)
            old.deleteLater()
        self._boxes = []
        self.base.blockSignals(True)
        held = self.base.currentData()
        self.base.clear()
        for index, variant in enumerate(opened.trip.variants):
            mark = letter(opened.trip, variant.id)
            box = QCheckBox(f"{mark}  {variant.name}")
            box.setProperty("variant", variant.id)
            box.setChecked(variant.id in before or (not before and index < MOST))
            box.toggled.connect(lambda _: self.refresh())
            self.boxes.addWidget(box)
            self._boxes.append(box)
            self.base.addItem(f"{mark}  {variant.name}", variant.id)
        self.base.setCurrentIndex(max(self.base.findData(held), 0))
        self.base.blockSignals(False)
        self.refresh()

    def _clear(self) -> None:
        self.plot.clear()
        for table in (self.figures, self.days, self.says):
            table.setRowCount(0)

    def _show_profiles(self, letters: list[str]) -> None:
        """Told by letter at the line's end and by width; the base is the widest."""
        assert self.found is not None
        self.plot.clear()
        order = [self.found.base, *(index for index in range(len(letters)) if index != self.found.base)]
        for rank, index in enumerate(order):
            line = variant_line(self.found.sides[index].assessment)
            if not len(line.distance_km):
                continue
            color = QColor(getattr(self.theme, TOKENS[rank]))
            pen = QPen(color, WIDTHS[rank])
            pen.setCosmetic(True)
            self.plot.plot(line.distance_km, line.height_m, pen=pen, connect="finite", antialias=True)
            text = pg.TextItem(letters[index], color=color, anchor=(0, 0.5))
            text.setPos(float(line.distance_km[-1]), float(line.height_m[-1]))
            self.plot.addItem(text)

    def _show_figures(self, letters: list[str]) -> None:
        assert self.found is not None
        found = self.found
        heads = [f"{mark} (base)" if index == found.base else mark for index, mark in enumerate(letters)]
        _set_heads(self.figures, ["", *heads])
        self.figures.horizontalHeader().setSectionResizeMode(0, FIT)
        self.figures.setRowCount(len(found.rows))
        for row, figure in enumerate(found.rows):
            self.figures.setItem(row, 0, QTableWidgetItem(figure.name))
            for index in range(len(letters)):
                self.figures.setItem(row, index + 1, self._figure(figure, index))

    def _figure(self, row: FigureRow, index: int) -> QTableWidgetItem:
        assert self.found is not None
        currency = self.found.sides[index].assessment.quote.currency
        change = difference_text(row, index, self.found.base, currency)
        item = QTableWidgetItem(f"{value_text(row, index, currency)}   {change}".strip())
        item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        better = row.better(index, self.found.base)
        if better is not None:
            item.setForeground(self.theme.color("good" if better else "stop"))
        return item

    def _show_days(self, letters: list[str]) -> None:
        assert self.found is not None
        _set_heads(self.days, letters)
        self.days.setRowCount(len(self.found.lined_up))
        for row, line in enumerate(self.found.lined_up):
            texts = [self._day_text(index, day) for index, day in enumerate(line)]
            for index, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                if text.partition(" ")[2] != texts[self.found.base].partition(" ")[2]:
                    item.setBackground(self.theme.color("warn_fill"))
                self.days.setItem(row, index, item)

    def _day_text(self, index: int, day: int | None) -> str:
        """'4 by e-bike, ...': the number is the variant's own."""
        assert self.found is not None
        if day is None:
            return "–"
        side = self.found.sides[index]
        catalogue = self.session.session.catalogue
        said = day_words(side.variant.days[day], side.assessment.figures.days[day], catalogue)
        return f"{day + 1} {said}"

    def _show_sentences(self) -> None:
        assert self.found is not None
        self.says.setRowCount(len(self.found.differences))
        for row, each in enumerate(self.found.differences):
            for column, text in enumerate((each.variant, str(each.day or "all"), each.says)):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.says.setItem(row, column, item)


def _table(name: str) -> QTableWidget:
    table = QTableWidget(0, 0)
    table.setAccessibleName(name)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.verticalHeader().hide()
    table.setShowGrid(False)
    table.setWordWrap(True)
    return table


def _set_heads(table: QTableWidget, heads: list[str]) -> None:
    table.setColumnCount(len(heads))
    table.setHorizontalHeaderLabels(heads)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
