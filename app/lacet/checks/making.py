"""What several checks share: findings about a group of a day, and small questions about a leg."""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from lacet.checks.case import Case
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Place, Ref, Stage
from lacet.trip.party import Traveller
from lacet.trip.trip import Leg, Trip
from lacet.trip.words import Direction


def group_finding(
    check: str, level: Level, day: DayFigures, group: GroupFigures, says: str, about: str = "", **more: Any
) -> Finding:
    """A finding about one group of one day; `about` tells apart several of one check."""
    subject = " ".join(part for part in ("day", day.id, *group.travellers, about) if part)
    return Finding(
        check=check,
        level=level,
        subject=subject,
        day=day.number,
        travellers=group.travellers,
        says=says,
        **more,
    )


def day_finding(
    check: str, level: Level, day: DayFigures, says: str, about: str = "", **more: Any
) -> Finding:
    """A finding about a whole day."""
    subject = " ".join(part for part in ("day", day.id, about) if part)
    return Finding(check=check, level=level, subject=subject, day=day.number, says=says, **more)


def each_leg(case: Case) -> Iterator[tuple[DayFigures, GroupFigures, LegFigures, Stage]]:
    """Every leg that the library knows, with its stage."""
    for day, group in case.groups():
        for leg in group.legs:
            yield day, group, leg, case.catalogue.need(Stage, leg.leg.stage)


def guests_of(case: Case, group: GroupFigures) -> list[Traveller]:
    return [case.traveller(who) for who in group.travellers]


def fix(says: str, edit: Callable[..., Trip], case: Case, *words: Any, **more: Any) -> Fix:
    """A fix that is one edit of this variant; nothing is made before it is asked for."""
    return Fix(says=says, edit=partial(_edited, edit, case.variant.id, words, more))


def _edited(
    edit: Callable[..., Trip], variant_id: str, words: tuple[Any, ...], more: dict[str, Any], trip: Trip
) -> Trip:
    return edit(trip, variant_id, *words, **more)


def take_the_shorter_way(case: Case, day: DayFigures) -> tuple[Fix, ...]:
    """The day's own alternatives, as the consultant thought of them."""
    planned = case.day(day.number)
    return tuple(
        fix(f"Take the {_reason(other.reason.value)} way", edits.take_alternative, case, day.id, other.id)
        for other in planned.alternatives
    )


def other_stages(case: Case, leg: LegFigures, most: int = 2) -> tuple[Fix, ...]:
    """Other stages of the library between the same two places, on the same way."""
    stage = case.catalogue.need(Stage, leg.leg.stage)
    ends = {stage.from_place, stage.to_place}
    if len(ends) < 2 or leg.leg.cut_from_m is not None or leg.leg.cut_to_m is not None:
        return ()
    found = [
        other
        for other in case.catalogue.current(Stage)
        if other.id != stage.id and {other.from_place, other.to_place} == ends and other.on(leg.leg.way)
    ]
    return tuple(_instead(case, leg.leg, stage, other) for other in found[:most])


def _instead(case: Case, leg: Leg, stage: Stage, other: Stage) -> Fix:
    """The other stage from the same place to the same place, whichever way round it is kept."""
    replaced = Leg(
        id=leg.id,
        stage=Ref(other.id, other.version),
        way=leg.way,
        backward=leg.backward if other.from_place == stage.from_place else not leg.backward,
        bike=leg.bike,
        assist=leg.assist,
        travellers=leg.travellers,
    )
    return fix(f"{other.name} instead", edits.replace_item, case, leg.id, replaced)


def direction_of(leg: Leg) -> Direction:
    return Direction.BACK if leg.backward else Direction.OUT


def within_cut(leg: Leg, along_m: float, length_m: float) -> float | None:
    """A stage distance as the leg counts it, or None where the cut leaves it out."""
    begin = leg.cut_from_m or 0.0
    here = along_m - begin
    if not -1.0 <= here <= length_m + 1.0:
        return None
    return length_m - here if leg.backward else here


def place_of(case: Case, place_id: str | None) -> Place | None:
    return None if place_id is None else case.catalogue.place(place_id)


def _reason(reason: str) -> str:
    return {"shorter": "shorter", "wet_weather": "wet-weather", "longer": "longer"}.get(reason, "other")
