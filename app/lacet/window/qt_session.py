"""The session as Qt objects see it: the same values, as Qt signals; refusals become sentences to show.

Views hold this and nothing else; no view knows another.
"""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QTimer, Signal

from lacet.service.session import Edit, Opened, Selection, Session
from lacet.store import FileLost, StaleRevision
from lacet.trip.errors import LacetError
from lacet.wording import Wording

FOLLOWED_EVERY_MS = 500


@dataclass(frozen=True, slots=True)
class Spot:
    """A point under the mouse on the profile or on the map: day and group from 0, leg within the group."""

    day: int
    group: int
    leg: int
    along_m: float


class QtSession(QObject):
    """Passes the session's signals on, and adds those of the window.

    `changed(Opened)`, `previewed(Shown | None)`, `selected(Selection)`, `library_changed(Catalogue)`,
    `hovered(Spot | None)`, `refused(str)`, `kept(str)`, `lost_race(StaleRevision)`,
    `file_lost(FileLost)` when the file is no longer at its path, `file_stands(bool)` whenever that changes,
    `drag_ended()` when the mouse let go of a drag that began here, wherever that was,
    `picked_up(payload, name)` when the keyboard takes something in hand, `client_looks(bool)` when a client
    begins or ends looking on: nobody then shows net prices, mark-up, margin or commission,
    `stage_desk_asked(stage_id, QWidget)` when a view wants a stage's line in a window of its own.
    """

    changed = Signal(object)
    previewed = Signal(object)
    selected = Signal(object)
    library_changed = Signal(object)
    hovered = Signal(object)
    refused = Signal(str)
    kept = Signal(str)
    lost_race = Signal(object)
    file_lost = Signal(object)
    file_stands = Signal(bool)
    picked_up = Signal(object, str)
    drag_ended = Signal()
    client_looks = Signal(bool)
    stage_desk_asked = Signal(str, object)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.client_looks_on = False
        self._last: tuple[Edit, str] | None = None
        self.lost: FileLost | None = None
        session.changed.connect(self.changed.emit)
        session.previewed.connect(self.previewed.emit)
        session.selected.connect(self.selected.emit)
        session.library_changed.connect(self.library_changed.emit)
        self._followed = QTimer(self, interval=FOLLOWED_EVERY_MS)
        self._followed.timeout.connect(self.follow)
        self._followed.start()

    @property
    def opened(self) -> Opened | None:
        return self.session.opened

    @property
    def selection(self) -> Selection:
        return self.session.selection

    @property
    def wording(self) -> Wording:
        """How figures are said."""
        return self.session.wording

    def let_client_look(self, looks: bool) -> None:
        """Hide from now on what is the office's own, or show it again."""
        if looks != self.client_looks_on:
            self.client_looks_on = looks
            self.client_looks.emit(looks)

    def apply(self, edit: Edit, says: str) -> bool:
        """Make one edit and say that it is kept; a refusal is shown as a sentence."""
        self._last = (edit, says)
        return self._guarded(lambda: self.session.apply(edit, says), f"Kept: {says}")

    def keep_mine(self) -> bool:
        """After a lost race: the refused edit lives on in a variant of its own."""
        if self._last is None:
            return False
        edit, says = self._last
        return self._guarded(lambda: self.session.keep_mine(edit, says), "Kept as a variant of your own")

    def undo(self) -> bool:
        """Go back one edit."""
        return self._guarded(self.session.undo, "Undone")

    def redo(self) -> bool:
        """Take back the last undo."""
        return self._guarded(self.session.redo, "Done again")

    def select(self, selection: Selection) -> None:
        self.session.select(selection)

    def do(self, gesture: Callable[[], object], says: str = "") -> bool:
        """Run any gesture of the session; a refusal is shown as a sentence."""
        return self._guarded(gesture, says)

    def _guarded(self, gesture: Callable[[], object], says: str) -> bool:
        try:
            done = gesture()
        except StaleRevision as race:
            self.lost_race.emit(race)
            return False
        except FileLost as lost:
            self._lose(lost)
            return False
        except LacetError as refusal:
            self.refused.emit(str(refusal))
            return False
        if says and done is not False:
            self.kept.emit(says)
        return done is not False

    def follow(self) -> None:
        """Show what others changed in the file, and say so; never under a drag."""
        if self.session.preview is not None:
            return
        try:
            self.session.project.stands()
            self._find_again()
            theirs = self.session.follow()
        except FileLost as lost:
            if self.lost is None:
                self._lose(lost)
            return
        except LacetError as refusal:
            self.refused.emit(str(refusal))
            return
        if theirs:
            self.kept.emit(f"Changed elsewhere: {', '.join(theirs)}")

    def _lose(self, lost: FileLost) -> None:
        first, self.lost = self.lost is None, lost
        self.refused.emit(f"Not saved: {lost}")
        if first:
            self.file_stands.emit(False)
            self.file_lost.emit(lost)

    def _find_again(self) -> None:
        """The file is back at its path: what was edited meanwhile is kept in it."""
        if self.lost is not None:
            self.session.keep_unkept()
            self.lost = None
            self.file_stands.emit(True)
            self.kept.emit("The file is back; everything is kept in it")

    def stop_following(self) -> None:
        """The window is closing: its file is looked at no more."""
        self._followed.stop()
