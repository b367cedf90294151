"""The forms beside map and profile. Each tells what is wanted; the desk makes the edit."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from enum import StrEnum
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.tracks import drawn as edits
from lacet.tracks.drawn import Drawn
from lacet.trip.library import Cue, Stage, StagePoint, StageWay
from lacet.trip.words import Direction, Exposure, Footing, Grade, PointKind, Surface, Traffic, Way
from lacet.window.fields import ComboBox, DoubleSpinBox
from lacet.window.parts import label, push_button
from lacet.window.points_table import KIND_WORDS
from lacet.window.stage_desk.cursor import Cursor
from lacet.wording import Wording

UNKNOWN = "nobody has said"
WAY_WORDS = {Way.WALKING: "on foot", Way.CYCLING: "by bike"}
DIRECTION_WORDS = {Direction.OUT: "on the way there", Direction.BACK: "on the way back"}
Edit = Callable[[Drawn], Drawn]


class Panel(QWidget):
    """A form; `edits(edit, says)` when the shown stage is to be edited."""

    edits = Signal(object, str)

    def __init__(self, cursor: Cursor, wording: Wording) -> None:
        super().__init__()
        self.desk_cursor, self.wording = cursor, wording
        self.rows = QFormLayout(self)
        self.rows.setContentsMargins(10, 10, 10, 10)
        self.rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)


class ShapePanel(Panel):
    """Where one is, a stretch, and what changes the line.

    `cuts(place)`, `begins(place)`, `trims()`, `joins(stage id)`, `turns()`.
    """

    cuts = Signal(str)
    begins = Signal(str)
    trims = Signal()
    joins = Signal(str)
    turns = Signal()

    def __init__(self, cursor: Cursor, wording: Wording) -> None:
        super().__init__(cursor, wording)
        self.at, self.begin, self.end = (_kilometres(name) for name in ("At", "Stretch from", "Stretch to"))
        self.place = QLineEdit()
        self.place.setAccessibleName("Place here")
        self.near = label(quiet=True)
        self.near.setWordWrap(True)
        self.other = ComboBox()
        self.other.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.other.setMinimumContentsLength(22)
        self.other.setAccessibleName("Stage to join with")
        self.cut = push_button("Cut in two here", lambda: self.cuts.emit(self.place.text()), "Ctrl+K")
        self.shift = push_button("Let the round begin here", lambda: self.begins.emit(self.place.text()))
        self.trim = push_button("Keep only this stretch", self.trims.emit)
        self.join = push_button("Join", lambda: self.joins.emit(str(self.other.currentData())))
        self.turn = push_button("Turn the stage round", self.turns.emit)
        self.rows.addRow("At", self.at)
        self.rows.addRow("Place here", self.place)
        self.rows.addRow("", self.near)
        self.rows.addRow(self.cut)
        self.rows.addRow(self.shift)
        self.rows.addRow("Stretch from", self.begin)
        self.rows.addRow("to", self.end)
        self.rows.addRow(self.trim)
        self.rows.addRow("Goes on with", self.other)
        self.rows.addRow(self.join)
        self.rows.addRow(self.turn)
        self.at.valueChanged.connect(lambda km: cursor.move(km * 1000.0))
        for box in (self.begin, self.end):
            box.valueChanged.connect(
                lambda _: cursor.stretch(self.begin.value() * 1000.0, self.end.value() * 1000.0)
            )
        cursor.moved.connect(lambda at_m: _show(self.at, at_m))
        cursor.stretched.connect(self._on_stretched)

    def show_stage(self, stage: Stage, joinable: Sequence[Stage]) -> None:
        """What this stage can become."""
        for box in (self.at, self.begin, self.end):
            box.blockSignals(True)
            box.setMaximum(self.desk_cursor.length_m / 1000.0)
            box.blockSignals(False)
        self.shift.setEnabled(stage.from_place == stage.to_place)
        self.other.clear()
        for each in joinable:
            self.other.addItem(each.name, each.id)
        self.other.setEnabled(bool(joinable))
        self.join.setEnabled(bool(joinable))
        self.trim.setEnabled(self.desk_cursor.stretch_m[1] > 0)

    def show_near(self, name: str) -> None:
        """The nearest known place; it is met there unless another name is written."""
        self.place.setPlaceholderText(name or "a name for the new place")
        self.near.setText(
            f"{name} is near; a name of its own makes a new place." if name else "No place is near."
        )

    def _on_stretched(self, from_m: float, to_m: float) -> None:
        _show(self.begin, from_m)
        _show(self.end, to_m)
        self.trim.setEnabled(to_m > from_m)


class AlongPanel(Panel):
    """Points and directions: what there is, and one more at the cursor."""

    def __init__(self, cursor: Cursor, wording: Wording) -> None:
        super().__init__(cursor, wording)
        self._marks: tuple[StagePoint | Cue, ...] = ()
        self.table = QTableWidget(0, 3)
        self.table.setAccessibleName("Points and directions")
        self.table.setHorizontalHeaderLabels(["At", "What", "Says"])
        self.table.verticalHeader().hide()
        self.table.setTabKeyNavigation(False)
        self.table.setMinimumHeight(280)
        self.table.setWordWrap(False)
        self.table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.table.setColumnWidth(0, 62)
        self.table.setColumnWidth(1, 112)
        self.table.horizontalHeader().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        self.table.currentCellChanged.connect(lambda row, *_: self._go(row))
        self.kind = _choices("Kind of point", KIND_WORDS)
        self.name = QLineEdit(placeholderText="what it is called")
        self.name.setAccessibleName("Name of the point")
        self.direction = _choices("For which direction", DIRECTION_WORDS)
        self.says = QLineEdit(placeholderText="Left at the chapel, then downhill")
        self.says.setAccessibleName("The direction, as guests read it")
        self.add_point = push_button("Add the point at the cursor", self._add_point, "Ctrl+P")
        self.add_cue = push_button("Add the direction at the cursor", self._add_cue, "Ctrl+D")
        self.remove = push_button("Remove what is chosen", self._remove)
        self.rows.addRow(self.table)
        self.rows.addRow(self.remove)
        self.rows.addRow("Point", _beside(self.kind, self.name))
        self.rows.addRow(self.add_point)
        self.rows.addRow("Direction", self.direction)
        self.rows.addRow(self.says)
        self.rows.addRow(self.add_cue)

    def show_stage(self, stage: Stage) -> None:
        """What lies along this stage, in the order it is passed."""
        marks: list[StagePoint | Cue] = [*stage.points, *stage.cues]
        self._marks = tuple(sorted(marks, key=lambda each: each.along_m))
        self.table.blockSignals(True)
        self.table.setRowCount(len(self._marks))
        for row, each in enumerate(self._marks):
            for column, text in enumerate(self._texts(each)):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.table.setItem(row, column, item)
        self.table.setCurrentCell(-1, -1)
        self.table.blockSignals(False)
        self.remove.setEnabled(bool(self._marks))

    def _texts(self, each: StagePoint | Cue) -> tuple[str, str, str]:
        along = self.wording.length(each.along_m)
        if isinstance(each, Cue):
            return along, DIRECTION_WORDS[each.direction], each.says
        return along, KIND_WORDS[each.kind], each.name

    def _go(self, row: int) -> None:
        if 0 <= row < len(self._marks):
            self.desk_cursor.move(self._marks[row].along_m)

    def _add_point(self) -> None:
        kind = PointKind(self.kind.currentData())
        name = self.name.text().strip() or KIND_WORDS[kind].capitalize()
        point = StagePoint(float(round(self.desk_cursor.at_m)), kind, name)
        self.name.clear()
        self.edits.emit(lambda each: edits.with_point(each, point), f"add {name}")

    def _add_cue(self) -> None:
        cue = Cue(
            float(round(self.desk_cursor.at_m)),
            Direction(self.direction.currentData()),
            self.says.text().strip(),
        )
        if cue.says:
            self.says.clear()
        self.edits.emit(lambda each: edits.with_cue(each, cue), "add a direction")

    def _remove(self) -> None:
        row = self.table.currentRow()
        if 0 <= row < len(self._marks):
            mark = self._marks[row]
            if isinstance(mark, Cue):
                self.edits.emit(lambda each: edits.without_cue(each, mark), "remove a direction")
            else:
                self.edits.emit(lambda each: edits.without_point(each, mark), f"remove {mark.name}")


class GroundPanel(Panel):
    """What the stage is like on a way, whole and by stretch; `way_shown(Way)` when another is looked at."""

    way_shown = Signal(object)

    def __init__(self, cursor: Cursor, wording: Wording) -> None:
        super().__init__(cursor, wording)
        self.way = _choices("Way", WAY_WORDS)
        self.meant = QCheckBox("The stage is for this way")
        self.whole: dict[str, tuple[type[StrEnum], QComboBox]] = {
            name: (kind, _choices(title, _words(kind), unknown=True))
            for name, title, kind in (
                ("footing", "Footing", Footing),
                ("exposure", "Exposure", Exposure),
                ("grade", "Grade", Grade),
            )
        }
        self.surface = _choices("Surface of the stretch", _words(Surface), unknown=True)
        self.traffic = _choices("Traffic of the stretch", _words(Traffic), unknown=True)
        self.stretch = label("", name="Stretch", quiet=True)
        self.stretch.setWordWrap(True)
        self.set_surface = push_button("Set", self._set_surface, "Set the surface of the stretch")
        self.set_traffic = push_button("Set", self._set_traffic, "Set the traffic of the stretch")
        self.set_surface.setAccessibleName("Set the surface of the stretch")
        self.set_traffic.setAccessibleName("Set the traffic of the stretch")
        self.rows.addRow("Way", self.way)
        self.rows.addRow("", self.meant)
        for name, (_, box) in self.whole.items():
            self.rows.addRow(name.capitalize(), box)
            box.activated.connect(lambda _, name=name: self._set_whole(name))
        self.rows.addRow(self.stretch)
        self.rows.addRow("Surface", _beside(self.surface, self.set_surface))
        self.rows.addRow("Traffic", _beside(self.traffic, self.set_traffic))
        self._stage: Stage | None = None
        self.way.activated.connect(lambda _: self.way_shown.emit(self.shown_way()))
        self.meant.clicked.connect(self._set_meant)
        cursor.stretched.connect(lambda *_: self._tell_stretch())
        self._tell_stretch()

    def shown_way(self) -> Way:
        return Way(self.way.currentData())

    def show_stage(self, stage: Stage) -> None:
        """What is said of this stage on the shown way."""
        self._stage = stage
        facts = stage.on(self.shown_way())
        self.meant.setChecked(facts is not None)
        for name, (_, box) in self.whole.items():
            value = None if facts is None else getattr(facts, name)
            box.setCurrentIndex(max(box.findData("" if value is None else value.value), 0))
            box.setEnabled(facts is not None)
        self._tell_stretch()

    def _tell_stretch(self) -> None:
        from_m, to_m = self.desk_cursor.stretch_m
        there = to_m > from_m
        says = f"Stretch from {self.wording.length(from_m)} to {self.wording.length(to_m)}"
        hint = "Choose a stretch: drag on the profile, or Shift and the arrow keys there."
        self.stretch.setText(says if there else hint)
        meant = self._stage is not None and self._stage.on(self.shown_way()) is not None
        for button in (self.set_surface, self.set_traffic):
            button.setEnabled(there and meant)

    def _set_meant(self, meant: bool) -> None:
        way = self.shown_way()
        if meant:
            self.edits.emit(lambda each: edits.with_way(each, StageWay(way=way)), f"it is for {way.value}")
        else:
            self.edits.emit(lambda each: edits.without_way(each, way), f"it is not for {way.value}")

    def _set_whole(self, name: str) -> None:
        kind, box = self.whole[name]
        value = kind(box.currentData()) if box.currentData() else None
        way = self.shown_way()

        def edit(each: Drawn) -> Drawn:
            facts = each.stage.on(way) or StageWay(way=way)
            fields: dict[str, Any] = {name: value}
            return edits.with_way(each, replace(facts, **fields))

        self.edits.emit(edit, f"set the {name}")

    def _set_surface(self) -> None:
        data, way, (from_m, to_m) = self.surface.currentData(), self.shown_way(), self.desk_cursor.stretch_m
        value = Surface(data) if data else None
        self.edits.emit(lambda each: edits.with_surface(each, way, from_m, to_m, value), "set the surface")

    def _set_traffic(self) -> None:
        data, way, (from_m, to_m) = self.traffic.currentData(), self.shown_way(), self.desk_cursor.stretch_m
        value = Traffic(data) if data else None
        self.edits.emit(lambda each: edits.with_traffic(each, way, from_m, to_m, value), "set the traffic")


class HeightsPanel(Panel):
    """Heights filled, taken anew or smoothed, before and after. `fills(replaced)`, `smooths()`."""

    fills = Signal(bool)
    smooths = Signal()

    def __init__(self, cursor: Cursor, wording: Wording) -> None:
        super().__init__(cursor, wording)
        self.fill = push_button("Fill what is unknown", lambda: self.fills.emit(False))
        self.anew = push_button("Take all heights from the raster", lambda: self.fills.emit(True))
        self.smooth = push_button("Smooth", self.smooths.emit)
        self.told = label(name="Before and after")
        self.told.setWordWrap(True)
        for widget in (self.fill, self.anew, self.smooth, self.told):
            self.rows.addRow(widget)


def _kilometres(name: str) -> QDoubleSpinBox:
    box = DoubleSpinBox()
    box.setAccessibleName(name)
    box.setDecimals(2)
    box.setSingleStep(0.05)
    box.setSuffix(" km")
    box.setKeyboardTracking(False)
    return box


def _show(box: QDoubleSpinBox, metres: float) -> None:
    box.blockSignals(True)
    box.setValue(metres / 1000.0)
    box.blockSignals(False)


def _words(kind: type[StrEnum]) -> dict[Any, str]:
    return {each: each.value.replace("_", " ") for each in kind}


def _choices(name: str, words: dict[Any, str], *, unknown: bool = False) -> QComboBox:
    box = ComboBox()
    box.setAccessibleName(name)
    if unknown:
        box.addItem(UNKNOWN, "")
    for value, word in words.items():
        box.addItem(word, value.value)
    return box


def _beside(*widgets: QWidget) -> QWidget:
    whole = QWidget()
    row = QHBoxLayout(whole)
    row.setContentsMargins(0, 0, 0, 0)
    for number, widget in enumerate(widgets):
        row.addWidget(widget, number == len(widgets) - 1 or 0)
    return whole


def scrolled(panel: QWidget) -> QWidget:
    """A panel at the top of its page."""
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    column.addWidget(panel)
    column.addStretch(1)
    return page
