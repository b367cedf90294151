"""Keeps what is edited on the desk: as new versions, together, and undone as new versions too.

The library has a history of its own; undoing here touches no trip, and undoing in a trip no library.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from lacet.service.session import Session
from lacet.store import UnitOfWork
from lacet.trip import edits
from lacet.trip.errors import LacetError
from lacet.trip.library import LibraryItem
from lacet.trip.trip import Trip


class ChangedMeanwhile(LacetError):
    """An item has another newest version than the one that was edited."""


class NothingToUndo(LacetError):
    """Nothing was saved on this desk yet."""


@dataclass(frozen=True, slots=True)
class Step:
    """One item that was saved: what it was (None = it is new), and what it became."""

    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Saved:
    """One saving: what it was called, and each item."""

    says: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Behind:
    """A trip that goes on using an older version of an item."""

    trip_id: str
    name: str
    version: int


class Keeper:
    """Saves library items of one session's project, and takes savings back, newest first."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.done: list[Saved] = []

    def save(
        self,
        items: Sequence[LibraryItem],
        says: str,
        expected: Mapping[tuple[type, str], int] | None = None,
    ) -> tuple[Any, ...]:
        """Keep items as new versions, all or none, and return them; what equals what is there isn't kept.

        Parameters
        ----------
        expected
            Newest versions as they were when editing began; 0 for an item that is new.

        Raises
        ------
        ChangedMeanwhile
        """
        steps = self.store(items, expected)
        self.remember(says, steps)
        return tuple(step.after for step in steps)

    def store(
        self,
        items: Sequence[LibraryItem],
        expected: Mapping[tuple[type, str], int] | None = None,
        tell: Callable[[int, int], None] | None = None,
    ) -> tuple[Step, ...]:
        """The first half of `save`, which any thread may do: keep the items, tell nobody.

        Parameters
        ----------
        tell
            Told (items kept, items in all); what it raises keeps none of them.
        """
        steps = []
        with self.session.project.unit_of_work() as unit:
            for number, item in enumerate(items):
                steps.append(_save(unit, item, (expected or {}).get((type(item), item.id))))
                if tell is not None:
                    tell(number, len(items))
            unit.commit()
        return tuple(steps)

    def remember(self, says: str, steps: Sequence[Step]) -> None:
        """The second half: what was kept can be undone, and everybody takes the new library."""
        changed = tuple(step for step in steps if step.before != step.after)
        if changed:
            self.done.append(Saved(says, changed))
            self.session.reload_library()

    def undo(self) -> Saved:
        """Let what was saved last be as it was before, as one more version; what was new is retired.

        Raises
        ------
        NothingToUndo, ChangedMeanwhile
        """
        last = self.last()
        self.take_back(last)
        self.forget(last)
        return last

    def last(self) -> Saved:
        """What would be undone next.

        Raises
        ------
        NothingToUndo
        """
        if not self.done:
            raise NothingToUndo("Nothing was saved on this desk yet, so there is nothing to undo.")
        return self.done[-1]

    def take_back(self, saved: Saved, tell: Callable[[int, int], None] | None = None) -> None:
        """The first half of `undo`, which any thread may do; `tell` as in `store`."""
        with self.session.project.unit_of_work() as unit:
            for number, step in enumerate(saved.steps):
                wanted = replace(step.after, retired=True) if step.before is None else step.before
                _save(unit, wanted, step.after.version)
                if tell is not None:
                    tell(number, len(saved.steps))
            unit.commit()

    def forget(self, saved: Saved) -> None:
        """The second half: it can't be undone again, and everybody takes the library as it was."""
        self.done.remove(saved)
        self.session.reload_library()

    def take_newer(self, trip_id: str, kind: type[Any], item_id: str, version: int) -> None:
        """Let a trip use another version of an item, in all its variants.

        Raises
        ------
        LacetError
            When the trip refuses the edit; it is unchanged then.
        """
        says = "take a newer version from the library"
        opened = self.session.opened
        if opened is not None and opened.trip.id == trip_id:
            self.session.apply(lambda trip: _with_version(trip, kind, item_id, version), says)
            return
        with self.session.project.unit_of_work() as unit:
            trip, revision = unit.trips.load(trip_id)
            unit.trips.save(_with_version(trip, kind, item_id, version), revision, says)
            unit.commit()

    def behind(self, item: LibraryItem) -> tuple[Behind, ...]:
        """The trips that use an older version of an item; a place is always meant as it is now."""
        with self.session.project.reading() as unit:
            used = unit.library.used_by(type(item), item.id)
        oldest: dict[str, Behind] = {}
        for trip_id, name, version in used:
            if 0 < version < item.version and (trip_id not in oldest or version < oldest[trip_id].version):
                oldest[trip_id] = Behind(trip_id, name, version)
        return tuple(oldest.values())


def _save(unit: UnitOfWork, item: Any, expected: int | None) -> Step:
    before = unit.library.latest(type(item), item.id)
    newest = 0 if before is None else before.version
    if expected is not None and newest != expected:
        raise ChangedMeanwhile(
            "{item} was saved elsewhere meanwhile, as version {newest}. Look at it under History; "
            "save again to put yours on top of it.",
            item=item.name,
            newest=newest,
        )
    return Step(before, unit.library.add_version(item))


def _with_version(trip: Trip, kind: type[Any], item_id: str, version: int) -> Trip:
    for variant in trip.variants:
        trip = edits.use_version(trip, variant.id, kind, item_id, version)
    return trip
