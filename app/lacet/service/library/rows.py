"""The lists of the desk: each kind's columns, and rows asked from the store as columns, not as items.

What is typed into the finder is words, or a position ("44.21 -24.55"), which finds what lies within 3 km.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeAlias

import orjson

from lacet.service.library.fields import BY_NAME, DeskKind
from lacet.store import Box, Listed, StageFilter, StageRow, UnitOfWork, box_around
from lacet.trip.words import Way
from lacet.wording import UNKNOWN, Wording

NEAR_M = 3_000.0
_NUMBER = r"[-+]?\d{1,3}(?:\.\d+)?"
_POSITION = re.compile(rf"\s*({_NUMBER})\s*°?\s*[,;\s]\s*({_NUMBER})\s*°?\s*")
ListRow: TypeAlias = StageRow | Listed


@dataclass(frozen=True, slots=True)
class ListColumn:
    """One column of a list: what it says of a row, and by what it is sorted (None comes last)."""

    title: str
    show: Callable[[Any, Wording], str]
    key: Callable[[Any], Any]
    right: bool = False


@dataclass(frozen=True, slots=True)
class KindList:
    """How one kind is listed; `by_name` says that rows come sorted by the first column, the name."""

    columns: tuple[ListColumn, ...]
    parts: tuple[str, ...] = ()
    by_name: bool = True


def position_in(text: str) -> tuple[float, float] | None:
    """Latitude and longitude typed into a finder or a field [degrees], or None."""
    found = _POSITION.fullmatch(text)
    if found is None:
        return None
    latitude, longitude = float(found[1]), float(found[2])
    return (latitude, longitude) if abs(latitude) <= 90 and abs(longitude) <= 180 else None


def rows_of(unit: UnitOfWork, kind: DeskKind, wanted: str = "", *, retired: bool = False) -> list[Any]:
    """The rows of a kind that a finder's text lets through."""
    where = position_in(wanted)
    box: Box | None = None if where is None else box_around(*where, NEAR_M)
    words = "" if where is not None else wanted
    if kind.name == "stages":
        return unit.library.stage_rows(StageFilter(words=words, box=box, retired=retired))
    rows = unit.library.listed(kind.makes, LISTS[kind.name].parts, words, box=box, retired=retired)
    return _named(unit, kind, rows)


def names_of(unit: UnitOfWork) -> dict[str, dict[str, str]]:
    """Ids and names of everything that others point at, by kind; what is retired says so."""
    return {
        kind.name: {
            row.id: f"{row.name} (retired)" if row.retired else row.name
            for row in unit.library.listed(kind.makes, retired=True)
        }
        for kind in BY_NAME.values()
        if kind.name != "stages"
    }


def tariff_is_for(row: Any, name: str) -> bool:
    """Whether a row of the list of tariffs prices something of this name."""
    return bool(row.parts[1] == name)


def _named(unit: UnitOfWork, kind: DeskKind, rows: list[Listed]) -> list[Listed]:
    """The rows with names where the store has ids."""
    where = {"transfers": (1, 2), "tariffs": (1,), "bikes": (4,)}.get(kind.name)
    if where is None:
        return rows
    known = {item_id: name for names in names_of(unit).values() for item_id, name in names.items()}

    def named(part: Any) -> Any:
        if isinstance(part, str) and part.startswith("["):
            depots = orjson.loads(part)
            return ", ".join(f"{each['count']} {known.get(each['place'], each['place'])}" for each in depots)
        return known.get(part, part)

    return [
        row._replace(parts=tuple(named(part) if n in where else part for n, part in enumerate(row.parts)))
        for row in rows
    ]


def _plain(title: str, of: Callable[[Any], Any]) -> ListColumn:
    """Text as it is kept; words of a vocabulary without their underscores."""
    return ListColumn(
        title,
        lambda row, _: str(of(row) or "").replace("_", " "),
        lambda row: str(of(row) or "").casefold() or None,
    )


def _part(title: str, index: int) -> ListColumn:
    return _plain(title, lambda row: row.parts[index])


def _number(title: str, of: Callable[[Any], float | None], unit: str = "") -> ListColumn:
    def show(row: Any, _: Wording) -> str:
        value = of(row)
        return UNKNOWN if value is None else f"{value:g}{unit}"

    return ListColumn(title, show, of, right=True)


def _part_number(title: str, index: int, unit: str = "") -> ListColumn:
    return _number(title, lambda row: row.parts[index], unit)


def measure(
    title: str, say: Callable[[Wording, float | None], str], of: Callable[[Any], float | None]
) -> ListColumn:
    """A length, a height or a time, said as the office says it."""
    return ListColumn(title, lambda row, wording: say(wording, of(row)), of, right=True)


def _yes_no(title: str, index: int) -> ListColumn:
    words = {None: UNKNOWN, 1: "yes", 0: "no"}
    return ListColumn(title, lambda row, _: words[row.parts[index]], lambda row: row.parts[index])


def _ways(row: Any, _: Wording) -> str:
    return ", ".join("foot" if way is Way.WALKING else "bike" for way in row.ways)


def _list_of(row: Any, index: int) -> list[Any]:
    return orjson.loads(row.parts[index]) if row.parts[index] else []


def _beds(row: Any, _: Wording | None = None) -> str:
    rooms = _list_of(row, 1)
    count = sum(room["count"] for room in rooms)
    beds = sum(room["count"] * room["sleeps"] for room in rooms)
    return f"{count} for {beds}" if rooms else UNKNOWN


def _ends(row: Any, _: Wording) -> str:
    first, last = row.parts[0], row.parts[1]
    return f"{first or UNKNOWN:.0f}–{last or UNKNOWN:.0f} cm" if first and last else UNKNOWN


def _joined(index: int) -> Callable[[Any, Wording], str]:
    return lambda row, _: ", ".join(map(str, _list_of(row, index)))


_NAME = _plain("Name", lambda row: row.name)
_PLACE = _plain("Place", lambda row: row.place_name or row.place)

LISTS: dict[str, KindList] = {
    "places": KindList(
        (
            _NAME,
            _part("Kind", 0),
            ListColumn("Hub", _joined(1), lambda row: row.parts[1] or None),
            measure("Height", Wording.height, lambda row: row.parts[2]),
            _yes_no("Water", 3),
            _yes_no("Food", 4),
            _yes_no("Shop", 5),
        ),
        ("kind", "hub", "height_m", "has_water", "has_food", "has_shop"),
    ),
    "stages": KindList(
        (
            _NAME,
            _plain("From", lambda row: row.from_name or row.from_place),
            _plain("To", lambda row: row.to_name or row.to_place),
            ListColumn("Ways", _ways, lambda row: row.ways_text),
            measure("Length", Wording.length, lambda row: row.distance_m),
            measure("Up", Wording.height, lambda row: row.ascent_m),
            measure("Down", Wording.height, lambda row: row.descent_m),
        )
    ),
    "lodgings": KindList(
        (
            _NAME,
            _PLACE,
            ListColumn(
                "Kind", lambda row, _: row.parts[0] or "inn", lambda row: (row.parts[0] or "inn").casefold()
            ),
            ListColumn("Rooms", _beds, _beds),
            _part("Receives", 2),
            _yes_no("Charging", 3),
            _yes_no("Van", 4),
        ),
        ("kind", "rooms", "check_in", "charging", "vehicle_access"),
    ),
    "restaurants": KindList(
        (_NAME, _PLACE, _part("Opening hours", 0), _part_number("Seats", 1), _part("Telephone", 2)),
        ("opening", "seats", "telephone"),
    ),
    "transfers": KindList(
        (
            _NAME,
            _part("Carrier", 0),
            _part("From", 1),
            _part("To", 2),
            _part_number("Seats", 3),
            _part_number("Bags", 4),
            _part_number("Bikes", 5),
        ),
        ("carrier", "from_place", "to_place", "seats", "bags", "bikes"),
    ),
    "bikes": KindList(
        (
            _NAME,
            _part("Kind", 2),
            ListColumn("Fits", _ends, lambda row: row.parts[0]),
            _part_number("Battery", 3, " Wh"),
            _part("Where they stand", 4),
        ),
        ("rider_height_from_cm", "rider_height_to_cm", "kind", "battery_wh", "depots"),
    ),
    "tariffs": KindList(
        (
            _NAME,
            _part("Service", 0),
            _part("For", 1),
            _part("From", 2),
            _part("To", 3),
            _number("Rates", lambda row: float(len(_list_of(row, 4)))),
        ),
        ("service", "subject_id", "valid_from", "valid_to", "rates"),
    ),
}
