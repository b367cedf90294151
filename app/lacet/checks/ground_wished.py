"""Footing and exposure within what the party asked for."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.checks.several import Several
from lacet.language import Text, marked, to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.words import Exposure, Footing

ID = "ground_wished"
SAYS = "Ground is no rougher and edges no nearer than the party wishes."
_FOOTINGS: list[Any] = list(Footing)
_EXPOSURES: list[Any] = list(Exposure)
_GROUND: dict[Any, Text] = {footing: to_say("{footing} ground", footing=footing) for footing in Footing}
_EDGES: dict[Any, Text] = {
    Exposure.NONE: to_say("no edges"),
    Exposure.SOME: to_say("some edges"),
    Exposure.EXPOSED: to_say("exposed edges"),
}


SEVERAL = {
    "rougher": Several(
        says=marked("{stage:some}: {found}; the party asked for {wish}. Choose other routes, or ask them."),
        by=("wish",),
    ),
    "unknown": Several(
        says=marked(
            "Nobody has said how the {name} of {stage:some} is; the party asked for {wish}. Ask who knows it."
        ),
        by=("name", "wish"),
    ),
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
            about = {"leg": leg.leg.id, "fact": name}
            if found is None:
                says = to_say(
                    "Nobody has said how the {name} of {stage} is; the party asked for {wish}. Ask who knows "
                    "it.",
                    name=name,
                    stage=stage.name,
                    wish=words[wish],
                )
                yield group_finding(
                    ID, "unknown", Level.NOTE, day, group, says, about, unit="grade", unknown=True
                )
            elif scale.index(found) > scale.index(wish):
                says = to_say(
                    "{stage}: {found}; the party asked for {wish}. Choose another way, or ask them.",
                    stage=stage.name,
                    found=words[found],
                    wish=words[wish],
                )
                more: dict[str, Any] = {
                    "figure": float(scale.index(found)),
                    "limit": float(scale.index(wish)),
                    "unit": "grade",
                    "source": "the party's own wish",
                    "fixes": (*take_the_other_way(case, day), *other_stages(case, leg)),
                }
                yield group_finding(ID, "rougher", Level.WARN, day, group, says, about, **more)
