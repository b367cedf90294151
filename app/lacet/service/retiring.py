"""What retiring an item means for trips and for the rest of the library, in sentences."""

from collections.abc import Iterator
from typing import Any

from lacet.store import Project, StageFilter, UnitOfWork
from lacet.trip.library import Lodging, Place, Restaurant, Tariff
from lacet.wording import listed

MOST_NAMED = 4


def consequences(project: Project, item: Any) -> tuple[str, ...]:
    """One sentence for each thing that changes; with none, nothing uses the item."""
    with project.reading() as unit:
        return (*_trips(unit, item), *_library(unit, item))


def _trips(unit: UnitOfWork, item: Any) -> Iterator[str]:
    seen: dict[str, tuple[str, list[int]]] = {}
    for trip_id, name, version in unit.library.used_by(type(item), item.id):
        seen.setdefault(trip_id, (name, []))[1].append(version)
    for name, versions in seen.values():
        if isinstance(item, Place):
            yield f"The trip '{name}' stops here and goes on doing so."
            continue
        which = listed([str(version) for version in sorted(versions)])
        yield (
            f"The trip '{name}' keeps version {which} as planned and sold; a finding will say that "
            f"{item.name} was retired and another should be chosen."
        )


def _library(unit: UnitOfWork, item: Any) -> Iterator[str]:
    if isinstance(item, Place):
        ends = [unit.library.stage_rows(StageFilter(from_place=item.id))]
        ends.append(unit.library.stage_rows(StageFilter(to_place=item.id)))
        yield from _left("begin or end here", "stage", {row.name for rows in ends for row in rows})
        for kind, word in ((Lodging, "lodging"), (Restaurant, "restaurant")):
            names = {row.name for row in unit.library.listed(kind) if row.place == item.id}
            yield from _left("lie here", word, names)
    else:
        rows = unit.library.listed(Tariff, ("subject_id",))
        names = {row.name for row in rows if row.parts[0] == item.id}
        yield from _left("price it", "tariff", names)


def _left(does: str, word: str, names: set[str]) -> Iterator[str]:
    if names:
        first = sorted(names)
        more = [f"{len(first) - MOST_NAMED} more"] if len(first) > MOST_NAMED else []
        said = listed([*first[:MOST_NAMED], *more])
        if len(first) == 1:
            does = {
                "begin or end here": "begins or ends here",
                "lie here": "lies here",
                "price it": "prices it",
            }[does]
        yield f"{len(first)} {word}{'' if len(first) == 1 else 's'} {does} and stay offered: {said}."
