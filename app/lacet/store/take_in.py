"""Takes a colleague's trip in, with what it needs. Nothing that is here is changed.

The same item (same id, same first version) is shared, and versions of it that are missing here are added. A
namesake with other contents gets a new id, and everything taken in that points at it follows.
"""

from dataclasses import dataclass, field
from typing import Any, NamedTuple

import orjson
from sqlalchemy import select

from lacet.store.export import SAYS, copy_documents, copy_pictures, copy_track
from lacet.store.keeping import decoding, json_of, value_of
from lacet.store.kinds import KINDS
from lacet.store.lineage import Lineage
from lacet.store.tables import ITEMS
from lacet.store.unit_of_work import UnitOfWork
from lacet.store.uses import renamed
from lacet.trip.bookings import Booking, Bookings
from lacet.trip.library import LibraryItem, Stage
from lacet.trip.plain import to_plain
from lacet.trip.trip import Trip

# What others point at comes before them: a new id must be known before they are looked at.
ORDER = ("place", "lodging", "restaurant", "transfer", "bike", "stage", "tariff")


class Renamed(NamedTuple):
    """Something taken in that had to get another id; `kind` is a library kind or 'trip'."""

    kind: str
    name: str
    old_id: str
    new_id: str


class TakenIn(NamedTuple):
    """What taking in did. `newer` are versions added to items that were here: (kind, id, version)."""

    trips: tuple[str, ...]
    already_here: tuple[str, ...]
    renamed: tuple[Renamed, ...]
    newer: tuple[tuple[str, str, int], ...]
    notes: tuple[str, ...]


@dataclass
class _Taking:
    """One taking-in on its way."""

    source: UnitOfWork
    target: UnitOfWork
    ours: dict[tuple[str, str], Lineage]
    new_ids: dict[tuple[str, str], str] = field(default_factory=dict)
    renamed: list[Renamed] = field(default_factory=list)
    newer: list[tuple[str, str, int]] = field(default_factory=list)

    def new_id(self, kind: str, old: str) -> str:
        return self.new_ids.get((kind, old), old)


def take_in(source: UnitOfWork, target: UnitOfWork) -> TakenIn:
    """Take every trip and library item of `source` into `target`."""
    taking = _Taking(source, target, target.library.lineages())
    theirs = source.library.lineages()
    for kind in ORDER:
        for item_kind, item_id in sorted(theirs):
            if item_kind == kind:
                _take_item(taking, kind, item_id, theirs[kind, item_id])
    taken: list[str] = []
    already: list[str] = []
    for row in source.trips.rows():
        new_id = _take_trip(taking, row.id)
        (already if new_id is None else taken).append(new_id or row.id)
    return TakenIn(
        tuple(taken), tuple(already), tuple(taking.renamed), tuple(taking.newer), _notes(source, target)
    )


def _take_item(taking: _Taking, kind: str, item_id: str, theirs: Lineage) -> None:
    bodies = _bodies(taking.source, kind, item_id)
    follow = {version: renamed(plain, taking.new_id) for version, plain in bodies.items()}
    ours = taking.ours.get((kind, item_id))
    same = follow == bodies and ours is not None and _one_item(ours, theirs)
    if ours is not None and not same:
        _give_new_id(taking, kind, item_id, next(iter(bodies.values()))["name"])
    known = ours.digests if ours is not None and same else {}
    for version in sorted(follow.keys() - known.keys()):
        plain = follow[version] | {"id": taking.new_id(kind, item_id)}
        _keep(taking, kind, plain, None if follow != bodies else theirs.origin)
        if known and version > max(known):
            taking.newer.append((kind, item_id, version))


def _one_item(ours: Lineage, theirs: Lineage) -> bool:
    """Whether two items of one id are one: begun alike, and alike in every version both hold."""
    shared = ours.digests.keys() & theirs.digests.keys()
    alike = all(ours.digests[version] == theirs.digests[version] for version in shared)
    return alike and (ours.origin == theirs.origin or bool(shared))


def _keep(taking: _Taking, kind: str, plain: dict[str, Any], origin: str | None) -> None:
    item: LibraryItem = value_of(KINDS[kind], json_of(plain))
    if isinstance(item, Stage):
        copy_track(taking.source, taking.target, item.track_id)
    copy_pictures(taking.source, taking.target, getattr(item, "picture_ids", ()))
    taking.target.library.keep(item, origin)


def _give_new_id(taking: _Taking, kind: str, old: str, name: str) -> None:
    taken = {item for of_kind, item in taking.ours if of_kind == kind} | set(taking.new_ids.values())
    new = _free(old, taken)
    taking.new_ids[kind, old] = new
    taking.renamed.append(Renamed(kind, name, old, new))


def _take_trip(taking: _Taking, trip_id: str) -> str | None:
    """Take a trip in and return its id here, or None when it is here already."""
    versions = [
        (_follow(taking, taking.source.trips.load_revision(trip_id, row.revision)), row)
        for row in taking.source.trips.history(trip_id)
    ]
    here = {row.id: row.revision for row in taking.target.trips.rows()}
    booked = _booked(taking, trip_id)
    if trip_id in here:
        ours = taking.target.bookings.of(trip_id)
        if taking.target.trips.load(trip_id)[0] == versions[-1][0] and booked == ours:
            return None
        # Two trips with the same bookings would take the same rooms twice.
        booked = Bookings(tuple(each for each in booked if ours.get(each.id) != each))
    new_id = _free(trip_id, set(here)) if trip_id in here else trip_id
    if new_id != trip_id:
        taking.renamed.append(Renamed("trip", versions[-1][0].name, trip_id, new_id))
    for trip, row in versions:
        taking.target.trips.place(_with_id(trip, new_id), row.revision, row.says, row.saved_at)
    taking.target.bookings.place(new_id, booked, SAYS)
    copy_documents(taking.source, taking.target, trip_id, new_id)
    return new_id


def _booked(taking: _Taking, trip_id: str) -> Bookings:
    def follow(booking: Booking) -> Booking:
        return value_of(Booking, json_of(renamed(to_plain(booking), taking.new_id)))

    return Bookings(tuple(map(follow, taking.source.bookings.of(trip_id))))


def _follow(taking: _Taking, trip: Trip) -> Trip:
    return value_of(Trip, json_of(renamed(to_plain(trip), taking.new_id)))


def _with_id(trip: Trip, trip_id: str) -> Trip:
    return value_of(Trip, json_of(to_plain(trip) | {"id": trip_id}))


def _free(wanted: str, taken: set[str]) -> str:
    number = 2
    while f"{wanted}-{number}" in taken:
        number += 1
    return f"{wanted}-{number}"


def _bodies(unit: UnitOfWork, kind: str, item_id: str) -> dict[int, dict[str, Any]]:
    rows = select(ITEMS.c.version, ITEMS.c.body).where(ITEMS.c.kind == kind, ITEMS.c.id == item_id)
    with decoding(f"the {kind} '{item_id}'"):
        return {version: orjson.loads(body) for version, body in unit.connection.execute(rows)}


def _notes(source: UnitOfWork, target: UnitOfWork) -> tuple[str, ...]:
    """What differs between the two offices and bears on the trip; ours hold."""
    theirs, ours = source.settings, target.settings
    notes = []
    if theirs.region() != ours.region():
        notes.append("The colleague's region (zone, currency, holidays) differs from yours; yours holds.")
    if theirs.house_rules() != ours.house_rules():
        notes.append("The colleague's house rules differ from yours; yours hold, so figures may differ.")
    return tuple(notes)
