"""The catalogue made from a file: the index of all versions is read at once, items and tracks when asked for.

A snapshot never changes although it reads late: versions are never overwritten, so what stands under
(kind, id, version) tomorrow is what stood there today. Items once read are shared by later snapshots, and so
is the index, to which the versions that came since are added.
"""

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import func, select, text

from lacet.store.engine import Access
from lacet.store.keeping import decoding
from lacet.store.kinds import KINDS, kind_name
from lacet.store.lines import read_packed
from lacet.store.settings import Settings
from lacet.store.stored_items import RecentItems, StoredItems
from lacet.store.tables import COUNTERS, ITEMS, TRACKS
from lacet.tracks.packing import unpack
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue

TRACKS_IN_MEMORY = 64
# Bookings are counted there as well, and are no part of the library.
_COUNTED = select(COUNTERS.c.name, COUNTERS.c.value).where(COUNTERS.c.name.in_(("library", "restored")))


class StoredTracks:
    """Tracks by id, unpacked when asked for; the last used stay in memory. Safe to use from any thread."""

    def __init__(self, access: Access) -> None:
        self._access = access
        self._recent: OrderedDict[str, Track] = OrderedDict()
        self._lock = threading.Lock()

    def __getitem__(self, track_id: str) -> Track:
        with self._lock:
            if track_id in self._recent:
                self._recent.move_to_end(track_id)
                return self._recent[track_id]
        with self._access.reading() as connection:
            packed = read_packed(connection, track_id)
            track = None if packed is None else unpack(packed)
        if track is None:
            raise KeyError(track_id)
        with self._lock:
            self._recent[track_id] = track
            while len(self._recent) > TRACKS_IN_MEMORY:
                self._recent.popitem(last=False)
        return track

    def __contains__(self, track_id: object) -> bool:
        with self._lock:
            if track_id in self._recent:
                return True
        with self._access.reading() as connection:
            return connection.execute(select(TRACKS.c.id).where(TRACKS.c.id == track_id)).first() is not None


@dataclass(frozen=True, slots=True)
class Index:
    """The versions of every item by kind and id, up to and with the row `last`, and which are retired."""

    versions: dict[str, dict[str, tuple[int, ...]]] = field(
        default_factory=lambda: {kind: {} for kind in KINDS}
    )
    retired: frozenset[tuple[str, str, int]] = frozenset()
    last: int = 0


class Snapshots:
    """Makes catalogues of one file and keeps the last, until the library changes."""

    def __init__(self, access: Access) -> None:
        self._access = access
        self._lock = threading.Lock()
        self.clear()

    def clear(self) -> None:
        """Forget everything read; for when the file itself was exchanged."""
        self._known = RecentItems()
        self._tracks = StoredTracks(self._access)
        self._index = Index()
        self._last: tuple[dict[str, int], Catalogue] | None = None

    def catalogue(self) -> Catalogue:
        """The catalogue as the file is now; the same object as long as the library doesn't change."""
        # The file first, then this lock: whoever is in a unit of work has the file already.
        with self._access.reading() as connection, self._lock:
            if self._access.is_writing():
                # What may still be undone is nobody's to keep in memory.
                return self._made(connection, RecentItems(), indexed(connection, self._index))
            counted = dict(connection.execute(_COUNTED).all())
            if self._last is not None and self._last[0].get("restored") != counted.get("restored"):
                self.clear()
            if self._last is None or self._last[0] != counted:
                self._index = indexed(connection, self._index)
                self._last = (counted, self._made(connection, self._known, self._index))
            return self._last[1]

    def in_memory(self) -> list[Any]:
        """The items kept in memory, each version once, oldest first; asks nothing of the file."""
        known = sorted(self._known.items(), key=lambda entry: (kind_name(entry[0][0]), *entry[0][1:]))
        return [value for _, value in known]

    def _made(self, connection: Any, known: RecentItems, index: Index) -> Catalogue:
        settings = Settings(connection)
        return Catalogue(
            items={
                KINDS[kind]: StoredItems(self._access, KINDS[kind], versions, index.retired, known)
                for kind, versions in index.versions.items()
            },
            tracks=self._tracks,
            region=settings.region(),
            office=settings.office(),
        )


def indexed(connection: Any, before: Index) -> Index:
    """An index with the versions that came since another was made: rows are only ever added."""
    last = connection.execute(select(func.max(ITEMS.c.row_id))).scalar() or 0
    if last == before.last:
        return before
    # A first index reads nothing but an index of the database; what is added later are a few rows.
    newer = select(ITEMS.c.kind, ITEMS.c.id, ITEMS.c.version)
    newer = newer.where(ITEMS.c.row_id > before.last) if before.last else newer
    # In these words SQLite knows the condition for that of the index of what is retired.
    retired = select(ITEMS.c.kind, ITEMS.c.id, ITEMS.c.version).where(text("retired"))
    versions = dict(before.versions)
    with decoding("the list of items"):
        for kind, item_id, version in connection.execute(newer):
            if versions[kind] is before.versions[kind]:
                versions[kind] = dict(before.versions[kind])
            held = versions[kind].get(item_id, ())
            versions[kind][item_id] = tuple(sorted((*held, version))) if held else (version,)
        return Index(versions, frozenset(tuple(row) for row in connection.execute(retired)), last)
