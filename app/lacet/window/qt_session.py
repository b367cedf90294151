"""The session as Qt objects see it: the same values, as Qt signals; refusals become sentences to show.

Views hold this and nothing else; no view knows another.
"""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QTimer, Signal

from lacet.service.outbox import Back, Waiting
from lacet.service.session import Edit, Session
from lacet.service.shown import Opened, Selection
from lacet.store import FileLost, StaleRevision
from lacet.trip.bookings import Act
from lacet.trip.errors import LacetError
from lacet.trip.finding import ProvedFix
from lacet.wording import Wording

FOLLOWED_EVERY_MS = 500
# A save that takes no longer needn't be told of twice.
SAVING_SHOWN_AFTER_MS = 250


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
    `hovered(Spot | None)`, `refused(str)`, `kept(str)`, `saving(str)` when a save takes longer than a moment,
    `lost_race(StaleRevision)`, `others_wrote()` when the file was changed elsewhere,
    `file_lost(FileLost)` when the file is no longer at its path, `file_stands(bool)` whenever it begins or
    ends that edits can't be saved in it,
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
    saving = Signal(str)
    lost_race = Signal(object)
    file_lost = Signal(object)
    others_wrote = Signal()
    file_stands = Signal(bool)
    picked_up = Signal(object, str)
    drag_ended = Signal()
    client_looks = Signal(bool)
    stage_desk_asked = Signal(str, object)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.client_looks_on = False
        self.lost: LacetError | None = None
        session.changed.connect(self.changed.emit)
        session.previewed.connect(self.previewed.emit)
        session.selected.connect(self.selected.emit)
        session.library_changed.connect(self.library_changed.emit)
        session.others_wrote.connect(lambda _: self.others_wrote.emit())
        session.saved.connect(self._on_saved)
        session.failed.connect(self._on_failed)
        self._followed = QTimer(self, interval=FOLLOWED_EVERY_MS)
        self._followed.timeout.connect(self.follow)
        self._followed.start()
        self._slow = QTimer(self, interval=SAVING_SHOWN_AFTER_MS, singleShot=True)
        self._slow.timeout.connect(self._on_slow)

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
        """Make one edit, and say so when it is saved; a refusal is shown as a sentence."""
        self._slow.start()
        return self._guarded(lambda: self.session.apply(edit, says), "")

    def book(self, act: Act, says: str) -> bool:
        """Do something with the bookings of the open trip, as `apply` does with the trip."""
        self._slow.start()
        return self._guarded(lambda: self.session.book(act, says), "")

    def take(self, fix: ProvedFix) -> bool:
        """Do what a proved fix says."""
        self._slow.start()
        return self._guarded(lambda: self.session.take(fix), "")

    def keep_mine(self) -> bool:
        """After a lost race: what could not be saved lives on beside theirs; what can't is named."""
        theirs: list[str] = []
        done = self._guarded(lambda: theirs.extend(self.session.keep_mine()), "")
        if theirs:
            self.refused.emit(f"Changed by both, theirs stays: {', '.join(theirs)}.")
        return done

    def undo(self) -> bool:
        """Go back one edit."""
        return self._guarded(self.session.undo, "")

    def redo(self) -> bool:
        """Take back the last undo."""
        return self._guarded(self.session.redo, "")

    def finish_saving(self) -> bool:
        """Wait until the file holds everything; where it can't, that is shown as a sentence."""
        return self._guarded(self.session.finish_saving, "")

    def select(self, selection: Selection) -> None:
        self.session.select(selection)

    def do(self, gesture: Callable[[], object], says: str = "") -> bool:
        """Run any gesture of the session; a refusal is shown as a sentence."""
        return self._guarded(gesture, says)

    def _guarded(self, gesture: Callable[[], object], says: str) -> bool:
        try:
            done = gesture()
        except LacetError as refusal:
            self._tell(refusal)
            return False
        if says and done is not False:
            self.kept.emit(says)
        return done is not False

    def _tell(self, refusal: LacetError) -> None:
        if isinstance(refusal, StaleRevision):
            self.lost_race.emit(refusal)
        elif isinstance(refusal, FileLost) or refusal is self.session.failure:
            self._lose(refusal)
        else:
            self.refused.emit(str(refusal))

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

    def _find_again(self) -> None:
        """What could not be saved is tried again; a clash waits for the person to decide."""
        if self.lost is None or isinstance(self.session.failure, StaleRevision):
            return
        if self.session.has_unsaved:
            self.session.try_saving_again()
        else:
            self._be_found()

    def _be_found(self) -> None:
        self.lost = None
        self.file_stands.emit(True)
        self.kept.emit("The file is back; everything is saved in it")

    def _on_saved(self, what: Waiting) -> None:
        self._slow.stop()
        if self.lost is not None:
            self._be_found()
        elif isinstance(what, Back):
            self.kept.emit("Redone" if what.again else "Undone")
        else:
            self.kept.emit(f"Saved: {what.says}")

    def _on_failed(self, why: LacetError) -> None:
        """A save failed after its gesture was over; tried again and again, it is said once."""
        if self.lost is None or str(why) != str(self.lost):
            self._tell(why)

    def _on_slow(self) -> None:
        if self.session.has_unsaved and self.session.failure is None:
            self.saving.emit("Saving…")

    def _lose(self, lost: LacetError) -> None:
        first, self.lost = self.lost is None, lost
        self._slow.stop()
        self.refused.emit(f"Not saved: {lost}")
        if first:
            self.file_stands.emit(False)
            if isinstance(lost, FileLost):
                self.file_lost.emit(lost)

    def stop_following(self) -> None:
        """The window is closing: its file is looked at no more."""
        self._followed.stop()
