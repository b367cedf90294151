"""The sheets of what lies on the ground: places, stages and what belongs to a stage."""

from enum import StrEnum
from typing import Any

from lacet.intake.cells import SEASON, Id, Many, Number, Text, Word, YesNo, shown
from lacet.intake.columns import Column, Fields, SheetKind
from lacet.intake.pairs import SURFACES, TRAFFIC
from lacet.intake.problems import CellRefused
from lacet.trip.library import Closure, Cue, Place, Recording, Stage, StagePoint, StageWay
from lacet.trip.words import (
    ClosureLevel,
    Direction,
    Exposure,
    Footing,
    Grade,
    Means,
    PlaceKind,
    PointKind,
    Signal,
    Way,
)

RETIRED = Column(name="retired", field="retired", cell=YesNo(), says="yes = no longer offered")
KM_ALONG = Number("km", 0, 1000, scale=1000)


class WaysWord(StrEnum):
    """How the sheet says which ways a stage is for."""

    WALKING = "walking"
    CYCLING = "cycling"
    BOTH = "both"


class WaysCell:
    """walking, cycling or both."""

    expects = "walking, cycling or both"
    words = WaysWord

    def read(self, text: str, comma: bool = False) -> tuple[Way, ...]:
        word = text.casefold()
        if word == "both":
            return (Way.WALKING, Way.CYCLING)
        if word not in tuple(Way):
            raise CellRefused(f"{shown(text)} isn't {self.expects}.")
        return (Way(word),)

    def write(self, value: tuple[Way, ...]) -> str:
        return "both" if len(value) > 1 else value[0].value


def column(name: str, says: str, cell: Any, field: str | None = None, **more: Any) -> Column:
    """A column, by default of the field of its own name."""
    return Column(name=name, says=says, cell=cell, field=name if field is None else field, **more)


def position_columns() -> tuple[Column, ...]:
    return (
        column("latitude", "WGS 84", Number("degrees", -90, 90), "latitude_deg", required=True),
        column("longitude", "WGS 84", Number("degrees", -180, 180), "longitude_deg", required=True),
    )


def _take_place(known: Fields) -> Fields:
    """Without a column `hub` the place's kind and the column `ferry` tell how guests come."""
    ferry = known.pop("ferry", None)
    if "hub" not in known:
        means = [Means.FERRY] if ferry else []
        by_kind = {PlaceKind.AIRFIELD: Means.FLIGHT, PlaceKind.STATION: Means.TRAIN}
        means += [by_kind[known["kind"]]] if known.get("kind") in by_kind else []
        known["hub"] = tuple(means)
    return known


PLACES = SheetKind(
    name="places",
    one="place",
    makes=Place,
    says="where stages begin and end",
    take=_take_place,
    columns=(
        column("id", "never changes", Id(), required=True),
        column("name", "as guests read it", Text(), required=True),
        column("kind", "", Word(PlaceKind)),
        *position_columns(),
        column("height_m", "above sea level", Number("metres", -500, 9000)),
        column("hub", "how guests reach or leave the region here", Many(Word(Means))),
        column("water", "drinking water", YesNo(), "has_water"),
        column("food", "meals or provisions", YesNo(), "has_food"),
        column("shop", "", YesNo(), "has_shop"),
        column("rest_day_ideas", "what to do on a day here", Many(Text())),
        column("note", "", Text()),
        RETIRED,
        column(
            "ferry",
            "read where there is no column hub: yes makes the place a ferry hub",
            YesNo(),
            only_read=True,
        ),
        column("charging", "for orientation, not kept: sockets are points of stages", YesNo(), ""),
        column("taxi", "for orientation, not kept: pick-ups are points of stages", YesNo(), ""),
        column("shelter", "for orientation, not kept", YesNo(), ""),
    ),
)


def _by_way(name: str, says: str, cell: Any) -> tuple[Column, ...]:
    return tuple(column(f"{name}_{way}", f"{says}, {words}", cell) for way, words in _WAY_WORDS)


_WAY_WORDS = ((Way.WALKING.value, "for those on foot"), (Way.CYCLING.value, "for those on a bike"))
_FACTS = ("footing", "exposure", "grade")
_LAID = ("surface", "traffic")


def _take_stage(known: Fields) -> Fields:
    known.pop("track", None)
    ways = tuple(_way_of(way, known) for way in known.pop("ways"))
    closed = [known.pop(name, None) for name in ("closed_season", "closed_level", "closed_text")]
    further = known.pop("further_closures", ())
    first = (Closure(closed[0], closed[1] or ClosureLevel.ADVICE, closed[2] or ""),) if closed[0] else ()
    kept = {name: value for name, value in known.items() if not name.endswith(("_walking", "_cycling"))}
    for name in _LAID:
        kept.pop(name, None)
    return kept | {"ways": ways, "closures": first + further}


def _way_of(way: Way, known: Fields) -> StageWay:
    facts = {name: known.get(f"{name}_{way}") for name in _FACTS}
    laid = {name: known.get(f"{name}_{way}") or known.get(name) or () for name in _LAID}
    return StageWay(way=way, surfaces=laid["surface"], traffic=laid["traffic"], **facts)


def _give_stage(stage: Stage) -> Fields:
    first = stage.closures[0] if stage.closures else None
    given = {
        name: getattr(stage, name)
        for name in ("id", "retired", "name", "from_place", "to_place", "text", "highlights", "snow_season")
    }
    given |= {"signal": stage.signal, "note": stage.note, "ways": tuple(facts.way for facts in stage.ways)}
    given |= {
        "closed_season": first and first.season,
        "closed_level": first and first.level,
        "closed_text": first and first.says,
        "further_closures": stage.closures[1:],
    }
    for facts in stage.ways:
        given |= {f"{name}_{facts.way}": getattr(facts, name) for name in _FACTS}
    return given | _laid_of(stage)


def _laid_of(stage: Stage) -> Fields:
    """One column where both ways have the same underfoot, one a way where they differ."""
    given: Fields = {}
    for name, field in zip(_LAID, ("surfaces", "traffic"), strict=True):
        values = [getattr(facts, field) for facts in stage.ways]
        if all(value == values[0] for value in values):
            given[name] = values[0] if values else ()
            continue
        given |= {f"{name}_{facts.way}": getattr(facts, field) for facts in stage.ways}
    return given


STAGES = SheetKind(
    name="stages",
    one="stage",
    makes=Stage,
    says="ways from place to place; where one runs is a GPX file beside the sheet",
    take=_take_stage,
    give=_give_stage,
    columns=(
        column("id", "never changes", Id(), required=True),
        column("name", "as guests read it", Text(), required=True),
        column("from_place", "where the track begins", Id(), required=True, refers="places"),
        column("to_place", "where it ends; the same for a round", Id(), required=True, refers="places"),
        column("ways", "who it is for", WaysCell(), required=True),
        column("track", "GPX file, seen from the sheet; tracks/<id>.gpx where empty", Text()),
        *_by_way("grade", "the office's grade", Word(Grade)),
        *_by_way("footing", "underfoot", Word(Footing)),
        *_by_way("exposure", "how near the drop is", Word(Exposure)),
        column("surface", "by km from the start", SURFACES),
        *_by_way("surface", "where it differs by way", SURFACES),
        column("traffic", "by km from the start", TRAFFIC),
        *_by_way("traffic", "where it differs by way", TRAFFIC),
        column("signal", "telephone", Word(Signal)),
        column("snow_season", "when snow is possible", SEASON),
        column("closed_season", "when it is closed; more in the sheet closures", SEASON),
        column("closed_level", "who closes it; advice where empty", Word(ClosureLevel)),
        column("closed_text", "what to tell guests", Text()),
        column("highlights", "", Many(Text())),
        column("text", "for the proposal", Text()),
        column("note", "for the office", Text()),
        RETIRED,
        column("length_km", "for orientation, not kept: measured on the track", Number("km"), ""),
        column("ascent_m", "for orientation, not kept", Number("metres"), ""),
        column("descent_m", "for orientation, not kept", Number("metres"), ""),
        column("highest_m", "for orientation, not kept", Number("metres"), ""),
    ),
)

_STAGE = column("stage", "whose", Id(), "parent", required=True, refers="stages")

POINTS = SheetKind(
    name="points",
    one="point",
    makes=StagePoint,
    says="what lies along stages",
    parent="stages",
    parent_field="points",
    columns=(
        _STAGE,
        column("km", "from the stage's start", KM_ALONG, "along_m", required=True),
        column("kind", "", Word(PointKind), required=True),
        column("name", "", Text(), required=True),
        column("note", "", Text()),
    ),
)
CUES = SheetKind(
    name="cues",
    one="direction",
    makes=Cue,
    says="written directions, in the order walked",
    parent="stages",
    parent_field="cues",
    columns=(
        _STAGE,
        column("direction", "out = as the track runs", Word(Direction), required=True),
        column("number", "for orientation, not kept: rows are kept in their order", Number(), ""),
        column("km", "from the stage's start, in both directions", KM_ALONG, "along_m", required=True),
        column("text", "what to do there", Text(), "says", required=True),
    ),
)
CLOSURES = SheetKind(
    name="closures",
    one="closure",
    makes=Closure,
    says="closures of stages beyond the first",
    parent="stages",
    parent_field="further_closures",
    columns=(
        _STAGE,
        column("season", "", SEASON, required=True),
        column("level", "who closes it", Word(ClosureLevel), required=True),
        column("text", "what to tell guests", Text(), "says"),
    ),
)
RECORDINGS = SheetKind(
    name="recordings",
    one="recording",
    makes=Recording,
    says="recorded times on stages, without who and when",
    parent="stages",
    parent_field="recordings",
    columns=(
        _STAGE,
        column("way", "", Word(Way), required=True),
        column("moving_s", "time in movement", Number("seconds", 0, 1_000_000), required=True),
        column("distance_m", "", Number("metres", 0, 1_000_000), required=True),
    ),
)
