"""The catalogue made from a file: the index of all versions is read at once, items and tracks when asked for.

A snapshot never changes although it reads late: versions are never overwritten, so what stands under
(kind, id, version) tomorrow is what stood there today. Items once read are shared by later snapshots.
"""

import threading
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import select

from lacet.store.engine import Access
from lacet.store.errors import DamagedPart
from lacet.store.keeping import decoding, value_of
from lacet.store.kinds import KINDS, kind_name
from lacet.store.lines import read_packed
from lacet.store.settings import Settings
from lacet.store.tables import COUNTERS, ITEMS, TRACKS
from lacet.tracks.packing import unpack
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue

TRACKS_IN_MEMORY = 64


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


class StoredVersions(Mapping[int, Any]):
    """The versions of one item, as far as a snapshot knows them."""

    def __init__(self, items: "StoredItems", item_id: str, versions: tuple[int, ...]) -> None:
        self._items = items
        self._id = item_id
        self._versions = versions

    def __getitem__(self, version: int) -> Any:
        if version not in self._versions:
            raise KeyError(version)
        return self._items.read(self._id, version)

    def __iter__(self) -> Iterator[int]:
        return iter(self._versions)

    def __len__(self) -> int:
        return len(self._versions)


class StoredItems(Mapping[str, Mapping[int, Any]]):
    """All items of one kind by id; values are read one by one, or all newest at once when iterated over."""

    def __init__(
        self, access: Access, kind: type, index: dict[str, tuple[int, ...]], known: dict[Any, Any]
    ) -> None:
        self._access = access
        self._kind = kind
        self._index = index
        self._known = known

    def read(self, item_id: str, version: int) -> Any:
        """One version, from memory or from the file."""
        key = (self._kind, item_id, version)
        if key not in self._known:
            wanted = select(ITEMS.c.body).where(
                ITEMS.c.kind == kind_name(self._kind), ITEMS.c.id == item_id, ITEMS.c.version == version
            )
            with self._access.reading() as connection:
                body = connection.execute(wanted).scalar()
                if body is None:
                    raise DamagedPart(f"the {kind_name(self._kind)} '{item_id}' is missing")
                self._known[key] = value_of(self._kind, body)
        return self._known[key]

    def __getitem__(self, item_id: str) -> StoredVersions:
        return StoredVersions(self, item_id, self._index[item_id])

    def __iter__(self) -> Iterator[str]:
        # Whoever goes through all of them reads them next: one query instead of one for each.
        self._read_newest()
        return iter(self._index)

    def __len__(self) -> int:
        return len(self._index)

    def __contains__(self, item_id: object) -> bool:
        return item_id in self._index

    def _read_newest(self) -> None:
        if all((self._kind, item, versions[-1]) in self._known for item, versions in self._index.items()):
            return
        wanted = select(ITEMS.c.id, ITEMS.c.version, ITEMS.c.body).where(
            ITEMS.c.kind == kind_name(self._kind), ITEMS.c.newest
        )
        with self._access.reading() as connection:
            for item_id, version, body in connection.execute(wanted).all():
                key = (self._kind, item_id, version)
                # What this snapshot doesn't know may belong to a transaction that is undone yet.
                if key not in self._known and version in self._index.get(item_id, ()):
                    self._known[key] = value_of(self._kind, body)


class Snapshots:
    """Makes catalogues of one file and keeps the last, until the library changes."""

    def __init__(self, access: Access) -> None:
        self._access = access
        self._lock = threading.Lock()
        self.clear()

    def clear(self) -> None:
        """Forget everything read; for when the file itself was exchanged."""
        self._known: dict[Any, Any] = {}
        self._tracks = StoredTracks(self._access)
        self._last: tuple[dict[str, int], Catalogue] | None = None

    def catalogue(self) -> Catalogue:
        """The catalogue as the file is now; the same object as long as the library doesn't change."""
        # The file first, then this lock: whoever is in a unit of work has the file already.
        with self._access.reading() as connection, self._lock:
            if self._access.is_writing():
                # What may still be undone is nobody's to keep in memory.
                return self._made(connection, {})
            counted = dict(connection.execute(select(COUNTERS.c.name, COUNTERS.c.value)).all())
            if self._last is not None and self._last[0].get("restored") != counted.get("restored"):
                self.clear()
            if self._last is None or self._last[0] != counted:
                self._last = (counted, self._made(connection, self._known))
            return self._last[1]

    def in_memory(self) -> list[Any]:
        """The items read so far, each version once, oldest first; asks nothing of the file."""
        known = sorted(dict(self._known).items(), key=lambda entry: (kind_name(entry[0][0]), *entry[0][1:]))
        return [value for _, value in known]

    def _made(self, connection: Any, known: dict[Any, Any]) -> Catalogue:
        settings = Settings(connection)
        return Catalogue(
            items=self._items(connection, known),
            tracks=self._tracks,
            region=settings.region(),
            office=settings.office(),
        )

    def _items(self, connection: Any, known: dict[Any, Any]) -> dict[type, StoredItems]:
        index: dict[str, dict[str, tuple[int, ...]]] = {kind: {} for kind in KINDS}
        listed = select(ITEMS.c.kind, ITEMS.c.id, ITEMS.c.version).order_by(
            ITEMS.c.kind, ITEMS.c.id, ITEMS.c.version
        )
        with decoding("the list of items"):
            for kind, item_id, version in connection.execute(listed):
                index[kind][item_id] = (*index[kind].get(item_id, ()), version)
        return {
            KINDS[kind]: StoredItems(self._access, KINDS[kind], ids, known) for kind, ids in index.items()
        }
