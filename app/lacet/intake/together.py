"""A catalogue with items added that nobody has kept yet, so that what is read next can refer to them."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from lacet.trip.catalogue import Catalogue
from lacet.trip.library import LibraryItem


def with_items(catalogue: Catalogue, items: Iterable[LibraryItem]) -> Catalogue:
    """The catalogue with each item as the newest of its id."""
    table: dict[type, dict[str, dict[int, Any]]] = {
        kind: {item_id: dict(versions) for item_id, versions in by_id.items()}
        for kind, by_id in catalogue.items.items()
    }
    for item in items:
        versions = table.setdefault(type(item), {}).setdefault(item.id, {})
        number = max(versions, default=0) + 1
        versions[number] = replace(item, version=number)
    return replace(catalogue, items=table)
