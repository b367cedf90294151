"""Footing and exposure within what the party asked for."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.trip.finding import Finding, Level
from lacet.trip.words import Exposure, Footing

ID = "ground_wished"
SAYS = "Ground is no rougher and edges no nearer than the party wishes."
_FOOTINGS: list[Any] = list(Footing)
_EXPOSURES: list[Any] = list(Exposure)
_GROUND: dict[Any, str] = {footing: f"{footing.value} ground" for footing in Footing}
_EDGES: dict[Any, str] = {
    Exposure.NONE: "no edges",
    Exposure.SOME: "some edges",
    Exposure.EXPOSED: "exposed edges",
}


def check_day(case: DayCase) -> Iterator[Finding]:
    wishes = case.trip.party.wishes
    if wishes.footing is None and wishes.exposure is None:
        return
    for day, group, leg, stage in each_leg(case):
        facts = stage.on(leg.leg.way)
        for name, wish, found, scale, words in (
            ("footing", wishes.footing, facts.footing if facts else None, _FOOTINGS, _GROUND),
            ("exposure", wishes.exposure, facts.exposure if facts else None, _EXPOSURES, _EDGES),
        ):
            if wish is None:
                continue
            about = f"{leg.leg.id} {name}"
            asked = f"the party asked for {words[wish]}"
            if found is None:
                says = f"Nobody has said how the {name} of {stage.name} is; {asked}. Ask who knows it."
                yield group_finding(ID, Level.NOTE, day, group, says, about, unit="grade", unknown=True)
            elif scale.index(found) > scale.index(wish):
                says = f"{stage.name}: {words[found]}; {asked}. Choose another way, or ask them."
                more: dict[str, Any] = {
                    "figure": float(scale.index(found)),
                    "limit": float(scale.index(wish)),
                    "unit": "grade",
                    "source": "the party's own wish",
                    "fixes": (*take_the_other_way(case, day), *other_stages(case, leg)),
                }
                yield group_finding(ID, Level.WARN, day, group, says, about, **more)
