"""Which library items a trip points at, read off its plain data by the names of the fields.

A test walks the annotations of `trip.trip` and fails when a field that names an item is missing here.
Places are named without a version; they count as version 0.
"""

from collections.abc import Callable, Iterator
from typing import Any, TypeAlias

Use: TypeAlias = tuple[str, str, int]  # kind, id, version

# Fields that hold {"id", "version"}, by the kind they point at.
VERSIONED = {
    "stage": "stage",
    "bike": "bike",
    "transfer": "transfer",
    "lodging": "lodging",
    "restaurant": "restaurant",
    "means": "transfer",
}
# Fields that hold an id alone. A move runs between lodgings or places, a booking names any supplier.
PLACES = frozenset({"from_place", "to_place", "place", "hub"})
EITHER = {"from_id": ("lodging", "place"), "to_id": ("lodging", "place"), "tariff": ("tariff",)}
SUPPLIERS = {
    "lodging": "lodging",
    "restaurant": "restaurant",
    "transfer": "transfer",
    "bike": "bike",
    "bag_move": "transfer",
}


def uses_of(plain: Any) -> set[Use]:
    """Every item a trip's plain data points at."""
    return set(_walk(plain))


def _walk(plain: Any) -> Iterator[Use]:
    if isinstance(plain, list):
        for part in plain:
            yield from _walk(part)
    elif isinstance(plain, dict):
        for name, part in plain.items():
            if isinstance(part, list):
                yield from _walk(part)
            elif isinstance(part, dict):
                if name in VERSIONED and "id" in part:
                    yield VERSIONED[name], part["id"], part.get("version", 1)
                else:
                    yield from _walk(part)
            elif name in PLACES and isinstance(part, str):
                yield "place", part, 0


def loose_ids(plain: Any) -> set[Use]:
    """What is named by id alone, without saying of which kind: every kind it may be, as version 0."""
    found: set[Use] = set()
    for name, text in _texts(plain):
        found |= {(kind, text, 0) for kind in EITHER.get(name, ())}
    return found


def _texts(plain: Any) -> Iterator[tuple[str, str]]:
    if isinstance(plain, list):
        for part in plain:
            yield from _texts(part)
    elif isinstance(plain, dict):
        for name, part in plain.items():
            if isinstance(part, str):
                yield name, part
            else:
                yield from _texts(part)


def renamed(plain: Any, new_id: Callable[[str, str], str]) -> Any:
    """The same data with every id of a library item passed through `new_id(kind, id)`."""
    if isinstance(plain, list):
        return [renamed(part, new_id) for part in plain]
    if not isinstance(plain, dict):
        return plain
    return {name: _renamed_part(plain, name, part, new_id) for name, part in plain.items()}


def _renamed_part(whole: dict[str, Any], name: str, part: Any, new_id: Callable[[str, str], str]) -> Any:
    if name in VERSIONED and isinstance(part, dict) and "id" in part:
        return part | {"id": new_id(VERSIONED[name], part["id"])}
    if not isinstance(part, str):
        return renamed(part, new_id)
    if name in PLACES:
        return new_id("place", part)
    if name in EITHER:
        changed = (new_id(kind, part) for kind in EITHER[name])
        return next((other for other in changed if other != part), part)
    if name in {"supplier", "subject_id"}:
        kind = SUPPLIERS.get(whole.get("service", ""))
        return part if kind is None else new_id(kind, part)
    return part
