"""The shape of a stage: cut in two, joined, turned round, trimmed, begun elsewhere.

Pure. Points, directions, stretches and recordings keep their places on the ground; what is cut off falls
away. Only edits without meaning raise.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, TypeVar

import numpy as np

from lacet.tracks.drawn import Drawn, StageEditRefused, in_order, replace_stage
from lacet.tracks.edit import JOIN_WITHIN_M, cut, join, reverse
from lacet.tracks.geodesy import cumulative_m, distance_m
from lacet.tracks.stretches import SAME_PLACE_M, Along, cut_stretches, moved_stretch, tidy, turned_stretch
from lacet.tracks.track import Track
from lacet.trip.library import Recording, StageWay
from lacet.trip.words import Direction, Exposure, Footing, Grade, Signal, Way

SHORTEST_M = 50.0
# A loop's ends may lie a road's width apart; the start can be shifted all the same.
LOOP_WITHIN_M = 200.0
Scale = TypeVar("Scale", Footing, Exposure, Grade)
_OTHER = {Direction.OUT: Direction.BACK, Direction.BACK: Direction.OUT}
_SIGNALS = (Signal.GOOD, Signal.PATCHY, Signal.NONE, Signal.UNKNOWN)


def cut_in_two(drawn: Drawn, at_m: float, middle: str, first_id: str, second_id: str) -> tuple[Drawn, Drawn]:
    """Two stages that meet at a place.

    Both keep the texts, closures and facts that hold for the whole. A recorded time is shared out by length,
    which is an estimate for each part; joined again it is what it was.

    Parameters
    ----------
    middle
        Id of the place they meet in.
    """
    _refuse_short(drawn, at_m, "cut")
    stage, length = drawn.stage, drawn.length_m
    first = _part(drawn, 0.0, at_m)
    second = _part(drawn, at_m, length)
    return (
        replace_stage(first, id=first_id, version=1, name=f"{stage.name}, first part", to_place=middle),
        replace_stage(second, id=second_id, version=1, name=f"{stage.name}, second part", from_place=middle),
    )


def joined(first: Drawn, second: Drawn) -> Drawn:
    """One stage of two, under the first one's id; the second is turned round where that makes them meet.

    It is for the ways both are for, and as hard as the harder one.

    Raises
    ------
    StageEditRefused
        When they don't meet within 50 m or have no way in common.
    """
    second = _turned_to_meet(first, second)
    one, two = first.stage, second.stage
    ways = tuple(way for way in one.ways if two.on(way.way) is not None)
    if not ways:
        raise StageEditRefused(
            "{one} and {two} have no way in common: one is on foot, one by bike.", one=one.name, two=two.name
        )
    track = _joined_track(first.track, second.track)
    seam_m = float(cumulative_m(track)[-1]) - second.length_m
    gap_m = seam_m - first.length_m

    def moved(at_m: float) -> float:
        return at_m + seam_m

    stage = replace(
        one,
        to_place=two.to_place,
        ways=tuple(_joined_way(way, two.on(way.way), moved, gap_m, first.length_m) for way in ways),
        text=_texts(one.text, two.text),
        note=_texts(one.note, two.note),
        highlights=_once((*one.highlights, *two.highlights)),
        closures=_once((*one.closures, *two.closures)),
        picture_ids=_once((*one.picture_ids, *two.picture_ids)),
        snow_season=_texts(one.snow_season, two.snow_season, "; "),
        signal=max(one.signal, two.signal, key=_SIGNALS.index),
        points=(*one.points, *(replace(each, along_m=moved(each.along_m)) for each in two.points)),
        cues=(*one.cues, *(replace(each, along_m=moved(each.along_m)) for each in two.cues)),
        recordings=_joined_recordings(one.recordings, two.recordings),
    )
    return Drawn(stage, track)


def reversed_(drawn: Drawn) -> Drawn:
    """The stage in the other direction; there is back, and back is there.

    A recorded time falls away: it was recorded in the other direction.
    """
    length, stage = drawn.length_m, drawn.stage

    def turned(at_m: float) -> float:
        return length - at_m

    made = replace(
        stage,
        from_place=stage.to_place,
        to_place=stage.from_place,
        ways=tuple(_turned_way(way, turned) for way in stage.ways),
        points=in_order(replace(each, along_m=turned(each.along_m)) for each in stage.points),
        cues=in_order(
            replace(each, along_m=turned(each.along_m), direction=_OTHER[each.direction])
            for each in stage.cues
        ),
        recordings=(),
    )
    return Drawn(made, reverse(drawn.track))


def trimmed(drawn: Drawn, from_m: float, to_m: float) -> Drawn:
    """Only what lies between two distances; a recorded time shrinks with the length."""
    if to_m - from_m < SHORTEST_M:
        raise StageEditRefused(
            "Nothing would be left: choose two places at least 50 m apart, the nearer first."
        )
    return _part(drawn, from_m, to_m)


def with_start_at(drawn: Drawn, at_m: float, place: str) -> Drawn:
    """A round that begins and ends elsewhere along its line.

    Raises
    ------
    StageEditRefused
        When the stage is no round.
    """
    latitude, longitude = drawn.track.latitude_deg, drawn.track.longitude_deg
    apart_m = distance_m(
        (float(latitude[0]), float(longitude[0])), (float(latitude[-1]), float(longitude[-1]))
    )
    if drawn.stage.from_place != drawn.stage.to_place or apart_m > LOOP_WITHIN_M:
        raise StageEditRefused("{stage} is no round, so its start can't be shifted.", stage=drawn.stage.name)
    _refuse_short(drawn, at_m, "begun")
    ends = {"from_place": place, "to_place": place}
    late = replace_stage(_part(drawn, at_m, drawn.length_m), **ends)
    early = replace_stage(_part(drawn, 0.0, at_m), **ends)
    track = (
        join((late.track, early.track)) if apart_m > SAME_PLACE_M else _joined_track(late.track, early.track)
    )
    seam_m = float(cumulative_m(track)[-1]) - early.length_m

    def moved(value_m: float) -> float:
        return value_m + seam_m

    one, two = late.stage, early.stage
    stage = replace(
        one,
        ways=tuple(
            _joined_way(way, two.on(way.way), moved, seam_m - late.length_m, late.length_m)
            for way in one.ways
        ),
        points=(*one.points, *(replace(each, along_m=moved(each.along_m)) for each in two.points)),
        cues=(*one.cues, *(replace(each, along_m=moved(each.along_m)) for each in two.cues)),
        recordings=drawn.stage.recordings,
    )
    return Drawn(stage, track)


def _part(drawn: Drawn, from_m: float, to_m: float) -> Drawn:
    stage, length = drawn.stage, drawn.length_m
    last = to_m >= length - SAME_PLACE_M

    def inside(at_m: float) -> bool:
        # What stands on a seam belongs to the part that begins there.
        return from_m <= at_m < to_m or (last and at_m >= to_m)

    def moved(at_m: float) -> float:
        return min(max(at_m - from_m, 0.0), to_m - from_m)

    share = min((to_m - from_m) / length, 1.0)
    made = replace(
        stage,
        ways=tuple(
            replace(
                way,
                surfaces=cut_stretches(way.surfaces, from_m, to_m, last),
                traffic=cut_stretches(way.traffic, from_m, to_m, last),
            )
            for way in stage.ways
        ),
        points=tuple(replace(p, along_m=moved(p.along_m)) for p in stage.points if inside(p.along_m)),
        cues=tuple(replace(c, along_m=moved(c.along_m)) for c in stage.cues if inside(c.along_m)),
        recordings=tuple(
            replace(each, moving_s=each.moving_s * share, distance_m=each.distance_m * share)
            for each in stage.recordings
        ),
    )
    return Drawn(made, cut(drawn.track, from_m, min(to_m, length)))


def _joined_track(first: Track, second: Track) -> Track:
    """As `join`, without the second copy of the point they meet in."""
    whole = join((first, second))
    seam = len(first)
    same = all(
        abs(float(column[seam] - column[seam - 1])) < 1e-12
        for column in (whole.latitude_deg, whole.longitude_deg)
    )
    if not same or len(second) < 2 or seam in whole.segment_start:
        return whole
    keep = np.ones(len(whole), dtype=bool)
    keep[seam] = False
    starts = whole.segment_start - (whole.segment_start > seam)
    return Track(whole.latitude_deg[keep], whole.longitude_deg[keep], whole.height_m[keep], starts)


def _turned_to_meet(first: Drawn, second: Drawn) -> Drawn:
    end = _end(first.track, -1)
    ahead, behind = distance_m(end, _end(second.track, 0)), distance_m(end, _end(second.track, -1))
    if min(ahead, behind) > JOIN_WITHIN_M:
        raise StageEditRefused(
            "{stage} begins {min:.1f} km from where {stage_2} ends; only stages that meet can be joined.",
            stage=second.stage.name,
            min=min(ahead, behind) / 1000,
            stage_2=first.stage.name,
        )
    return second if ahead <= behind else reversed_(second)


def _end(track: Track, index: int) -> tuple[float, float]:
    return float(track.latitude_deg[index]), float(track.longitude_deg[index])


def _joined_way(one: StageWay, two: StageWay | None, moved: Along, gap_m: float, end_m: float) -> StageWay:
    assert two is not None, "only ways both stages have are joined"
    return replace(
        one,
        footing=_harder(Footing, one.footing, two.footing),
        exposure=_harder(Exposure, one.exposure, two.exposure),
        grade=_harder(Grade, one.grade, two.grade),
        surfaces=tidy((*one.surfaces, *(moved_stretch(each, moved, gap_m, end_m) for each in two.surfaces))),
        traffic=tidy((*one.traffic, *(moved_stretch(each, moved, gap_m, end_m) for each in two.traffic))),
    )


def _harder(scale: type[Scale], one: Scale | None, two: Scale | None) -> Scale | None:
    """The harder of the two; unknown where one is."""
    return None if one is None or two is None else max(one, two, key=list(scale).index)


def _turned_way(way: StageWay, turned: Along) -> StageWay:
    return replace(
        way,
        surfaces=tuple(turned_stretch(each, turned) for each in reversed(way.surfaces)),
        traffic=tuple(turned_stretch(each, turned) for each in reversed(way.traffic)),
    )


def _joined_recordings(one: Sequence[Recording], two: Sequence[Recording]) -> tuple[Recording, ...]:
    """Times recorded on both, way by way; a time of one part alone says nothing of the whole."""
    made = []
    for way in Way:
        firsts, seconds = ([each for each in part if each.way is way] for part in (one, two))
        made += [
            Recording(way, a.moving_s + b.moving_s, a.distance_m + b.distance_m)
            for a, b in zip(firsts, seconds, strict=False)
        ]
    return tuple(made)


def _texts(one: str, two: str, between: str = "\n\n") -> str:
    return between.join(_once(text for text in (one, two) if text))


def _once(values: Iterable[Any]) -> tuple[Any, ...]:
    return tuple(dict.fromkeys(values))


def _refuse_short(drawn: Drawn, at_m: float, what: str) -> None:
    if not SHORTEST_M <= at_m <= drawn.length_m - SHORTEST_M:
        raise StageEditRefused("A stage is {what} along its line, at least 50 m from either end.", what=what)
