"""Makes what travels with the guests: gathered and set first, with what it lacks beside it, then saved."""

from pathlib import Path

from PySide6.QtCore import Qt, QTemporaryDir, QUrl, Signal
from PySide6.QtGui import QCloseEvent, QDesktopServices
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QListWidget,
    QProgressBar,
    QVBoxLayout,
    QWidget,
)

from lacet.documents.pack.making import PreparedPack
from lacet.service.gathering import as_open
from lacet.service.handing_over import make_pack, save_pack
from lacet.window.closing import closes_by_keys
from lacet.window.file_dialogs import ask_folder
from lacet.window.parts import label, push_button, sentence_list
from lacet.window.proposal_choices import ProposalChoices
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work


class PackDialog(QDialog):
    """Shows the files of the pack of what was open when it was asked for, made anew as choices change."""

    made = Signal()
    saved = Signal(bool)

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        assert session.opened is not None, "asked for without an open trip"
        self.session = session
        self.project, self.it = session.session.project, as_open(session.session, session.opened)
        self.prepared: PreparedPack | None = None
        self.saved_in: Path | None = None
        self._again = False
        self._folder = QTemporaryDir()
        self.work = Work(self)
        self.work.stepped.connect(self._on_stepped)
        self.setWindowTitle(f"Travel pack: {self.it.trip.name}")
        self.choices = ProposalChoices(imperial=session.wording.imperial, may_be_offered=True)
        # A pack goes to guests whose trip is theirs: there is no draft of it.
        self.choices.draft.hide()
        self.choices.changed.connect(self.make)
        self.choices.papers.currentIndexChanged.connect(lambda _: self.make())
        self.files = _list("Files of the pack")
        self.files.itemActivated.connect(lambda _: self.look_at())
        self.lacking = sentence_list("What is missing")
        self.says = label(name="Message")
        self.says.setWordWrap(True)
        self.choices.refused.connect(self.says.setText)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Being made")
        self._lay_out()
        self.resize(640, 680)
        self.make()

    def _lay_out(self) -> None:
        self.look = push_button("Look at it", self.look_at)
        self.save = push_button("Save…", self.choose_folder, primary=True)
        self.show_folder = push_button("Open the folder", self.open_folder)
        self.show_folder.hide()
        buttons = QHBoxLayout()
        buttons.addWidget(push_button("Close", self.reject))
        buttons.addWidget(self.look)
        buttons.addStretch(1)
        buttons.addWidget(self.show_folder)
        buttons.addWidget(self.save)
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 16, 18, 14)
        column.setSpacing(8)
        column.addWidget(self.choices)
        column.addWidget(label("Files"))
        column.addWidget(self.files, 3)
        column.addWidget(label("Missing"))
        column.addWidget(self.lacking, 1)
        column.addWidget(self.says)
        column.addWidget(self.bar)
        column.addLayout(buttons)

    def make(self) -> None:
        """Make it as chosen, off the window's thread; the last choice counts."""
        self._again = self.work.busy
        if self._again:
            return
        self.save.setEnabled(False)
        self.look.setEnabled(False)
        self.bar.setRange(0, 0)
        self.bar.show()
        speech, theme, paper = self.choices.speech, self.choices.theme, self.choices.paper
        project, it = self.project, self.it

        def errand(step: Step) -> PreparedPack:
            return make_pack(project, it, speech=speech, theme=theme, paper=paper, progress=step)

        self.work.run("Making the pack", errand, self._on_made, self._on_refused, quiet=True)

    def look_at(self) -> None:
        """Open the chosen file in the system's own viewer, from a folder that goes with this dialog."""
        if self.prepared is None or self.files.currentRow() < 0:
            return
        name = self.files.currentItem().text()
        file = Path(self._folder.path()) / name
        file.write_bytes(self.prepared.files[name])
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(file)))

    def choose_folder(self) -> None:
        """Ask where it goes, and save it there."""
        chosen = ask_folder(self, "Where the pack goes")
        if chosen is not None:
            self.save_in(chosen)

    def save_in(self, folder: Path) -> None:
        """Write the folder and its zip; `saved` tells whether that went well. Nothing is left half done."""
        prepared = self.prepared
        if prepared is None or self.work.busy:
            return
        self.save.setEnabled(False)

        def errand(_: Step) -> Path:
            return save_pack(self.project, self.it.trip.id, prepared, folder)

        self.work.run("Saving the pack", errand, self._on_saved, self._on_refused, quiet=True)

    def open_folder(self) -> None:
        """Show the folder in the system's own window."""
        if self.saved_in is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.saved_in)))

    def _on_stepped(self, made: int, whole: int) -> None:
        self.bar.setRange(0, whole)
        self.bar.setValue(made)

    def _on_made(self, prepared: PreparedPack) -> None:
        if self._again:
            self.make()
            return
        self.prepared = prepared
        self.bar.hide()
        self.files.clear()
        self.files.addItems(sorted(prepared.files))
        self.files.setCurrentRow(0)
        self.lacking.clear()
        self.lacking.addItems(list(prepared.lacks) or ["Nothing."])
        self.save.setEnabled(True)
        self.look.setEnabled(True)
        self.says.setText("")
        self.made.emit()

    def _on_saved(self, folder: Path) -> None:
        self.saved_in = folder
        self.save.setEnabled(True)
        self.show_folder.show()
        self.says.setText(f"Saved: {folder.name}, and as a zip beside it.")
        self.saved.emit(True)

    def _on_refused(self, sentence: str) -> None:
        if self._again:
            self.make()
            return
        self.bar.hide()
        self.save.setEnabled(self.prepared is not None)
        self.look.setEnabled(self.prepared is not None)
        self.says.setText(sentence)
        self.saved.emit(False)

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        super().closeEvent(event)
        self.work.wait()

    def done(self, result: int) -> None:
        super().done(result)
        self.work.wait()


def show_pack(session: QtSession, parent: QWidget) -> PackDialog | None:
    """Open the dialog for what is open; None without an open trip."""
    # What leaves the house names the revision it was made from.
    if session.opened is None or not session.finish_saving():
        return None
    dialog = PackDialog(session, parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.show()
    return dialog


def _list(name: str) -> QListWidget:
    made = QListWidget()
    made.setAccessibleName(name)
    made.setSpacing(2)
    return made
