"""The library in the file: versions are added, never changed. Values in, values out.

Every write raises the library's own counter, by which a kept catalogue knows that it is out of date.
"""

from dataclasses import replace
from typing import Any, TypeVar

from sqlalchemy import Connection, select

from lacet.store import lines, shelving
from lacet.store.errors import UnknownItemVersion, VersionExists
from lacet.store.item_rows import ItemRow, item_rows
from lacet.store.keeping import as_kept, text_of, value_of
from lacet.store.kinds import kind_name
from lacet.store.lineage import Lineage, lineages
from lacet.store.listed import Listed, listed
from lacet.store.search import Box
from lacet.store.stage_rows import EVERY_STAGE, StageFilter, StageRow, stage_rows
from lacet.store.tables import COUNTERS, ITEMS, TRIPS, USES
from lacet.tracks.track import Track
from lacet.trip.library import LibraryItem, Ref, Stage

Kept = TypeVar("Kept", bound=LibraryItem)


class Library:
    """Library items within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    # --- reading

    def latest(self, kind: type[Kept], item_id: str) -> Kept | None:
        """The newest version of an item, retired or not, or None."""
        return self._one(kind, ITEMS.c.newest, item_id)

    def get(self, kind: type[Kept], ref: Ref) -> Kept | None:
        """The version a trip points at, or None."""
        return self._one(kind, ITEMS.c.version == ref.version, ref.id)

    def versions(self, kind: type[Kept], item_id: str) -> tuple[Kept, ...]:
        """Every version of an item, oldest first; none when there is no such item."""
        found = self._connection.execute(
            select(ITEMS.c.body)
            .where(ITEMS.c.kind == kind_name(kind), ITEMS.c.id == item_id)
            .order_by(ITEMS.c.version)
        )
        return tuple(value_of(kind, body) for (body,) in found)

    def stage_rows(self, chosen: StageFilter = EVERY_STAGE) -> list[StageRow]:
        """Light rows of the stages a filter lets through; tracks and texts are not read."""
        return stage_rows(self._connection, chosen)

    def item_rows(self, kind: type[LibraryItem], words: str = "", *, retired: bool = False) -> list[ItemRow]:
        """Light rows of the items of one kind that have these words, by name."""
        return item_rows(self._connection, kind_name(kind), words, retired=retired)

    def listed(
        self,
        kind: type[LibraryItem],
        parts: tuple[str, ...] = (),
        words: str = "",
        *,
        box: Box | None = None,
        retired: bool = False,
    ) -> list[Listed]:
        """Rows of the items of one kind with these words, within a box, by name; see `store.listed`."""
        return listed(self._connection, kind_name(kind), parts, words, box=box, retired=retired)

    def revision(self) -> int:
        """Grows with every change of the library, its region, office and house rules included."""
        found: int = self._connection.execute(
            select(COUNTERS.c.value).where(COUNTERS.c.name == "library")
        ).scalar_one()
        return found

    def track(self, track_id: str) -> Track | None:
        """The full track, or None when the library does not hold it."""
        return lines.read_track(self._connection, track_id)

    def outline(self, track_id: str) -> bytes | None:
        """The 5 m line of a track as `tracks.packing` packs it, or None."""
        return lines.read_outline(self._connection, track_id)

    def used_by(self, kind: type[LibraryItem], item_id: str) -> list[tuple[str, str, int]]:
        """The trips that point at an item now: (id, name, version); a place has version 0."""
        ours = (USES.c.kind == kind_name(kind)) & (USES.c.id == item_id) & USES.c.current
        wanted = select(TRIPS.c.id, TRIPS.c.name, USES.c.version).join(USES, USES.c.trip_id == TRIPS.c.id)
        return [tuple(row) for row in self._connection.execute(wanted.where(ours).order_by(TRIPS.c.id))]

    def lineages(self) -> dict[tuple[str, str], Lineage]:
        """Every item by kind and id: what its first version was, and what each kept one is."""
        return lineages(self._connection)

    # --- writing

    def add_version(self, item: Kept) -> Kept:
        """Keep an item as its next version, whatever version it says it is, and return it as kept.

        An item that equals the newest version is not kept again.
        """
        item = as_kept(item)
        newest = self.latest(type(item), item.id)
        if newest is None:
            return self.keep(replace(item, version=1))
        numbered = replace(item, version=newest.version)
        return newest if numbered == newest else self.keep(replace(item, version=newest.version + 1))

    def keep(self, item: Kept, origin: str | None = None) -> Kept:
        """Keep an item as exactly the version it says it is; for taking in what was numbered elsewhere.

        Parameters
        ----------
        origin
            Digest of the item's first version, where that one isn't kept here.

        Raises
        ------
        VersionExists
            When this version is there with other contents.
        """
        item = as_kept(item)
        body = text_of(item)
        there = self.get(type(item), Ref(item.id, item.version))
        if there is not None:
            return self._refuse_unequal(item, text_of(there) == body)
        shelving.shelve(self._connection, item, body, origin)
        return item

    def add_stage(self, stage: Stage, track: Track) -> Stage:
        """Keep a stage with where it runs; the track is kept once, however many stages run along it.

        Returns
        -------
        Stage
            As kept: with its version and the track's id.
        """
        return self.add_version(replace(stage, track_id=self.add_track(track)))

    def add_track(self, track: Track) -> str:
        """Keep a track (once, by its contents) and return its id."""
        return lines.keep_track(self._connection, track)

    def retire(self, kind: type[Kept], item_id: str) -> Kept:
        """Add a version that is offered no more. Trips that use an older one keep it.

        Raises
        ------
        UnknownItemVersion
        """
        newest = self.latest(kind, item_id)
        if newest is None:
            raise UnknownItemVersion(
                "The library holds no {kind_name} '{item_id}'.", kind_name=kind_name(kind), item_id=item_id
            )
        return self.add_version(replace(newest, retired=True))

    def _one(self, kind: type[Kept], which: Any, item_id: str) -> Kept | None:
        body = self._connection.execute(
            select(ITEMS.c.body).where(ITEMS.c.kind == kind_name(kind), ITEMS.c.id == item_id, which)
        ).scalar()
        return None if body is None else value_of(kind, body)

    def _refuse_unequal(self, item: Kept, equal: bool) -> Kept:
        if not equal:
            raise VersionExists(
                "The library holds another version {version} of {kind_name} '{id}'. Add it as a new "
                "version instead.",
                version=item.version,
                kind_name=kind_name(type(item)),
                id=item.id,
            )
        return item
