"""Stages as lists show them: light rows, filtered and searched by the database.

A row is a named tuple made straight from the database's own, because a list of ten thousand is asked
for while a person types.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

from sqlalchemy import Connection, Select, select

from lacet.store import search
from lacet.store.tables import FILED, ITEMS, STAGES
from lacet.trip.library import Stage
from lacet.trip.words import Footing, Way

_WAYS = {
    "": (),
    "walking": (Way.WALKING,),
    "cycling": (Way.CYCLING,),
    "walking cycling": (Way.WALKING, Way.CYCLING),
}
_FOOTINGS = tuple(Footing)


class StageRow(NamedTuple):
    """What a list shows of a stage. Lengths and heights [m], None where unknown.

    `sparkline` is packed by `tracks.packing`; `ways_text` is read through `ways`; `retired` is 1 or 0.
    """

    id: str
    version: int
    name: str
    from_place: str
    to_place: str
    from_name: str
    to_name: str
    ways_text: str
    distance_m: float | None
    ascent_m: float | None
    descent_m: float | None
    lowest_m: float | None
    highest_m: float | None
    sparkline: bytes | None
    retired: int

    @property
    def ways(self) -> tuple[Way, ...]:
        """The ways the stage is meant for."""
        # What nobody here wrote is as if nobody had said.
        return _WAYS.get(self.ways_text, ())


@dataclass(frozen=True, slots=True, kw_only=True)
class StageFilter:
    """Which stages a list shows. None or empty = no matter.

    Ranges are inclusive [m]. A stage whose length or climb is unknown is in no range, and one whose
    footing is unknown passes no footing, unless `with_unknown`. `footing` is the roughest that will do,
    on `way` or else on any way the stage has. `at_place` is either end; the place a stage starts from lies
    within `starts_in`; of more than `most` the first by name are listed.
    """

    words: str = ""
    way: Way | None = None
    distance_from_m: float | None = None
    distance_to_m: float | None = None
    ascent_from_m: float | None = None
    ascent_to_m: float | None = None
    footing: Footing | None = None
    from_place: str | None = None
    to_place: str | None = None
    at_place: str | None = None
    starts_in: search.Box | None = None
    box: search.Box | None = None
    with_unknown: bool = False
    retired: bool = False
    most: int | None = None


EVERY_STAGE = StageFilter()


def stage_rows(connection: Connection, chosen: StageFilter) -> list[StageRow]:
    """The newest versions of the stages that pass, by name."""
    found = connection.execute(_select(chosen)).cursor
    assert found is not None, "a SELECT has a cursor"
    # The driver's own tuples are in the order of the fields, so nothing is looked up by name.
    return list(map(StageRow._make, found.fetchall()))


def stage_columns(stage: Stage, names: dict[str, str], course: dict[str, Any]) -> dict[str, Any]:
    """What the table of stages shows of one, given its places' names and its track's figures."""
    footing = {facts.way: facts.footing for facts in stage.ways}
    return {
        "id": stage.id,
        "version": stage.version,
        "retired": stage.retired,
        "name": stage.name,
        "from_place": stage.from_place,
        "to_place": stage.to_place,
        "from_name": names.get(stage.from_place, ""),
        "to_name": names.get(stage.to_place, ""),
        "ways": " ".join(way for way in Way if way in footing),
        "walking_footing": footing.get(Way.WALKING),
        "cycling_footing": footing.get(Way.CYCLING),
        "track_id": stage.track_id,
        **course,
    }


def _select(chosen: StageFilter) -> Select[Any]:
    fields = (STAGES.c["ways" if name == "ways_text" else name] for name in StageRow._fields)
    wanted = select(*fields).where(STAGES.c.newest).order_by(STAGES.c.name.collate("NOCASE"), STAGES.c.id)
    if not chosen.retired:
        wanted = wanted.where(~STAGES.c.retired)
    for condition in _conditions(chosen):
        wanted = wanted.where(condition)
    words = search.rows_with_words(chosen.words)
    if words is not None:
        wanted = wanted.where(STAGES.c.row_id.in_(words))
    if chosen.box is not None:
        wanted = wanted.where(STAGES.c.row_id.in_(search.rows_in_box(chosen.box)))
    return wanted.limit(chosen.most)


def _starts_in(box: search.Box) -> Select[Any]:
    """Ids of the places in a box."""
    return select(ITEMS.c.id).where(
        ITEMS.c.row_id.in_(search.rows_in_box(box)), ITEMS.c.kind == "place", ITEMS.c.newest
    )


def _conditions(chosen: StageFilter) -> list[Any]:
    conditions: list[Any] = []
    if chosen.way is not None:
        conditions.append(STAGES.c.ways.contains(chosen.way.value))
    for name in ("from_place", "to_place"):
        place = getattr(chosen, name)
        if place is not None:
            conditions += [STAGES.c[name] == place, STAGES.c.row_id.in_(_filed(place))]
    if chosen.at_place is not None:
        conditions.append(STAGES.c.row_id.in_(_filed(chosen.at_place)))
    if chosen.starts_in is not None:
        starts = _starts_in(chosen.starts_in)
        conditions += [STAGES.c.from_place.in_(starts), STAGES.c.row_id.in_(_filed(starts))]
    for name in ("distance", "ascent"):
        column = STAGES.c[f"{name}_m"]
        low, high = getattr(chosen, f"{name}_from_m"), getattr(chosen, f"{name}_to_m")
        conditions += [_or_unknown(column >= low, column, chosen)] if low is not None else []
        conditions += [_or_unknown(column <= high, column, chosen)] if high is not None else []
    if chosen.footing is not None:
        conditions.append(_footing(chosen))
    return conditions


def _filed(under: str | Select[Any]) -> Select[Any]:
    """Row numbers of what is filed under an id, or under any of several."""
    rows = select(FILED.c.row_id)
    return rows.where(FILED.c.under == under if isinstance(under, str) else FILED.c.under.in_(under))


def _footing(chosen: StageFilter) -> Any:
    assert chosen.footing is not None
    will_do = _FOOTINGS[: _FOOTINGS.index(chosen.footing) + 1]
    ways = (chosen.way,) if chosen.way is not None else tuple(Way)
    passes = None
    for way in ways:
        column = STAGES.c[f"{way.value}_footing"]
        on_way = STAGES.c.ways.contains(way.value) & _or_unknown(column.in_(will_do), column, chosen)
        passes = on_way if passes is None else passes | on_way
    return passes


def _or_unknown(condition: Any, column: Any, chosen: StageFilter) -> Any:
    return condition | column.is_(None) if chosen.with_unknown else condition
