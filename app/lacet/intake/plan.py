"""What items would change in a library, told before anything is kept."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Literal

import numpy as np

from lacet.intake.columns import SheetKind
from lacet.intake.kinds import ITEMS
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import LibraryItem, Stage

What = Literal["new", "changed", "same"]

# Half of what GPX writes (1e-7 degrees) and a store keeps (1 cm) differ by.
_SAME_WITHIN_DEG = 5e-7
_SAME_WITHIN_M = 0.06
_LONGEST_SHOWN = 40
_KIND_OF: dict[type, SheetKind] = {kind.makes: kind for kind in ITEMS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What one item would do to the library; `says` names the columns that differ, old and new."""

    kind: str
    id: str
    name: str
    what: What
    says: str = ""


def changes(
    items: Sequence[LibraryItem], catalogue: Catalogue, with_new_line: Collection[str] = ()
) -> tuple[Change, ...]:
    """What would be new, changed or the same, in the order of the items.

    Parameters
    ----------
    with_new_line
        Ids of stages that come with another track than the library's.
    """
    return tuple(_change(item, catalogue, item.id in with_new_line) for item in items)


def kind_of(item: LibraryItem) -> SheetKind:
    """The kind of sheet an item is a row of."""
    return _KIND_OF[type(item)]


def same_line_as(track: Track, other: Track) -> bool:
    """Whether two tracks are one and the same but for what writing and packing round."""
    if len(track) != len(other) or not np.array_equal(track.segment_start, other.segment_start):
        return False
    across = np.maximum(
        np.abs(track.latitude_deg - other.latitude_deg), np.abs(track.longitude_deg - other.longitude_deg)
    )
    heights = np.isclose(track.height_m, other.height_m, rtol=0.0, atol=_SAME_WITHIN_M, equal_nan=True)
    return bool(across.max() <= _SAME_WITHIN_DEG and heights.all())


def _change(item: LibraryItem, catalogue: Catalogue, new_line: bool) -> Change:
    kind = kind_of(item)
    base: Any = catalogue.latest(type(item), item.id)
    told = {"kind": kind.one, "id": item.id, "name": item.name}
    if base is None:
        return Change(what="new", **told)
    differ = [
        each.name
        for each in fields(item)
        if each.name not in ("version", "track_id") and getattr(item, each.name) != getattr(base, each.name)
    ]
    says = [_says(kind, name, getattr(base, name), getattr(item, name)) for name in differ]
    says += ["another line"] if new_line else []
    return Change(what="changed" if says else "same", says="; ".join(says), **told)


def _says(kind: SheetKind, name: str, old: Any, new: Any) -> str:
    column = next((each for each in kind.columns if each.field == name), None)
    if column is None:
        return name.replace("_", " ")
    return f"{column.name} {_shown(column.cell, old)} -> {_shown(column.cell, new)}"


def _shown(cell: Any, value: Any) -> str:
    text = "" if value is None else str(cell.write(value))
    return f"'{text[:_LONGEST_SHOWN]}…'" if len(text) > _LONGEST_SHOWN else f"'{text}'"


def keep_known_lines(
    items: Sequence[LibraryItem], tracks: dict[str, Track], catalogue: Catalogue
) -> tuple[LibraryItem, ...]:
    """Give stages whose file says what the library holds the library's line; takes them out of `tracks`."""
    return tuple(_with_known_line(item, tracks, catalogue) for item in items)


def _with_known_line(item: LibraryItem, tracks: dict[str, Track], catalogue: Catalogue) -> LibraryItem:
    base = catalogue.latest(Stage, item.id) if isinstance(item, Stage) else None
    if not isinstance(item, Stage) or base is None or item.id not in tracks:
        return item
    if base.track_id in catalogue.tracks and same_line_as(tracks[item.id], catalogue.tracks[base.track_id]):
        del tracks[item.id]
        return replace(item, track_id=base.track_id)
    return item
