"""The items of one kind as a catalogue holds them: an index in memory, values and answers from the file.

The file may have moved on since. A question is put to all versions that were ever kept, and of the answer
only those count that were newest when the catalogue was made; no version changes, so the answer is as it was.
"""

import threading
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeAlias

from sqlalchemy import Select, select

from lacet.language import to_say
from lacet.store.engine import Access
from lacet.store.errors import DamagedPart
from lacet.store.keeping import value_of
from lacet.store.kinds import kind_name
from lacet.store.tables import FILED, ITEMS
from lacet.trip.catalogue import IndexedItems, Located

# A stage takes some 15 kB of memory, anything else about one.
MOST_STAGES, MOST_OTHERS = 2_000, 20_000
_READ_AT_ONCE = 500

Key: TypeAlias = tuple[type, str, int]


class RecentItems:
    """The versions that were used last, shared by the catalogues of one file. Safe to use from any thread."""

    def __init__(self) -> None:
        self._held: dict[bool, OrderedDict[Key, Any]] = {True: OrderedDict(), False: OrderedDict()}
        self._lock = threading.Lock()
        self.located: dict[type, tuple[dict[str, tuple[int, ...]], tuple[Located, ...]]] = {}

    def get(self, key: Key) -> Any:
        """A version, or None when it isn't in memory."""
        held = self._held[_is_stage(key)]
        with self._lock:
            found = held.get(key)
            if found is not None:
                held.move_to_end(key)
            return found

    def put(self, key: Key, value: Any) -> Any:
        """Keep a version and return the one that is kept; of too many the longest unused goes."""
        held = self._held[_is_stage(key)]
        with self._lock:
            kept = held.setdefault(key, value)
            if len(held) > most_in_memory(key[0]):
                held.popitem(last=False)
            return kept

    def items(self) -> list[tuple[Key, Any]]:
        """All that is in memory."""
        with self._lock:
            return [entry for held in self._held.values() for entry in held.items()]


def most_in_memory(kind: type) -> int:
    """How many versions of a kind stay in memory."""
    return MOST_STAGES if kind_name(kind) == "stage" else MOST_OTHERS


def _is_stage(key: Key) -> bool:
    return kind_name(key[0]) == "stage"


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


class StoredItems(IndexedItems):
    """All items of one kind by id; values are read when asked for."""

    def __init__(
        self,
        access: Access,
        kind: type,
        index: dict[str, tuple[int, ...]],
        retired: frozenset[tuple[str, str, int]],
        known: RecentItems,
    ) -> None:
        self._access = access
        self._kind = kind
        self._name = kind_name(kind)
        self._index = index
        self._retired = retired
        self._known = known

    def read(self, item_id: str, version: int) -> Any:
        """One version, from memory or from the file."""
        key = (self._kind, item_id, version)
        found = self._known.get(key)
        if found is None:
            wanted = select(ITEMS.c.body).where(
                ITEMS.c.kind == self._name, ITEMS.c.id == item_id, ITEMS.c.version == version
            )
            with self._access.reading() as connection:
                body = connection.execute(wanted).scalar()
                if body is None:
                    raise DamagedPart(
                        to_say("the {name} '{item_id}' is missing", name=self._name, item_id=item_id)
                    )
                found = self._known.put(key, value_of(self._kind, body))
        return found

    def current(self) -> Iterator[Any]:
        """The newest version of every item that isn't retired, by id, some hundred read at once."""
        return self._one_by_one(
            item for item, versions in self._index.items() if self._offered(item, versions)
        )

    def newest(self) -> Iterator[Any]:
        """The newest version of every item, retired or not, by id, some hundred read at once."""
        return self._one_by_one(self._index)

    def count_current(self) -> int:
        gone = sum(
            kind == self._name and self._index[item_id][-1] == version
            for kind, item_id, version in self._retired
        )
        return len(self._index) - gone

    def located(self) -> tuple[Located, ...]:
        # An index is shared by catalogues between which no item of the kind got a version.
        index, found = self._known.located.get(self._kind, ({}, ()))
        if index is self._index:
            return found
        wanted = _LOCATED.where(ITEMS.c.kind == self._name).order_by(ITEMS.c.id)
        with self._access.reading() as connection:
            rows = connection.execute(wanted).all()
        made = tuple(
            Located(item_id, *more) for item_id, version, *more in rows if self._was_current(item_id, version)
        )
        self._known.located[self._kind] = self._index, made
        return made

    def current_under(self, key: str) -> list[Any]:
        filed = select(FILED.c.row_id).where(FILED.c.under == key)
        return self._answer(_VERSIONS.where(ITEMS.c.kind == self._name, ITEMS.c.row_id.in_(filed)))

    def current_named(self, name: str) -> list[Any]:
        return self._answer(_VERSIONS.where(ITEMS.c.kind == self._name, ITEMS.c.name == name))

    def _answer(self, wanted: Select[Any]) -> list[Any]:
        with self._access.reading() as connection:
            found = connection.execute(wanted).all()
        then = sorted(item_id for item_id, version in found if self._was_current(item_id, version))
        return list(self._newest(then))

    def _was_current(self, item_id: str, version: int) -> bool:
        versions = self._index.get(item_id, ())
        return bool(versions) and versions[-1] == version and self._offered(item_id, versions)

    def _offered(self, item_id: str, versions: tuple[int, ...]) -> bool:
        return (self._name, item_id, versions[-1]) not in self._retired

    def _one_by_one(self, ids: Iterable[str]) -> Iterator[Any]:
        ordered = sorted(ids)
        for first in range(0, len(ordered), _READ_AT_ONCE):
            yield from self._newest(ordered[first : first + _READ_AT_ONCE])

    def _newest(self, ids: list[str]) -> Iterator[Any]:
        """The newest versions of these items; those that aren't in memory come in one query."""
        known = {item_id: self._known.get((self._kind, item_id, self._index[item_id][-1])) for item_id in ids}
        missing = {item_id: self._index[item_id][-1] for item_id, value in known.items() if value is None}
        if missing:
            known |= self._read_all(missing)
        for item_id in ids:
            # What the query didn't find is damage, and told as such.
            yield known[item_id] or self.read(item_id, self._index[item_id][-1])

    def _read_all(self, missing: dict[str, int]) -> dict[str, Any]:
        wanted = _BODIES.where(ITEMS.c.kind == self._name, ITEMS.c.id.in_(missing))
        with self._access.reading() as connection:
            return {
                item_id: self._known.put((self._kind, item_id, version), value_of(self._kind, body))
                for item_id, version, body in connection.execute(wanted)
                if missing[item_id] == version
            }

    def __getitem__(self, item_id: str) -> StoredVersions:
        return StoredVersions(self, item_id, self._index[item_id])

    def __iter__(self) -> Iterator[str]:
        return iter(self._index)

    def __len__(self) -> int:
        return len(self._index)

    def __contains__(self, item_id: object) -> bool:
        return item_id in self._index


_VERSIONS = select(ITEMS.c.id, ITEMS.c.version)
_LOCATED = select(ITEMS.c.id, ITEMS.c.version, ITEMS.c.name, ITEMS.c.latitude_deg, ITEMS.c.longitude_deg)
_BODIES = select(ITEMS.c.id, ITEMS.c.version, ITEMS.c.body)
