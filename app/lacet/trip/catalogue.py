"""The catalogue: an immutable snapshot of a library, handed to everything that computes.

Nothing here reads a disk. Tracks are looked up by id when a figure needs them; whoever makes the
snapshot decides whether that reads a file, a cache or a dictionary.
"""

from abc import abstractmethod
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple, Protocol, TypeVar

from lacet.trip.errors import LacetError
from lacet.trip.filing import filed_under
from lacet.trip.library import Bike, LibraryItem, Lodging, Place, Ref, Restaurant, Stage, Tariff, Transfer
from lacet.trip.region import UNSET, Region


class UnknownItem(LacetError):
    """A trip names a library item that the library does not hold."""


class TrackSource(Protocol):
    """Tracks by id. The value is a `tracks.Track`; this room does not look inside."""

    def __getitem__(self, track_id: str) -> Any: ...

    def __contains__(self, track_id: object) -> bool: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Office:
    """The operator, as documents name it."""

    name: str = ""
    address: str = ""
    telephone: str = ""
    email: str = ""
    consultant: str = ""
    rep_name: str = ""
    rep_telephone: str = ""
    texts: tuple[tuple[str, str], ...] = ()


Kept = TypeVar("Kept", Place, Stage, Lodging, Restaurant, Transfer, Bike, Tariff)


class Located(NamedTuple):
    """A place, a lodging or a restaurant on the map [degrees]."""

    id: str
    name: str
    latitude_deg: float
    longitude_deg: float


class IndexedItems(Mapping[str, Mapping[int, Any]]):
    """Items of one kind by id, of a library too large to go through all of them for each question."""

    @abstractmethod
    def current(self) -> Iterable[Any]:
        """The newest version of every item that isn't retired, by id."""

    @abstractmethod
    def newest(self) -> Iterator[Any]:
        """The newest version of every item, retired or not, by id."""

    @abstractmethod
    def count_current(self) -> int:
        """How many items aren't retired; none of them is read."""

    @abstractmethod
    def located(self) -> tuple[Located, ...]:
        """Where those of `current` lie, by id; the same object in a later catalogue while none changed."""

    @abstractmethod
    def current_under(self, key: str) -> Iterable[Any]:
        """Those of `current` that are filed under an id (`trip.filing`), by id."""

    @abstractmethod
    def current_named(self, name: str) -> Iterable[Any]:
        """Those of `current` with exactly this name, by id."""


class _NoTracks(dict[str, Any]):
    """A library without tracks."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Catalogue:
    """All versions of all items, as they were at one moment. `items` maps type name and id to versions."""

    items: Mapping[type, Mapping[str, Mapping[int, Any]]] = field(default_factory=dict)
    tracks: TrackSource = field(default_factory=_NoTracks)
    region: Region = UNSET
    office: Office = Office()

    def get(self, kind: type[Kept], ref: Ref) -> Kept | None:
        """The version a trip points at, or None."""
        found: Kept | None = self.items.get(kind, {}).get(ref.id, {}).get(ref.version)
        return found

    def need(self, kind: type[Kept], ref: Ref) -> Kept:
        """The version a trip points at.

        Raises
        ------
        UnknownItem
            When the library does not hold it.
        """
        found = self.get(kind, ref)
        if found is None:
            raise UnknownItem(
                "The library holds no {lower} '{id}' (version {version}).",
                lower=kind.__name__.lower(),
                id=ref.id,
                version=ref.version,
            )
        return found

    def latest(self, kind: type[Kept], item_id: str) -> Kept | None:
        """The newest version, retired or not, or None."""
        versions = self.items.get(kind, {}).get(item_id)
        found: Kept | None = versions[max(versions)] if versions else None
        return found

    def current(self, kind: type[Kept]) -> tuple[Kept, ...]:
        """The newest version of every item that isn't retired, by id."""
        return _current(self.items.get(kind, {}))

    def newest(self, kind: type[Kept]) -> Iterator[Kept]:
        """The newest version of every item, retired or not, by id; few are in memory at once."""
        held = self.items.get(kind, {})
        if isinstance(held, IndexedItems):
            yield from held.newest()
        else:
            yield from (versions[max(versions)] for _, versions in sorted(held.items()))

    def count_current(self, kind: type[Kept]) -> int:
        """How many `current` would give; none of them is read."""
        held = self.items.get(kind, {})
        return held.count_current() if isinstance(held, IndexedItems) else len(_current(held))

    def located(self, kind: type[Place] | type[Lodging] | type[Restaurant]) -> tuple[Located, ...]:
        """Where those of `current` lie, by id; of a stored library the same object while none changed."""
        held = self.items.get(kind, {})
        if isinstance(held, IndexedItems):
            return held.located()
        return tuple(
            Located(item.id, item.name, item.latitude_deg, item.longitude_deg) for item in _current(held)
        )

    def current_under(self, kind: type[Kept], key: str) -> tuple[Kept, ...]:
        """Those of `current` that are filed under an id: at a place, of tariffs for a subject. By id."""
        return current_under(self.items.get(kind, {}), key)

    def current_named(self, kind: type[Kept], name: str) -> tuple[Kept, ...]:
        """Those of `current` with exactly this name, by id."""
        held = self.items.get(kind, {})
        if isinstance(held, IndexedItems):
            return tuple(held.current_named(name))
        return tuple(item for item in _current(held) if item.name == name)

    def place(self, place_id: str) -> Place | None:
        """Places are always meant as they are now: a place does not move."""
        return self.latest(Place, place_id)

    def place_name(self, place_id: str) -> str:
        """A place as a person says it; its id where the library doesn't know it."""
        place = self.place(place_id)
        return place_id if place is None else place.name


def current_under(held: Mapping[str, Mapping[int, Any]], key: str) -> tuple[Any, ...]:
    """The newest versions of what is filed under an id (`trip.filing`) and isn't retired, by id."""
    if isinstance(held, IndexedItems):
        return tuple(held.current_under(key))
    return tuple(item for item in _current(held) if key in filed_under(item))


def _current(held: Mapping[str, Mapping[int, Any]]) -> tuple[Any, ...]:
    if isinstance(held, IndexedItems):
        return tuple(held.current())
    newest = (versions[max(versions)] for _, versions in sorted(held.items()))
    return tuple(item for item in newest if not item.retired)


def catalogue_of(
    items: tuple[LibraryItem, ...],
    tracks: TrackSource | None = None,
    region: Region = UNSET,
    office: Office = Office(),
) -> Catalogue:
    """A catalogue of exactly these items; for tests, demos and whatever has them in memory."""
    table: dict[type, dict[str, dict[int, Any]]] = {}
    for item in items:
        table.setdefault(type(item), {}).setdefault(item.id, {})[item.version] = item
    return Catalogue(
        items=table, tracks=_NoTracks() if tracks is None else tracks, region=region, office=office
    )
