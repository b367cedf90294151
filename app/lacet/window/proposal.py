"""Makes a proposal of the open variant: looked at first, with what it lacks beside it, then saved."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt, QTemporaryDir, QUrl, Signal
from PySide6.QtGui import QCloseEvent, QDesktopServices
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QProgressBar,
    QVBoxLayout,
    QWidget,
)

from lacet.documents.missing import AN_AID, SOURCE, Missing, Weight
from lacet.documents.proposal.making import MadeFile, Prepared, may_be_offered, page_of
from lacet.service.gathering import as_open
from lacet.service.handing_over import make_proposal, save_proposal
from lacet.window.closing import closes_by_keys
from lacet.window.file_dialogs import ask_folder
from lacet.window.page_view import PageView
from lacet.window.parts import label, push_button, sentence_list
from lacet.window.proposal_choices import ProposalChoices
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work

ASIDE_PX = 330


@dataclass(frozen=True, slots=True)
class Made:
    """A proposal with its page, not saved yet."""

    prepared: Prepared
    page: MadeFile


class ProposalDialog(QDialog):
    """Shows the proposal of what was open when it was asked for, made anew whenever a choice changes."""

    saved = Signal(bool)

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        assert session.opened is not None, "asked for without an open trip"
        self.session = session
        self.project, self.it = session.session.project, as_open(session.session, session.opened)
        self.made: Made | None = None
        self.saved_in: Path | None = None
        self._again = False
        self.work = Work(self)
        self.setWindowTitle(f"Proposal: {self.it.trip.name}")
        self.choices = ProposalChoices(
            imperial=session.wording.imperial,
            may_be_offered=may_be_offered(self.it.found, self.it.trip),
        )
        self.choices.changed.connect(self.make)
        self.lacking = sentence_list("What is missing")
        self.says = label(name="Message")
        self.says.setWordWrap(True)
        self.choices.refused.connect(self.says.setText)
        self.busy = QProgressBar()
        self.busy.setRange(0, 0)
        self.busy.setTextVisible(False)
        self.busy.setMaximumHeight(4)
        self.busy.setAccessibleName("Being made")
        self._folder = QTemporaryDir()
        self.page = PageView(self)
        self.page.setAccessibleName("The proposal")
        self._lay_out()
        self.resize(1180, 820)
        self.make()

    def _lay_out(self) -> None:
        aid = label(f"By the items of {SOURCE}. {AN_AID}", quiet=True)
        aid.setWordWrap(True)
        self.save = push_button("Save…", self.choose_folder, primary=True)
        self.show_folder = push_button("Open the folder", self.open_folder)
        self.show_folder.hide()
        buttons = QHBoxLayout()
        buttons.addWidget(push_button("Close", self.reject))
        buttons.addStretch(1)
        buttons.addWidget(self.show_folder)
        buttons.addWidget(self.save)
        aside = QWidget()
        aside.setFixedWidth(ASIDE_PX)
        column = QVBoxLayout(aside)
        column.setContentsMargins(16, 14, 16, 12)
        column.addWidget(self.choices)
        column.addSpacing(8)
        column.addWidget(label("Missing"))
        column.addWidget(self.lacking, 1)
        column.addWidget(aid)
        column.addWidget(self.says)
        column.addWidget(self.busy)
        column.addLayout(buttons)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(aside)
        row.addWidget(self.page, 1)

    def make(self) -> None:
        """Make it as chosen, off the window's thread; the last choice counts."""
        self._again = self.work.busy
        if self._again:
            return
        self._begin()
        speech, theme, draft = self.choices.speech, self.choices.theme, self.choices.draft.isChecked()
        project, it = self.project, self.it

        def errand(_: Step) -> Made:
            prepared = make_proposal(project, it, speech=speech, theme=theme, draft=draft)
            return Made(prepared, page_of(prepared))

        self.work.run("Making the proposal", errand, self._on_made, self._on_refused, quiet=True)

    def choose_folder(self) -> None:
        """Ask where it goes, and save it there."""
        chosen = ask_folder(self, "Where the proposal goes")
        if chosen is not None:
            self.save_in(chosen)

    def save_in(self, folder: Path) -> None:
        """Set the PDF, write page and PDF and keep them as sent; `saved` tells whether that went well.

        A draft is written only: it is no offer.
        """
        made, paper = self.made, self.choices.paper
        if made is None or self.work.busy:
            return
        self._begin()

        def errand(_: Step) -> tuple[Path, ...]:
            return save_proposal(self.project, self.it, made.prepared, folder, paper, made.page)

        self.work.run("Saving the proposal", errand, self._on_saved, self._on_refused, quiet=True)

    def open_folder(self) -> None:
        """Show the folder in the system's own window."""
        if self.saved_in is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.saved_in)))

    def _begin(self) -> None:
        self.save.setEnabled(False)
        self.busy.show()

    def _on_made(self, made: Made) -> None:
        if self._again:
            self.make()
            return
        self.busy.hide()
        self.made = made
        self.save.setEnabled(True)
        self.says.setText("")
        self._tell(made.prepared.missing)
        page = Path(self._folder.path()) / "proposal.html"
        page.write_bytes(made.page.content)
        self.page.show_file(page)

    def _on_saved(self, paths: tuple[Path, ...]) -> None:
        self.busy.hide()
        self.save.setEnabled(True)
        self.saved_in = paths[0].parent
        self.show_folder.show()
        kept = "" if self.made is None or self.made.prepared.draft else " They are kept as they were sent."
        self.says.setText(f"Saved: {', '.join(path.name for path in paths)}.{kept}")
        self.saved.emit(True)
        if self._again:
            self.make()

    def _on_refused(self, sentence: str) -> None:
        if self._again:
            self.make()
            return
        self.busy.hide()
        self.save.setEnabled(self.made is not None)
        self.says.setText(sentence)
        self.saved.emit(False)

    def _tell(self, lacks: tuple[Missing, ...]) -> None:
        self.lacking.clear()
        for each in lacks:
            head = "Stops it: " if each.weight is Weight.STOP else f"{each.point} " if each.point else ""
            self.lacking.addItem(f"{head}{each.says}")
        if not lacks:
            self.lacking.addItem("Nothing.")

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        super().closeEvent(event)
        self._end()

    def done(self, result: int) -> None:
        super().done(result)
        self._end()

    def _end(self) -> None:
        self.work.wait()
        self.page.shut()


def show_proposal(session: QtSession, parent: QWidget) -> ProposalDialog | None:
    """Open the dialog for what is open; None without an open trip."""
    # What leaves the house names the revision it was made from.
    if session.opened is None or not session.finish_saving():
        return None
    dialog = ProposalDialog(session, parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.show()
    return dialog
