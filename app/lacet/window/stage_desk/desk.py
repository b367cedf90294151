"""The stage desk's window: map and profile together, forms beside them. It makes edits and draws; no more.

Work on the stage is `intake.stage_work`'s: steps that go back and forth, and one saving.
"""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QMessageBox,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from lacet.intake.stage_work import StageWork, figures, heights_from, smooth_heights
from lacet.tracks.drawn import renamed
from lacet.tracks.profile import Profile
from lacet.tracks.relief import Relief
from lacet.tracks.stage_shape import reversed_
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Place
from lacet.window.closing import closes_by_keys
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import Where, command
from lacet.window.fields import ComboBox, TabWidget
from lacet.window.map.ground_view import Node
from lacet.window.map.panel import cache_folder, shaded
from lacet.window.parts import label, push_button, tool_button
from lacet.window.qt_session import QtSession
from lacet.window.stage_desk.cursor import Cursor
from lacet.window.stage_desk.line_view import LineView
from lacet.window.stage_desk.panels import AlongPanel, Edit, GroundPanel, HeightsPanel, ShapePanel, scrolled
from lacet.window.stage_desk.profile_strip import ProfileStrip
from lacet.window.theme import current_theme
from lacet.window.work import Work


def open_desk(session: QtSession, stage_id: str, parent: QWidget | None = None) -> "StageDesk | None":
    """Open the desk on a stage of the library; a stage without a line is told, and None returned."""
    try:
        desk = StageDesk(session, stage_id, parent)
    except LacetError as refusal:
        session.refused.emit(str(refusal))
        return None
    desk.show()
    desk.activateWindow()
    return desk


class StageDesk(QWidget):
    """One stage, or the stages it has become."""

    def __init__(self, session: QtSession, stage_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.session = session
        self.work = StageWork(session.session.catalogue, stage_id)
        self.cursor_ = Cursor(self)
        self._shading = Work(self)
        self._before: Profile = figures(self.work.top.drawn)
        self._make_parts()
        self._lay_out()
        self.resize(1180, 760)
        self.draw(fit=True)
        self.profile.setFocus()
        self._shade()
        session.library_changed.connect(self._on_library_changed)

    # --- what can be done

    def edit(self, edit: Edit, says: str) -> None:
        """Edit the shown stage."""
        self.do(lambda: self.work.apply(edit, says))

    def do(self, gesture: Callable[[], object], *, fit: bool = False) -> None:
        """Do anything with the work; what can't be done is told."""
        self._before = figures(self.work.top.drawn)
        try:
            gesture()
        except LacetError as refusal:
            self.sentence.setText(str(refusal))
            self.draw()
            return
        self.sentence.setText("")
        self.draw(fit=fit)

    def undo(self) -> None:
        """Take back the last step."""
        self.do(self.work.undo)

    def redo(self) -> None:
        """Take back the last undo."""
        self.do(self.work.redo)

    def save(self) -> bool:
        """Keep the work in the library and go on from there."""
        inner = self.session.session
        try:
            with inner.project.unit_of_work() as unit:
                saved = self.work.save(unit.library, retire=self.retire.isChecked())
                unit.commit()
        except LacetError as refusal:
            self.sentence.setText(str(refusal))
            return False
        shown = self.work.top.drawn.stage.id
        inner.reload_library()
        self.work = StageWork(inner.catalogue, shown)
        self.draw()
        names = ", ".join(stage.name for stage in saved)
        self.sentence.setText(f"Saved: {names}." if names else "Saved.")
        self.session.kept.emit(f"Kept: {names}")
        return True

    # --- drawing

    def draw(self, *, fit: bool = False) -> None:
        """Show the work as it is."""
        drawn, stage = self.work.top.drawn, self.work.top.drawn.stage
        found = figures(drawn)
        self.cursor_.begin(found.length_m)
        places = (*self.work.catalogue.current(Place), *self.work.top.places)
        self.map.show_all(
            [Node(each.id, each.name, (each.latitude_deg, each.longitude_deg)) for each in places]
        )
        self.map.show_drawn(drawn, fit=fit)
        self.profile.show_stage(stage, found, self._before_shown(found), self.ground.shown_way())
        self.shape.show_stage(stage, self.work.joinable())
        self.along.show_stage(stage)
        self.ground.show_stage(stage)
        self.heights.told.setText(self._before_and_after(found))
        self._show_head(found)
        self._on_moved(self.cursor_.at_m)

    def _show_head(self, found: Profile) -> None:
        top, wording = self.work.top, self.session.wording
        stage = top.drawn.stage
        self.setWindowTitle(f"{stage.name}{' *' if self.work.changed else ''} – Stage desk – Lacet")
        self.name.setText(stage.name)
        self.chooser.blockSignals(True)
        self.chooser.clear()
        self.chooser.addItems([each.stage.name for each in top.stages])
        self.chooser.setCurrentIndex(top.shown)
        self.chooser.setVisible(len(top.stages) > 1)
        self.chooser.blockSignals(False)
        ends = [self.work.place(each) for each in (stage.from_place, stage.to_place)]
        start, end = ("?" if each is None else each.name for each in ends)
        climb = "climb unknown"
        if found.ascent_m is not None and found.descent_m is not None:
            climb = f"↑ {wording.height(found.ascent_m)}  ↓ {wording.height(found.descent_m)}"
        self.told.setText(f"{start} – {end}   {wording.length(found.length_m)}   {climb}")
        self.retire.setVisible(bool(top.gone))
        self.retire.setText(f"Offer {', '.join(self._stage_name(each) for each in top.gone)} no more")
        for button, says, what in (
            (self.back, self.work.undo_says, "Take back"),
            (self.again, self.work.redo_says, "Do again"),
        ):
            button.setEnabled(bool(says))
            button.setToolTip(f"{what}: {says}" if says else f"Nothing to {what.lower()}")
        self.keep.setEnabled(self.work.changed)

    def _stage_name(self, stage_id: str) -> str:
        return self.work.open(stage_id).stage.name

    def _before_shown(self, found: Profile) -> Profile | None:
        """The heights before the last step, where the line is as long as it was."""
        same_line = abs(self._before.length_m - found.length_m) < 1.0
        differ = self._before.ascent_m != found.ascent_m or self._before.lowest_m != found.lowest_m
        return self._before if same_line and differ else None

    def _before_and_after(self, found: Profile) -> str:
        before = self._before_shown(found)
        if before is None:
            unknown = f"{found.unknown_share:.0%} of the line has no recorded height."
            return unknown if found.unknown_share else "Every height is known."
        return f"Before: {self._climb(before)}\nAfter: {self._climb(found)}"

    def _climb(self, found: Profile) -> str:
        wording = self.session.wording
        if found.ascent_m is None or found.descent_m is None:
            return "climb unknown"
        return f"↑ {wording.height(found.ascent_m)}, ↓ {wording.height(found.descent_m)}"

    # --- from others

    def _on_library_changed(self, catalogue: Catalogue) -> None:
        """Follow the library, whoever changed it; work that isn't saved stays as it is, and is told of."""
        newer = self.work.newer_in(catalogue)
        says = ""
        if newer is not None and self.work.changed:
            says = (
                f"{newer.name} was saved elsewhere meanwhile, as version {newer.version}. Your changes are "
                "still here, but can't be saved over it: note them, close this desk and open the stage again."
            )
        elif newer is not None:
            try:
                self.work = StageWork(catalogue, self.work.top.drawn.stage.id)
            except LacetError as refusal:
                self.sentence.setText(str(refusal))
                return
            self._before = figures(self.work.top.drawn)
            says = f"{newer.name} was changed elsewhere; this is version {newer.version}."
        self.work.catalogue = catalogue
        self.draw()
        if says:
            self.sentence.setText(says)

    # --- from the parts

    def _on_moved(self, at_m: float) -> None:
        near = self.work.place_near(at_m)
        self.shape.show_near("" if near is None else near.name)

    def _on_named(self) -> None:
        name = self.name.text()
        if name != self.work.top.drawn.stage.name:
            self.edit(lambda each: renamed(each, name), "rename")

    def _on_chosen(self, number: int) -> None:
        self.work.show(number)
        self._before = figures(self.work.top.drawn)
        self.draw(fit=True)

    def _on_parted(self, gesture: Callable[[float, str], None], name: str) -> None:
        self.do(lambda: gesture(self.cursor_.at_m, name), fit=True)
        self.shape.place.clear()

    def _fill(self, replaced: bool) -> None:
        inner = self.session.session
        rasters = inner.project.raster_files(inner.catalogue.region.rasters)
        says = "take all heights from the raster" if replaced else "fill unknown heights"
        self.edit(heights_from(rasters, replaced=replaced), says)

    def _shade(self) -> None:
        inner, theme = self.session.session, current_theme().name
        files = inner.project.raster_files(inner.catalogue.region.rasters)
        self._shading.run(
            "Shading the ground",
            lambda _: shaded(files, theme),
            self._on_shaded,
            self.sentence.setText,
            quiet=True,
        )

    def _on_shaded(self, found: tuple[tuple[Relief, ...], str]) -> None:
        self.map.set_grounds(found[0], cache_folder())
        if found[1]:
            self.sentence.setText(found[1])

    # --- making

    def _make_parts(self) -> None:
        wording, cursor = self.session.wording, self.cursor_
        self.map = LineView(cursor)
        places = self.session.session.catalogue.current(Place)
        self.map.show_all(
            [Node(each.id, each.name, (each.latitude_deg, each.longitude_deg)) for each in places]
        )
        self.profile = ProfileStrip(cursor, wording)
        self.shape, self.along = ShapePanel(cursor, wording), AlongPanel(cursor, wording)
        self.ground, self.heights = GroundPanel(cursor, wording), HeightsPanel(cursor, wording)
        first = self.work.top.drawn.stage.ways[0].way
        self.ground.way.setCurrentIndex(self.ground.way.findData(first.value))
        for panel in (self.along, self.ground):
            panel.edits.connect(self.edit)
        self.ground.way_shown.connect(lambda _: self.draw())
        self.shape.cuts.connect(lambda name: self._on_parted(self.work.cut, name))
        self.shape.begins.connect(lambda name: self._on_parted(self.work.shift_start, name))
        self.shape.trims.connect(lambda: self.do(lambda: self.work.trim(*cursor.stretch_m), fit=True))
        self.shape.joins.connect(lambda other: self.do(lambda: self.work.join(other), fit=True))
        self.shape.turns.connect(lambda: self.edit(reversed_, "turn round"))
        self.heights.fills.connect(self._fill)
        self.heights.smooths.connect(lambda: self.edit(smooth_heights, "smooth the heights"))
        cursor.moved.connect(self._on_moved)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the stage")
        self.name.editingFinished.connect(self._on_named)
        self.chooser = ComboBox()
        self.chooser.setAccessibleName("Stages on the desk")
        self.chooser.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.chooser.setMinimumContentsLength(22)
        self.chooser.activated.connect(self._on_chosen)
        self.told = label(name="From, to, length and climb")
        self.sentence = label(name="Message")
        self.sentence.setWordWrap(True)
        self.retire = QCheckBox()
        self.back = tool_button("↶", "", self.undo, "Undo")
        self.again = tool_button("↷", "", self.redo, "Redo")
        self.keep = push_button("Save", self.save, command("save", Where.STAGE_DESK).tip, primary=True)
        self.commands = Commands(
            self,
            Where.STAGE_DESK,
            {
                "undo": self.undo,
                "redo": self.redo,
                "save": self.save,
                "cut": self.shape.cut.click,
                "point": self.along.add_point.click,
                "cue": self.along.add_cue.click,
            },
        )
        closes_by_keys(self)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.chooser)
        head.addWidget(self.name, 2)
        head.addWidget(self.told, 3)
        head.addWidget(self.back)
        head.addWidget(self.again)
        seen = QSplitter(Qt.Orientation.Vertical, childrenCollapsible=False)
        seen.addWidget(self.map)
        seen.addWidget(self.profile)
        seen.setSizes([400, 240])
        self.tabs = TabWidget()
        self.tabs.setAccessibleName("What to edit")
        for panel, title in (
            (self.shape, "Shape"),
            (self.along, "Along it"),
            (self.ground, "Ground"),
            (self.heights, "Heights"),
        ):
            self.tabs.addTab(scrolled(panel), title)
        middle = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        middle.addWidget(seen)
        middle.addWidget(self.tabs)
        middle.setStretchFactor(0, 1)
        middle.setSizes([820, 350])
        self.tabs.setFixedWidth(350)
        foot = QHBoxLayout()
        foot.addWidget(self.sentence, 1)
        foot.addWidget(self.retire)
        foot.addWidget(push_button("Close", self.close))
        foot.addWidget(self.keep)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(10, 10, 10, 10)
        whole.addLayout(head)
        whole.addWidget(middle, 1)
        whole.addLayout(foot)

    def may_leave(self) -> bool:
        """Whether nothing is left unsaved, or the person says what becomes of it."""
        if not self.work.changed:
            return True
        buttons = QMessageBox.StandardButton
        chosen = QMessageBox.question(
            self,
            "Lacet",
            "This stage was edited and not saved.",
            buttons.Save | buttons.Discard | buttons.Cancel,
        )
        return self.save() if chosen == buttons.Save else chosen == buttons.Discard

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.may_leave():
            self._shading.call_off()
            super().closeEvent(event)
        else:
            event.ignore()
