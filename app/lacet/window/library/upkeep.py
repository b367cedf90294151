"""Care of the whole project, from one menu: copies, trips for colleagues and from them, guest data erased.

Whatever may take longer than a moment is done off the window's thread. Nothing is overwritten unasked.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QMenu, QWidget

from lacet.service.library import upkeep_words
from lacet.store import Forgotten, TakenIn, after_erasing, all_done, before_erasing, delete_files, still_there
from lacet.trip.errors import LacetError
from lacet.window.dialogs.trips import TripChooser
from lacet.window.file_dialogs import ask_save
from lacet.window.library.dialogs import SentencesDialog
from lacet.window.projects import KIND, ask_open
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work

BUSY = "Something is still being done; wait for it, or call it off first."


def ask_target(parent: QWidget, title: str, path: Path) -> Path | None:
    """Where a file is to be written; it always ends in .lacet, and one that is there isn't written over."""
    chosen = ask_save(parent, title, path, KIND, may_overwrite=False)
    if chosen is None:
        return None
    found = chosen[0]
    return found if found.suffix == ".lacet" else found.with_name(f"{found.name}.lacet")


class Upkeep(QObject):
    """`said(sentence)` when something is done or refused."""

    said = Signal(str)

    def __init__(self, session: QtSession, window: QWidget, may_begin: Callable[[], bool]) -> None:
        super().__init__(window)
        self.session = session
        self.window = window
        self.may_begin = may_begin
        self.work = Work(window)

    def menu(self, parent: QWidget) -> QMenu:
        """The menu with all of it."""
        made = QMenu(parent)
        for text, action in (
            ("Back up…", self.back_up),
            ("Restore a backup…", self.restore),
            ("Check the file", self.check),
            ("Compact the file", self.compact),
            ("", None),
            ("Send a trip to a colleague…", self.send_trip),
            ("Take in a colleague's trip…", self.take_in),
            ("", None),
            ("Erase guest data…", self.erase_guest_data),
        ):
            if action is None:
                made.addSeparator()
            else:
                made.addAction(text).triggered.connect(lambda _=False, action=action: action())
        return made

    @property
    def _project(self) -> Any:
        return self.session.session.project

    def back_up(self) -> None:
        """A whole copy, to a place of the person's choice."""
        name, day = self._project.name, self.session.session.as_of
        wanted = Path.home() / f"{name} {day}.lacet"
        target = ask_target(self.window, "Back up", wanted)
        if target is not None:
            self._run(
                f"Copying to {target.name}",
                lambda step: self._project.backup(target, step),
                lambda _: self.said.emit(f"Backed up as '{target}'."),
            )

    def restore(self) -> None:
        """Let everything be as a copy holds it, after a copy of what is here."""
        source = ask_open(self.window)
        if source is None or not self.may_begin():
            return
        told = upkeep_words.before_restoring(source)
        title = f"Restore '{source.name}'?"
        if SentencesDialog.ask(title, "Restore", "All of the project is exchanged.", told, self.window):
            self._run(
                f"Restoring {source.name}",
                lambda _: self._project.restore(source),
                self._on_restored,
                may_be_called_off=False,
            )

    def check(self) -> None:
        """Look at everything the file holds; nothing is changed."""
        self._run(
            "Checking the file",
            lambda step: self._project.check(step),
            lambda _: self.said.emit("Checked: everything in the file is sound."),
        )

    def compact(self) -> None:
        """Write the file anew, without its unused pages."""
        self._run(
            "Compacting the file",
            lambda _: self._project.compact(),
            lambda done: self.said.emit(upkeep_words.after_compacting(done)),
            may_be_called_off=False,
        )

    def send_trip(self) -> None:
        """One trip with just what it needs, as a file."""
        trip_id = self._ask_trip()
        if trip_id is None:
            return
        name = self._trip_names()[trip_id]
        wanted = Path.home() / upkeep_words.file_name(name)
        target = ask_target(self.window, f"Send '{name}' to a colleague", wanted)
        if target is not None:
            self._run(
                f"Writing {target.name}",
                lambda _: self._project.export_trip(trip_id, target),
                lambda _: self.said.emit(
                    f"'{name}', with all it needs, is in '{target}'. It names the guests."
                ),
                may_be_called_off=False,
            )

    def take_in(self) -> None:
        """A colleague's trip, and what it needs."""
        source = ask_open(self.window)
        if source is not None and self.may_begin():
            self._run(
                f"Taking in {source.name}",
                lambda _: self._project.take_in(source),
                self._on_taken_in,
                may_be_called_off=False,
            )

    def erase_guest_data(self) -> None:
        """The guests of one trip, everywhere within reach; then everything is read again."""
        trip_id = self._ask_trip()
        if trip_id is None:
            return
        name = self._trip_names()[trip_id]
        if not self.session.finish_saving():
            return
        with self._project.reading() as unit:
            told = before_erasing(unit, trip_id)
            revision = unit.trips.revision(trip_id)
        says = "This can't be taken back."
        if not SentencesDialog.ask(f"Erase guest data of '{name}'?", "Erase", says, told, self.window):
            return
        self._run(
            "Erasing, and reading everything again",
            lambda _: self._project.forget_party(trip_id, revision),
            lambda done: self._on_erased(trip_id, done),
            may_be_called_off=False,
        )

    # --- within

    def _run(
        self,
        says: str,
        errand: Callable[[Step], Any],
        then: Callable[[Any], None],
        *,
        may_be_called_off: bool = True,
    ) -> None:
        if self.work.busy:
            self.said.emit(BUSY)
            return
        if not self.session.finish_saving():
            return
        self.work.run(says, errand, then, self.said.emit, may_be_called_off=may_be_called_off)

    def _ask_trip(self) -> str | None:
        return TripChooser.ask(self.session, self.window)

    def _trip_names(self) -> dict[str, str]:
        with self._project.reading() as unit:
            return {row.id: row.name for row in unit.trips.rows()}

    def _on_restored(self, before: Path) -> None:
        self._open_again()
        self.said.emit(f"Restored. What was here before is in '{before.name}', beside the project.")

    def _on_taken_in(self, done: TakenIn) -> None:
        self.session.do(self.session.session.reload_library)
        told = upkeep_words.after_taking_in(done, self._trip_names())
        if not done.trips:
            SentencesDialog.ask("Taken in", "Good", "It held no trip that isn't here.", told, self.window)
            return
        if SentencesDialog.ask("Taken in", "Open it", "The trip is here now.", told, self.window):
            self.session.do(lambda: self.session.session.open_trip(done.trips[0]))

    def _on_erased(self, trip_id: str, done: Forgotten) -> None:
        opened = self.session.opened
        if opened is not None and opened.trip.id == trip_id:
            self.session.do(lambda: self.session.session.open_trip(done.trip_id))
        first = "Erased." if all_done(done) else "Erased, but for what is told here."
        SentencesDialog.ask("Guest data erased", "Close", first, after_erasing(done), self.window)
        self._offer_deleting(done)
        self._offer_redacting(done)

    def _offer_deleting(self, done: Forgotten) -> None:
        """Files of the trip that still lie where they were written; none is deleted unasked."""
        there = still_there(done)
        if not there:
            return
        says = "These files of the trip still lie where they were saved, guest data included. Delete them?"
        places = tuple(f"{path}{' (folder)' if path.is_dir() else ''}" for path in there)
        if SentencesDialog.ask("Files of this trip", "Delete", says, places, self.window):
            failed = delete_files(there)
            self.said.emit(" ".join(failed) or f"Deleted: {len(there)} of {len(there)}.")

    def _offer_redacting(self, done: Forgotten) -> None:
        """Where other texts surely name them, offer to take the names out; nothing is changed unasked."""
        found = [each for each in done.mentions if each.sure]
        if not found:
            return
        says = (
            "They are still named here. Take the names out of notes and descriptions, in all their history? "
            "What things are called stays as it is."
        )
        places = tuple(f"{each.where}: '{each.says}'" for each in found)
        if SentencesDialog.ask("Names elsewhere", "Take them out", says, places, self.window):
            self._run(
                "Taking the names out",
                lambda _: self._project.redact(done.known),
                self._on_redacted,
                may_be_called_off=False,
            )

    def _on_redacted(self, changed: tuple[str, ...]) -> None:
        self.session.do(self.session.session.reload_library)
        self.said.emit(f"Names taken out of: {', '.join(changed) or 'nothing'}.")

    def _open_again(self) -> None:
        """After the whole file was exchanged: its library, and the same trip where it is still there."""
        inner = self.session.session
        held = None if self.session.opened is None else self.session.opened.trip.id
        ids = list(self._trip_names())
        try:
            if ids:
                inner.catalogue, inner.rules = inner.project.catalogue(), inner.project.house_rules()
                inner.open_trip(held if held in ids else ids[0])
            inner.reload_library()
        except LacetError as refusal:
            self.said.emit(str(refusal))
