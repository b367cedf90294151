"""Saves elsewhere what can still be reached of a project whose file was replaced, removed or spoiled."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NamedTuple

from lacet.passing import passing_folder
from lacet.store import guard
from lacet.store.bodies import RecentTexts
from lacet.store.engine import Access, connected
from lacet.store.errors import DamagedFile, FileMissing, FileThere, StoreError, told
from lacet.store.lock import has_hot_journal
from lacet.store.making import make, name_without_overwriting
from lacet.store.unit_of_work import UnitOfWork
from lacet.trip.bookings import Bookings
from lacet.trip.catalogue import Office
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.region import Region
from lacet.trip.trip import Trip

SAYS = "saved elsewhere"
Setting = Region | Office | HouseRules


class Rescued(NamedTuple):
    """What was saved. `whole` tells whether all that was ever kept is in it; `lost` says what isn't."""

    target: Path
    whole: bool
    trips: tuple[str, ...]
    lost: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Seen:
    """What a program has in memory of a lost file; bookings by the id of their trip."""

    items: tuple[Any, ...]
    settings: tuple[Setting, ...]
    trips: tuple[Trip, ...]
    bookings: Mapping[str, Bookings]


def rescue(access: Access, seen: Seen, target: Path) -> Rescued:
    """Write a new project at `target`: the open file if it is whole, else what was seen; trips on top.

    Raises
    ------
    FileThere, FileMissing, StoreError
    """
    if target.exists():
        raise FileThere(
            "'{target}' is there already. Choose another name, or remove it first.", target=target.name
        )
    if not target.parent.is_dir():
        raise FileMissing("There is no folder '{parent}'. Make it, or choose another.", parent=target.parent)
    with told(target), passing_folder(target.parent) as folder:
        draft = folder / target.name
        whole = _whole_copy(access, draft)
        lost = () if whole else ("History, documents and pictures could not be reached.",)
        if not whole:
            make(draft)
        more = _put_on_top(draft, replace(seen, items=(), settings=()) if whole else seen)
        name_without_overwriting(draft, target)
    return Rescued(target, whole, tuple(trip.id for trip in seen.trips), (*lost, *more))


def _whole_copy(access: Access, draft: Path) -> bool:
    """Copy the open file, if it is one whole project; else leave nothing."""
    # A journal at the path belongs to what lies there now; a transaction of ours is over when this is asked.
    if not access.standing.is_whole() or (has_hot_journal(access.path) and access.standing.stands()):
        return False
    try:
        access.standing.copy_to(draft)
        with told(draft), connected(draft) as connection:
            guard.refuse_damaged(draft, connection, thorough=True)
    except (DamagedFile, StoreError):
        draft.unlink(missing_ok=True)
        return False
    return True


def _put_on_top(draft: Path, seen: Seen) -> tuple[str, ...]:
    access = Access(draft)
    lost: list[str] = []
    try:
        with UnitOfWork(access, RecentTexts(), writes=True) as unit:
            for item in seen.items:
                unit.library.add_version(item)
            for setting in seen.settings:
                unit.settings.save(setting)
            kept = {row.id for row in unit.trips.rows()}
            for trip in seen.trips:
                with suppress(_Same):
                    _put_trip(unit, trip, trip.id in kept, lost)
            kept = {row.id for row in unit.trips.rows()}
            for trip_id in seen.bookings.keys() & kept:
                _put_bookings(unit, trip_id, seen.bookings[trip_id])
            unit.commit()
    finally:
        access.close()
    return tuple(lost)


class _Same(Exception):
    """The trip is kept as it is already."""


def _put_bookings(unit: UnitOfWork, trip_id: str, seen: Bookings) -> None:
    """What was seen over what is kept; what is only kept, others may have written down meanwhile."""
    kept = unit.bookings.of(trip_id)
    others = tuple(each for each in kept if seen.get(each.id) is None)
    unit.bookings.place(trip_id, Bookings((*seen.held, *others)), SAYS)


def _put_trip(unit: UnitOfWork, trip: Trip, is_kept: bool, lost: list[str]) -> None:
    revision = 0
    if is_kept:
        stored, revision = unit.trips.load(trip.id)
        if stored == trip:
            raise _Same
    try:
        unit.trips.save(trip, revision, SAYS)
    except LacetError as error:
        lost.append(f"The trip '{trip.name}' could not be saved: {error}")
