"""The kinds of library items, by the name they are kept under, and what their columns show."""

from typing import Any, get_args

from lacet.trip.filing import place_ids
from lacet.trip.library import LibraryItem, Lodging, Place, Restaurant, Stage, Tariff

KINDS: dict[str, type[Any]] = {kind.__name__.lower(): kind for kind in get_args(LibraryItem)}


def kind_name(kind: type) -> str:
    """The name a kind is kept under: its class in small letters."""
    return kind.__name__.lower()


def position(item: LibraryItem) -> tuple[float, float] | None:
    """Latitude and longitude of an item that has one [degrees]."""
    if isinstance(item, Place | Lodging | Restaurant):
        return item.latitude_deg, item.longitude_deg
    return None


def searched_notes(item: LibraryItem) -> str:
    """Everything of an item that a search for words should find besides its name and places."""
    texts: list[str] = [item.note]
    if isinstance(item, Stage):
        texts += [item.text, *item.highlights, *(point.name for point in item.points)]
    elif isinstance(item, Place):
        texts += item.rest_day_ideas
    elif isinstance(item, Lodging):
        texts += [item.text, item.kind, item.address]
    elif isinstance(item, Restaurant):
        texts.append(item.text)
    elif isinstance(item, Tariff):
        texts.append(item.subject_id)
    return "\n".join(text for text in texts if text)


def columns_of(item: LibraryItem) -> dict[str, Any]:
    """What the table of items shows of one: name, first place, position."""
    where = position(item) or (None, None)
    return {
        "name": item.name,
        "place": next(iter(place_ids(item)), None),
        "latitude_deg": where[0],
        "longitude_deg": where[1],
        "retired": item.retired,
    }
