"""The window of the drop table: reads what was dropped off the window's thread, shows it, takes it in.

Reading is `intake.material`'s, choosing and keeping `service.importing`'s, as for the command line. Nothing
is written before *Take in* is pressed, and then all of it at once.
"""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from lacet.files import harmless
from lacet.intake.corrections import new_places
from lacet.intake.elevation import coverage
from lacet.intake.material import Chosen, Material, files_in, look_at
from lacet.intake.plan import Change, changes
from lacet.intake.sheets import is_sheet
from lacet.service.importing import take_in
from lacet.trip.library import Place, Stage
from lacet.window.closing import closes_by_keys
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import Where, command
from lacet.window.fields import ComboBox, TabWidget
from lacet.window.file_dialogs import ask_files, ask_folder
from lacet.window.intake.preview import Preview
from lacet.window.intake.text_table import TextModel, text_table
from lacet.window.intake.track_delegate import TrackDelegate
from lacet.window.intake.track_model import (
    CLIMB,
    FILE,
    LENGTH,
    NAME,
    SHAPE,
    TOLD,
    WAY,
    WAYS,
    TrackModel,
)
from lacet.window.parts import label, push_button
from lacet.window.points_table import PointsTable
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work

FINE = 1_000
KINDS = "GPX files, sheets and elevation (*.gpx *.csv *.tsv *.xlsx *.xlsm *.tif *.tiff *.asc);;All files (*)"
WIDTHS = {NAME: 190, 1: 140, 2: 140, WAY: 66, LENGTH: 66, CLIMB: 64, TOLD: 300, SHAPE: 96, FILE: 140}


class DropTable(QWidget):
    """One window for whatever is dropped; dropping more reads all of it together."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.session = session
        self.work = Work(self)
        self.named: tuple[Path, ...] = ()
        self.material: Material | None = None
        self.sheet_changes: tuple[Change, ...] = ()
        self.coverage = ""
        self.setWindowTitle("Bring in – Lacet")
        self.setAcceptDrops(True)
        self.resize(1180, 720)
        self._make_parts()
        self._lay_out()
        self._tell_what_is_taken()

    # --- what can be done

    def bring(self, named: Sequence[Path]) -> None:
        """Read files and folders, beside those that are on the table already."""
        self.named = tuple(dict.fromkeys((*self.named, *named)))
        self._read()

    def take_in(self) -> None:
        """Keep what is ticked and what the sheets hold, all of it or nothing."""
        material, proposals = self.material, self.model.proposals
        if material is None or self.work.busy:
            return
        project = self.session.session.project

        def errand(step: Step) -> Chosen:
            return take_in(project, material, proposals, lambda _, done, of: step(done, of))

        self.take.setEnabled(False)
        self.work.run("Taking in", errand, self._on_taken, self._on_refused)

    def choose_files(self) -> None:
        """Let the person choose files."""
        chosen = ask_files(self, "Import files", KINDS)
        if chosen:
            self.bring(chosen)

    def choose_folder(self) -> None:
        """Let the person choose a folder; everything in it that can be read is."""
        chosen = ask_folder(self, "Import a folder")
        if chosen is not None:
            self.bring([chosen])

    def clear(self) -> None:
        """Put everything off the table."""
        self.named, self.material, self.sheet_changes = (), None, ()
        self.model.show_all((), (), {})
        self._fill_tables(None)

    # --- within

    def _read(self) -> None:
        if self.work.busy:
            self.work.call_off()
            QTimer.singleShot(100, self._read)
            return
        named, catalogue, merge = self.named, self.session.session.catalogue, self.merge.isChecked()

        def errand(step: Step) -> tuple[Material, tuple[Change, ...], str]:
            files = files_in(named)
            material = look_at(files, catalogue, None, in_phases(step, phases_of(files)), merge=merge)
            planned = changes(material.sheets.items, catalogue, set(material.sheets.tracks))
            covered = coverage(catalogue, material.rasters, step).says() if material.rasters else ""
            return material, planned, covered.rstrip(".").replace("It has", "which has")

        self.take.setEnabled(False)
        self.sentence.setText("Reading…")
        self.work.run("Reading the files", errand, self._on_read, self._on_refused)

    def _on_read(self, found: tuple[Material, tuple[Change, ...], str]) -> None:
        self.material, self.sheet_changes, self.coverage = found
        catalogue, proposals = self.material.catalogue, self.material.proposed.proposals
        twins = {each.duplicate_of for each in proposals if each.duplicate_of is not None}
        stages = (catalogue.latest(Stage, each) for each in twins)
        names = {stage.id: stage.name for stage in stages if stage is not None}
        self.model.show_all(proposals, catalogue.current(Place), names)
        self._fill_tables(self.material)
        if self.model.proposals:
            self.table.selectRow(0)
            self.table.setFocus()

    def _on_refused(self, sentence: str) -> None:
        if self.material is None:
            self.named = ()
        self._tell_what_is_taken()
        self.sentence.setText(sentence)

    def _on_taken(self, chosen: Chosen) -> None:
        counts = {what: sum(each.what == what for each in chosen.changes) for what in ("new", "changed")}
        self.clear()
        says = f"Taken in: {counts['new']} new, {counts['changed']} changed."
        self.sentence.setText(" ".join((says, *chosen.says[:1])))
        self.session.session.reload_library()
        self.session.kept.emit(says)

    def _fill_tables(self, material: Material | None) -> None:
        problems = () if material is None else material.sheets.problems
        refusals = _brings_nothing(material)
        self.problems.show_rows(
            tuple(
                (each.file, each.sheet, "" if each.row is None else str(each.row), each.column or "",
                 "stops" if each.stops else "told", each.says)
                for each in problems
            )
        )  # fmt: skip
        self.changes.show_rows(
            tuple((each.what, each.kind, each.name, each.says) for each in self.sheet_changes)
        )
        self.refusals.show_rows(tuple((says,) for says in refusals))
        for page, title, count in (
            (0, "Lines", len(self.model.proposals)),
            (1, "Problems of the sheets", len(problems)),
            (2, "What the sheets change", len(self.sheet_changes)),
            (3, "Nothing to import", len(refusals)),
        ):
            self.tabs.setTabText(page, f"{title} ({count})")
            self.tabs.setTabVisible(page, page == 0 or count > 0)
        if material is not None and not self.model.proposals:
            self.tabs.setCurrentIndex(1 if problems else 2 if self.sheet_changes else 3 if refusals else 0)
        for view in self.tables:
            view.resizeColumnsToContents()
        self._tell_what_is_taken()

    def _tell_what_is_taken(self) -> None:
        material, taken = self.material, [each for each in self.model.proposals if each.take]
        differ = [each for each in self.sheet_changes if each.what != "same"]
        timed = any(each.recording is not None and each.duplicate_of for each in self.model.proposals)
        parts = (
            [f"{len(taken)} of {len(self.model.proposals)} lines become stages"]
            if self.model.proposals
            else []
        )
        places = len(new_places(taken))
        parts += [f"{places} new place{'s' if places != 1 else ''}"] if places else []
        rasters = () if material is None else material.rasters
        names = ", ".join(raster.path.name for raster in rasters)
        parts += [f"heights from {names}, {self.coverage}"] if rasters else []
        parts += [f"{len(differ)} rows of sheets are new or changed"] if self.sheet_changes else []
        if material is not None and material.sheets.refused:
            parts.append("nothing of the sheets is taken until their problems are mended")
        self.take.setEnabled(material is not None and bool(taken or differ or timed or rasters))
        self.sentence.setText(f"{'; '.join(parts)}." if parts else self._why_nothing())

    def _why_nothing(self) -> str:
        """Why there is nothing to import."""
        if self.material is None:
            return "Drop GPX files, sheets, elevation rasters or folders here, or choose them."
        reasons = _brings_nothing(self.material)
        if reasons:
            more = f" {len(reasons) - 1} more below." if len(reasons) > 1 else ""
            return f"Nothing to import. {reasons[0]}{more}"
        if self.material.sheets.problems:
            return "Nothing to import until the problems of the sheets are fixed."
        names = ", ".join(f"'{harmless(path.name)}'" for path in self.named)
        return f"Nothing to import: {names} holds no GPX file, sheet or raster with anything in it."

    def _on_current_changed(self, current: QModelIndex, _: QModelIndex) -> None:
        self._show_details(current.row())

    def _show_details(self, row: int) -> None:
        proposal = self.model.proposals[row] if 0 <= row < len(self.model.proposals) else None
        says = "" if proposal is None else "\n".join(self.model.told(proposal))
        self.preview.show_proposal(proposal, says)
        self.details.setText(says or ("Nothing to say about this line." if proposal else ""))
        self.points.show_proposal(proposal)
        self.points.setVisible(proposal is not None and bool(proposal.offered))

    def _on_points_chosen(self, points: object) -> None:
        row = self.table.currentIndex().row()
        if row >= 0 and isinstance(points, tuple):
            self.model.set_points(row, points)
            self.preview.show_proposal(self.model.proposals[row])

    def _rows(self) -> list[int]:
        return sorted({index.row() for index in self.table.selectionModel().selectedIndexes()})

    def _toggle(self) -> None:
        rows = self._rows()
        if rows:
            self.model.take(rows, not all(self.model.proposals[row].take for row in rows))

    def _set_way(self, number: int) -> None:
        if number > 0:
            self.model.set_ways(self._rows(), list(WAYS.values())[number - 1])
            self.way.setCurrentIndex(0)

    def _make_parts(self) -> None:
        wording = self.session.wording
        self.sentence = label(name="What is taken in")
        self.sentence.setWordWrap(True)
        self.model = TrackModel(wording, self)
        self.table = QTableView()
        self.table.setModel(self.model)
        self.table.setItemDelegate(TrackDelegate(self.table))
        self.table.setAccessibleName("Lines of the files")
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setWordWrap(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(28)
        self.table.horizontalHeader().setStretchLastSection(True)
        for column, width in WIDTHS.items():
            self.table.setColumnWidth(column, width)
        self.table.selectionModel().currentRowChanged.connect(self._on_current_changed)
        self.model.corrected.connect(self._tell_what_is_taken)
        self.model.refused.connect(self.sentence.setText)
        self.problems = TextModel(
            ("File", "Sheet", "Row", "Column", "", "What is wrong, and what to do"), self
        )
        self.changes = TextModel(("", "Kind", "Name", "What changes"), self)
        self.refusals = TextModel(("Why nothing of the file is imported",), self)
        self.preview = Preview()
        self.details = label(name="To know about this line")
        self.details.setWordWrap(True)
        self.points = PointsTable(wording)
        self.points.chosen.connect(self._on_points_chosen)
        self.merge = QCheckBox("Put split recordings together")
        self.merge.setChecked(True)
        self.merge.toggled.connect(lambda _: self._read() if self.named else None)
        self.way = ComboBox()
        self.way.setAccessibleName("Way of the chosen lines")
        self.way.addItems(["Way of the chosen lines…", *WAYS])
        self.way.activated.connect(self._set_way)
        self.take = push_button(
            "Take in", self.take_in, command("take in", Where.DROP_TABLE).tip, primary=True
        )
        self.commands = Commands(
            self,
            Where.DROP_TABLE,
            {"take in": self.take_in, "files": self.choose_files, "tick": self._toggle},
        )
        closes_by_keys(self)

    def _lay_out(self) -> None:
        tools = QHBoxLayout()
        for text, action, tip in (
            ("Files…", self.choose_files, command("files", Where.DROP_TABLE).tip),
            ("Folder…", self.choose_folder, "Choose a folder"),
            ("Clear", self.clear, "Put everything off the table"),
        ):
            tools.addWidget(push_button(text, action, tip))
        tools.addStretch(1)
        tools.addWidget(self.merge)
        tools.addWidget(self.way)
        tools.addWidget(push_button("Tick or untick", self._toggle, command("tick", Where.DROP_TABLE).tip))
        beside = QWidget()
        column = QVBoxLayout(beside)
        column.setContentsMargins(8, 0, 0, 0)
        for widget in (self.preview, self.details, self.points):
            column.addWidget(widget)
        column.addStretch(1)
        # A long story of one line must not make the window grow.
        scrolled = QScrollArea()
        scrolled.setWidgetResizable(True)
        scrolled.setFrameShape(QScrollArea.Shape.NoFrame)
        scrolled.setWidget(beside)
        lines = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        lines.addWidget(self.table)
        lines.addWidget(scrolled)
        lines.setStretchFactor(0, 1)
        lines.setSizes([820, 340])
        self.tabs = TabWidget()
        self.tabs.setAccessibleName("What was brought")
        self.tabs.addTab(lines, "Lines")
        self.tables = [
            text_table(self.problems, "Problems of the sheets"),
            text_table(self.changes, "What the sheets change"),
            text_table(self.refusals, "Files that bring nothing"),
        ]
        for view in self.tables:
            self.tabs.addTab(view, view.accessibleName())
        foot = QHBoxLayout()
        foot.addWidget(self.sentence, 1)
        foot.addWidget(push_button("Close", self.close))
        foot.addWidget(self.take)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(10, 10, 10, 10)
        whole.addLayout(tools)
        whole.addWidget(self.tabs, 1)
        whole.addLayout(foot)
        self._fill_tables(None)

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        self.work.call_off()
        super().closeEvent(event)


def phases_of(files: Sequence[Path]) -> int:
    """How often reading these counts: sheets and the lines they name; other lines, and their doubles."""
    return 2 * any(map(is_sheet, files)) + 2 * (not all(map(is_sheet, files))) or 1


def in_phases(step: Step, phases: int) -> Callable[[str, int, int], None]:
    """One count out of several that follow each other, each from nothing to its end."""
    phase, last = 0, -1

    def tell(_: str, done: int, of: int) -> None:
        nonlocal phase, last
        if done <= last and phase < phases - 1:
            phase += 1
        last = done
        step(round(FINE * (phase + done / max(of, 1)) / phases), FINE)

    return tell


def _brings_nothing(material: Material | None) -> tuple[str, ...]:
    """Why files bring nothing, a sentence each: they can't be read, or hold no line."""
    return () if material is None else (*material.not_readable, *material.proposed.without_line)
