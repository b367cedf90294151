"""Edits on their way to the file: saved in order, each a step of the history; what fails waits, unforgotten.

An edit is made in memory first, so that nobody waits for the disk. It is acknowledged when its commit is.
What is booked goes the same way; it waits for no clash of edits, and one of its own is refused at once.
"""

import sys
from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from lacet.service.saver import Saver
from lacet.store import Position, Project, StaleRevision, UnitOfWork
from lacet.trip.bookings import BookedMeanwhile, Bookings, changes, moved_on, renamed
from lacet.trip.commitments import Commitments
from lacet.trip.errors import LacetError
from lacet.trip.merge import Conflict, merge
from lacet.trip.trip import Trip


class NotSaved(LacetError):
    """An edit could not be saved, for a reason nobody foresaw."""


class ChangedMeanwhile(LacetError):
    """Somebody else saved the trip before it could be undone or redone."""


@dataclass(frozen=True, slots=True)
class Unsaved:
    """One edit: the trip before and after it, and what the history calls it."""

    before: Trip
    after: Trip
    says: str

    @property
    def trip_id(self) -> str:
        return self.after.id


@dataclass(frozen=True, slots=True)
class Back:
    """One undo, or redo."""

    trip_id: str
    again: bool


@dataclass(frozen=True, slots=True)
class Booked:
    """One act on a trip's bookings: these before and after it, who did it, and a word that is its alone."""

    trip_id: str
    before: Bookings
    after: Bookings
    says: str
    by: str
    act: str


Waiting = Unsaved | Back | Booked


class Saved(NamedTuple):
    """What the file holds of a trip after a save; others' changes of it are in it.

    `renamed` are ids of bookings that others had taken meanwhile, by what they are called instead.
    """

    trip: Trip
    revision: int
    position: Position
    commitments: Commitments
    bookings: Bookings
    renamed: Mapping[str, str] = MappingProxyType({})


class Outbox:
    """Everything that isn't saved yet, of all trips, in the order in which it was done.

    Parameters
    ----------
    saved, failed
        Told after each save, and when one fails on its way; a failure within `add` is raised there instead.
    """

    def __init__(
        self,
        project: Project,
        saver: Saver,
        as_of: Callable[[], date],
        saved: Callable[[Waiting, Saved], None],
        failed: Callable[[LacetError], None],
    ) -> None:
        self._project = project
        self.saver = saver
        self._as_of = as_of
        self._saved, self._failed = saved, failed
        self._waiting: deque[Waiting] = deque()
        # Trip and revision as they were last seen in the file.
        self._known: dict[str, tuple[Trip, int]] = {}
        self._under_way = False
        self._sending = False
        self._listening = False
        self._refused: LacetError | None = None
        self.failure: LacetError | None = None

    def __bool__(self) -> bool:
        return bool(self._waiting)

    def waits(self, trip_id: str) -> bool:
        """Whether something of a trip isn't saved yet."""
        return any(each.trip_id == trip_id for each in self._waiting)

    @property
    def goes_back(self) -> bool:
        """Whether an undo or redo is on its way: what it leads to isn't known yet."""
        return any(isinstance(each, Back) for each in self._waiting)

    def begun_with(self, trip_id: str) -> Trip:
        """The trip as it was before the first edit that waits; something of it must wait."""
        return next(
            each.before for each in self._waiting if isinstance(each, Unsaved) and each.trip_id == trip_id
        )

    def know(self, trip: Trip, revision: int) -> None:
        """Note what the file holds of a trip nothing waits of."""
        self._known[trip.id] = (trip, revision)

    def add(self, waiting: Waiting) -> None:
        """Send one more on its way, and with it what failed before.

        Raises
        ------
        LacetError
            When it failed at once, or stands behind an edit that clashed.
        """
        self._waiting.append(waiting)
        self._listening = True
        try:
            self.retry()
        finally:
            self._listening = False
        # A clash of edits is nothing to who books.
        failure = None if isinstance(waiting, Booked) and self._clashes else self.failure
        told, self._refused = self._refused or failure, None
        if told is not None:
            raise told

    def retry(self) -> None:
        """Try again what failed; a clash stays until somebody decides it."""
        if not self._clashes:
            self.failure = None
        self._send()

    def finish(self) -> None:
        """Wait until everything is saved.

        Raises
        ------
        LacetError
            When something can't be saved; it waits on.
        """
        self.retry()
        self._listening = True
        try:
            self.saver.wait()
        finally:
            self._listening = False
        refused, self._refused = self._refused, None
        if refused is not None:
            # An undo that wasn't done leaves nothing unsaved.
            self._failed(refused)
        if self.failure is not None:
            raise self.failure

    def drop(self, trip_id: str) -> None:
        """Give up the edits of a trip that aren't saved; what was booked, and the rest, goes on."""
        self._waiting = deque(
            each for each in self._waiting if each.trip_id != trip_id or isinstance(each, Booked)
        )
        self.failure = None
        self._send()

    # --- on the way

    @property
    def _clashes(self) -> bool:
        return isinstance(self.failure, StaleRevision)

    def _next(self) -> Waiting | None:
        """The first that may go: behind a clash what was booked alone."""
        if self.failure is None:
            return self._waiting[0] if self._waiting else None
        return next((each for each in self._waiting if isinstance(each, Booked) and self._clashes), None)

    def _take_out(self, done: Waiting) -> bool:
        """Whether it still waited: it may have been given up meanwhile; saved it is all the same."""
        left = deque(each for each in self._waiting if each is not done)
        waited, self._waiting = len(left) < len(self._waiting), left
        return waited

    def _send(self) -> None:
        # Saved at once, each answer would send the next from within the one before.
        if self._sending:
            return
        self._sending = True
        try:
            while not self._under_way and (first := self._next()) is not None:
                self._under_way = True
                known = self._known[first.trip_id]
                self.saver.run(
                    lambda first=first, known=known: self._save(first, *known),  # type: ignore[misc]
                    lambda done, error, first=first: self._on_done(first, done, error),  # type: ignore[misc]
                )
        finally:
            self._sending = False

    def _save(self, waiting: Waiting, trip: Trip, revision: int) -> Saved:
        names: dict[str, str] = {}
        with self._project.unit_of_work() as unit:
            if isinstance(waiting, Booked):
                unit.bookings.put(
                    trip.id, waiting.before, waiting.after, waiting.says, by=waiting.by, act=waiting.act
                )
                asked = [each.booking_id for each in changes(waiting.before, waiting.after)]
                names = dict(zip(asked, unit.bookings.done_by(trip.id, waiting.act), strict=True))
                now = unit.trips.revision(trip.id)
                after = trip if now == revision else unit.trips.load(trip.id)[0]
            elif isinstance(waiting, Back):
                step = unit.trips.redo if waiting.again else unit.trips.undo
                after, now = step(trip.id, revision)
            else:
                after, stored = _with_theirs(unit, waiting, trip, revision)
                now = unit.trips.save(after, stored, waiting.says)
            taken = unit.commitments(trip.id, self._as_of())
            position, booked = unit.trips.position(trip.id), unit.bookings.of(trip.id)
            unit.commit()
        others = {name: now_called for name, now_called in names.items() if name != now_called}
        return Saved(after, now, position, taken, booked, others)

    def _on_done(self, first: Waiting, done: Saved | None, error: Exception | None) -> None:
        self._under_way = False
        if done is not None:
            self._take_out(first)
            self._known[done.trip.id] = (done.trip, done.revision)
            if done.renamed:
                done = done._replace(renamed=self._rename(done.trip.id, done.renamed))
            self._saved(first, done)
        elif error is not None and any(each is first for each in self._waiting):
            self._fail(first, error)
        self._send()

    def _rename(self, trip_id: str, names: Mapping[str, str]) -> Mapping[str, str]:
        """Let what waits name bookings as they are called by now; returns the names of all that moved on."""
        waiting = [each for each in self._waiting if isinstance(each, Booked) and each.trip_id == trip_id]
        names = moved_on(names, (booking.id for each in waiting for booking in each.after))
        self._waiting = deque(
            replace(each, before=renamed(each.before, names), after=renamed(each.after, names))
            if isinstance(each, Booked) and each.trip_id == trip_id
            else each
            for each in self._waiting
        )
        return names

    def _fail(self, first: Waiting, error: Exception) -> None:
        failure = error if isinstance(error, LacetError) else _unforeseen(error)
        if isinstance(first, Back) or isinstance(failure, BookedMeanwhile):
            # Nothing is lost by an undo that wasn't done, and who booked too late has to look first.
            self._take_out(first)
            if isinstance(failure, StaleRevision):
                failure = ChangedMeanwhile(
                    "Somebody else changed this trip meanwhile. Look at it as it is now, then try again."
                )
            self._refused = failure
        else:
            self.failure = failure
        if not self._listening:
            self._refused = None
            self._failed(failure)


def _with_theirs(unit: UnitOfWork, edit: Unsaved, trip: Trip, revision: int) -> tuple[Trip, int]:
    """The edit on top of what the file holds by now, and the revision it follows.

    Raises
    ------
    StaleRevision
        Where both changed the same part.
    """
    stored = unit.trips.revision(trip.id)
    base = trip if stored == revision else unit.trips.load(trip.id)[0]
    if base == edit.before:
        return edit.after, stored
    if base == edit.after:
        # Its commit was done, and only the answer was lost.
        return base, stored
    both = merge(edit.before, edit.after, base)
    if isinstance(both, Conflict):
        raise StaleRevision(trip.id, revision, stored)
    return both, stored


def _unforeseen(error: Exception) -> NotSaved:
    sys.excepthook(type(error), error, error.__traceback__)
    return NotSaved("The last edit could not be saved: something unexpected went wrong in Lacet. Try again.")
