"""One trip as a project of its own for a colleague: the trip as it is (and as it was accepted), and from the
library just the versions it points at, their tracks, places, pictures and tariffs.
"""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import insert, select

from lacet.store.kinds import KINDS, kind_name
from lacet.store.library import Kept
from lacet.store.tables import DOCUMENTS, TRACKS
from lacet.store.unit_of_work import UnitOfWork
from lacet.store.uses import SUPPLIERS, loose_ids, uses_of
from lacet.trip.bookings import Bookings
from lacet.trip.filing import place_ids
from lacet.trip.library import LibraryItem, Place, Ref, Stage, Tariff
from lacet.trip.plain import to_plain
from lacet.trip.trip import Trip

SAYS = "from another file"


def export_trip(source: UnitOfWork, target: UnitOfWork, trip_id: str) -> None:
    """Write one trip, and what it needs, into an empty project."""
    versions = _kept_versions(source, trip_id)
    for setting in (source.settings.region(), source.settings.office(), source.settings.house_rules()):
        target.settings.save(setting)
    lineages = source.library.lineages()
    booked = source.bookings.of(trip_id)
    for item in _in_order(_needed(source, [trip for trip, _ in versions], booked)):
        if isinstance(item, Stage):
            copy_track(source, target, item.track_id)
        copy_pictures(source, target, getattr(item, "picture_ids", ()))
        target.library.keep(item, lineages[kind_name(type(item)), item.id].origin)
    says = {row.revision: row.says for row in source.trips.history(trip_id)}
    for trip, revision in versions:
        target.trips.place(trip, revision, says[revision])
    target.bookings.place(trip_id, booked, SAYS)
    copy_documents(source, target, trip_id, trip_id)


def copy_track(source: UnitOfWork, target: UnitOfWork, track_id: str) -> None:
    """Copy a track as it is packed, unless it is there."""
    wanted = select(TRACKS).where(TRACKS.c.id == track_id)
    row = source.connection.execute(wanted).first()
    if row is not None and target.connection.execute(wanted).first() is None:
        target.connection.execute(insert(TRACKS), dict(row._mapping))


def copy_pictures(source: UnitOfWork, target: UnitOfWork, picture_ids: Iterable[str]) -> None:
    """Copy pictures that aren't there."""
    for picture_id in picture_ids:
        picture = source.pictures.get(picture_id)
        if picture is not None and target.pictures.get(picture_id) is None:
            target.pictures.keep(picture)


def copy_documents(source: UnitOfWork, target: UnitOfWork, trip_id: str, new_trip_id: str) -> None:
    """Copy the issued documents of a trip."""
    for row in source.connection.execute(select(DOCUMENTS).where(DOCUMENTS.c.trip_id == trip_id)):
        columns: dict[str, Any] = dict(row._mapping) | {"trip_id": new_trip_id}
        del columns["number"]
        target.connection.execute(insert(DOCUMENTS), columns)


def _kept_versions(source: UnitOfWork, trip_id: str) -> list[tuple[Trip, int]]:
    """The trip as it was accepted, if that revision is kept, and as it is now."""
    trip, revision = source.trips.load(trip_id)
    wanted = trip.accepted.revision if trip.accepted else revision
    known = {row.revision for row in source.trips.history(trip_id)}
    accepted = [(source.trips.load_revision(trip_id, wanted), wanted)] if wanted in known - {revision} else []
    return [*accepted, (trip, revision)]


def _needed(source: UnitOfWork, trips: list[Trip], booked: Bookings) -> list[LibraryItem]:
    found: dict[tuple[str, str, int], LibraryItem] = {}
    for trip in trips:
        plain = to_plain(trip)
        for kind, item_id, version in uses_of(plain) | loose_ids(plain):
            _add(source, found, kind, item_id, version)
    for booking in booked:
        _add(source, found, SUPPLIERS.get(booking.service, ""), booking.supplier, 0)
    subjects = {item.id for item in found.values()} | {""}
    for row in source.library.item_rows(Tariff):
        tariff = source.library.get(Tariff, Ref(row.id, row.version))
        if tariff is not None and tariff.subject_id in subjects:
            found["tariff", tariff.id, tariff.version] = tariff
    return list(found.values())


def _add(
    source: UnitOfWork, found: dict[tuple[str, str, int], LibraryItem], kind: str, item_id: str, version: int
) -> None:
    item = _read(source, KINDS[kind], item_id, version) if kind in KINDS else None
    if item is None or (kind, item.id, item.version) in found:
        return
    found[kind, item.id, item.version] = item
    for place in place_ids(item):
        _add(source, found, "place", place, 0)


def _read(source: UnitOfWork, kind: type[Kept], item_id: str, version: int) -> Kept | None:
    library = source.library
    return library.get(kind, Ref(item_id, version)) if version else library.latest(kind, item_id)


def _in_order(items: list[LibraryItem]) -> list[LibraryItem]:
    """Places first, since the others are listed with their names; versions in their order."""

    def order(item: LibraryItem) -> tuple[bool, str, str, int]:
        return not isinstance(item, Place), kind_name(type(item)), item.id, item.version

    return sorted(items, key=order)
