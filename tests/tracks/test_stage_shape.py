"""Stages cut, joined, turned, trimmed and begun elsewhere: everything told by distance goes along."""

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacet.tracks.drawn import (
    Drawn,
    StageEditRefused,
    renamed,
    with_cue,
    with_point,
    with_surface,
    with_traffic,
    without_cue,
    without_point,
    without_way,
)
from lacet.tracks.edit import position_at, same_line
from lacet.tracks.profile import profile
from lacet.tracks.stage_shape import cut_in_two, joined, reversed_, trimmed, with_start_at
from lacet.tracks.track import Track, track
from lacet.trip.library import Cue, Recording, Stage, StagePoint, StageWay, SurfaceStretch, TrafficStretch
from lacet.trip.words import Direction, Exposure, Footing, PointKind, Surface, Traffic, Way

LENGTH_M = 10_000.0
DEGREE_M = 111_195.0


def winding(length_m: float = LENGTH_M) -> Track:
    """A line with bends and hills, a point every 40 m or so."""
    along = np.linspace(0.0, length_m, int(length_m // 40) + 1)
    return track(
        44.0 + along / DEGREE_M, -24.0 + 0.003 * np.sin(along / 700.0), 200.0 + 90.0 * np.sin(along / 900.0)
    )


def ring() -> Track:
    """A round of about 6.3 km."""
    turn = np.linspace(0.0, 2 * np.pi, 160)
    return track(
        44.0 + 1_000 * np.sin(turn) / DEGREE_M,
        -24.0 + 1_000 * np.cos(turn) / (DEGREE_M * np.cos(np.radians(44.0))),
        300 + 80 * np.sin(2 * turn),
    )


LINE, RING = winding(), ring()


@st.composite
def drawn_stages(draw: Any, line: Track = LINE) -> Drawn:
    """A stage with anything along it."""
    length = profile(line).length_m
    spots = st.floats(0.0, length).map(lambda at: round(at, 1))
    points = draw(
        st.lists(st.builds(StagePoint, spots, st.sampled_from(PointKind), st.just("p")), max_size=5)
    )
    cues = draw(
        st.lists(st.builds(Cue, spots, st.sampled_from(Direction), st.sampled_from("abc")), max_size=5)
    )
    ways = tuple(
        StageWay(
            way=way,
            footing=draw(st.none() | st.sampled_from(Footing)),
            surfaces=stretches(draw, SurfaceStretch, Surface, length),
            traffic=stretches(draw, TrafficStretch, Traffic, length),
        )
        for way in Way
    )
    recordings = draw(
        st.lists(st.builds(Recording, st.sampled_from(Way), st.floats(600, 9e4), st.just(length)), max_size=3)
    )
    stage = Stage(
        id="s",
        name="S",
        from_place="a",
        to_place="a" if line is RING else "b",
        track_id="t",
        ways=ways,
        text=draw(st.sampled_from(("", "Over the moor."))),
        highlights=("larks",),
        points=tuple(sorted(points, key=lambda each: each.along_m)),
        cues=tuple(sorted(cues, key=lambda each: each.along_m)),
        recordings=tuple(sorted(recordings, key=lambda each: list(Way).index(each.way))),
    )
    return Drawn(stage, line)


def stretches(draw: Any, kind: Any, values: Any, length_m: float) -> tuple[Any, ...]:
    """Stretches in order, at least 2 m long, neighbours of different kinds, some parts untold."""
    edges = sorted(set(draw(st.lists(st.integers(0, int(length_m) // 2), max_size=6))))
    found: list[Any] = []
    for begin, end in pairwise(edges):
        value = draw(st.none() | st.sampled_from(values))
        made = None if value is None else kind(2.0 * begin, 2.0 * end, value)
        alike = (
            found
            and made is not None
            and replace(found[-1], from_m=0, to_m=0) == replace(made, from_m=0, to_m=0)
        )
        if made is not None and not alike:
            found.append(made)
    return tuple(found)


def assert_alike(one: Stage, two: Stage) -> None:
    """The same but for centimetres along the line."""
    same = {"points": (), "cues": (), "ways": (), "recordings": ()}
    assert replace(one, **same) == replace(two, **same)  # type: ignore[arg-type]  # fields by name
    for field in ("points", "cues"):
        ours, theirs = getattr(one, field), getattr(two, field)
        assert [each.along_m for each in ours] == pytest.approx([each.along_m for each in theirs], abs=0.1)
        still = [replace(each, along_m=0.0) for each in ours]
        assert still == [replace(each, along_m=0.0) for each in theirs]
    for ours, theirs in zip(one.ways, two.ways, strict=True):
        assert replace(ours, surfaces=(), traffic=()) == replace(theirs, surfaces=(), traffic=())
        for field in ("surfaces", "traffic"):
            assert_stretches_alike(getattr(ours, field), getattr(theirs, field))
    assert [each.way for each in one.recordings] == [each.way for each in two.recordings]
    for mine, yours in zip(one.recordings, two.recordings, strict=True):
        assert (mine.moving_s, mine.distance_m) == pytest.approx((yours.moving_s, yours.distance_m), rel=1e-6)


def assert_stretches_alike(ours: tuple[Any, ...], theirs: tuple[Any, ...]) -> None:
    edges = [[edge for each in part for edge in (each.from_m, each.to_m)] for part in (ours, theirs)]
    assert edges[0] == pytest.approx(edges[1], abs=0.1)
    still = [[replace(each, from_m=0.0, to_m=0.0) for each in part] for part in (ours, theirs)]
    assert still[0] == still[1]


@settings(max_examples=40)
@given(drawn_stages(), st.floats(60.0, LENGTH_M - 60.0))
def test_cutting_and_joining_gives_back_what_was(whole: Drawn, at_m: float) -> None:
    first, second = cut_in_two(whole, at_m, "m", "s", "s-2")
    again = joined(replace_name(first, "S"), second)
    assert_alike(again.stage, whole.stage)
    assert again.length_m == pytest.approx(whole.length_m, abs=0.1)
    before, after = profile(whole.track), profile(again.track)
    assert (after.ascent_m, after.descent_m) == pytest.approx((before.ascent_m, before.descent_m), abs=0.5)
    assert same_line(again.track, whole.track, 1.0) == "same"


def replace_name(drawn: Drawn, name: str) -> Drawn:
    return Drawn(replace(drawn.stage, name=name), drawn.track)


@settings(max_examples=40)
@given(drawn_stages(), st.floats(60.0, LENGTH_M - 60.0))
def test_a_cut_parts_everything_and_loses_nothing(whole: Drawn, at_m: float) -> None:
    parts = cut_in_two(whole, at_m, "m", "x", "y")
    assert sum(part.length_m for part in parts) == pytest.approx(whole.length_m, abs=0.1)
    for field in ("points", "cues"):
        assert sum(len(getattr(part.stage, field)) for part in parts) == len(getattr(whole.stage, field))
    for part in parts:
        for point in part.stage.points:
            assert 0 <= point.along_m <= part.length_m + 0.1
    assert (parts[0].stage.to_place, parts[1].stage.from_place) == ("m", "m")


@settings(max_examples=40)
@given(drawn_stages())
def test_turning_twice_gives_back_what_was_but_for_recorded_times(whole: Drawn) -> None:
    again = reversed_(reversed_(whole))
    assert again.stage.recordings == ()
    ordered = replace(whole.stage, recordings=())
    assert_points_alike(again.stage, ordered)
    assert np.array_equal(again.track.latitude_deg, whole.track.latitude_deg)


def assert_points_alike(one: Stage, two: Stage) -> None:
    """As `assert_alike`, whichever of two marks at one distance comes first."""

    def key(each: Any) -> Any:
        return round(each.along_m, 1), repr(replace(each, along_m=0.0))

    sorted_ = [
        replace(each, points=tuple(sorted(each.points, key=key)), cues=tuple(sorted(each.cues, key=key)))
        for each in (one, two)
    ]
    assert_alike(*sorted_)


@settings(max_examples=40)
@given(drawn_stages(), st.floats(0.0, LENGTH_M))
def test_what_stands_somewhere_stands_there_after_turning(whole: Drawn, at_m: float) -> None:
    whole = with_point(
        Drawn(replace(whole.stage, points=()), whole.track), StagePoint(at_m, PointKind.WATER, "Well")
    )
    turned = reversed_(whole)
    before = position_at(whole.track, whole.stage.points[0].along_m)
    after = position_at(turned.track, turned.stage.points[0].along_m)
    assert after.latitude_deg == pytest.approx(before.latitude_deg, abs=1e-6)
    assert after.longitude_deg == pytest.approx(before.longitude_deg, abs=1e-6)


@settings(max_examples=40)
@given(drawn_stages(RING), st.floats(60.0, 6_000.0))
def test_a_round_begun_elsewhere_keeps_its_marks_on_the_ground(whole: Drawn, at_m: float) -> None:
    shifted = with_start_at(whole, at_m, "c")
    assert shifted.length_m == pytest.approx(whole.length_m, abs=0.5)
    assert (shifted.stage.from_place, shifted.stage.to_place) == ("c", "c")
    assert shifted.stage.recordings == whole.stage.recordings
    places = [
        sorted(
            (round(at.latitude_deg, 5), round(at.longitude_deg, 5))
            for at in (position_at(drawn.track, point.along_m) for point in drawn.stage.points)
        )
        for drawn in (whole, shifted)
    ]
    assert np.allclose(places[0], places[1], atol=2e-5)
    lengths = [
        sum(each.to_m - each.from_m for each in drawn.stage.ways[0].surfaces) for drawn in (whole, shifted)
    ]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.5)


@given(
    drawn_stages(), st.floats(0.0, LENGTH_M), st.floats(0.0, LENGTH_M), st.none() | st.sampled_from(Surface)
)
def test_a_stretch_written_over_holds_its_value_and_the_rest_keeps_theirs(
    whole: Drawn, one_m: float, two_m: float, surface: Surface | None
) -> None:
    from_m, to_m = sorted((one_m, two_m))
    if to_m - from_m < 1.0:
        return
    made = with_surface(whole, Way.WALKING, from_m, to_m, surface)
    for at_m in np.linspace(1.0, LENGTH_M - 1.0, 67):
        if min(abs(at_m - from_m), abs(at_m - to_m)) > 0.6:
            expected = surface if from_m < at_m < to_m else surface_at(whole, float(at_m))
            assert surface_at(made, float(at_m)) is expected
    assert made.stage.on(Way.CYCLING) == whole.stage.on(Way.CYCLING)


def surface_at(drawn: Drawn, at_m: float) -> Surface | None:
    facts = drawn.stage.on(Way.WALKING)
    assert facts is not None
    return next((each.surface for each in facts.surfaces if each.from_m <= at_m < each.to_m), None)


def plain(**fields: Any) -> Drawn:
    ways = (StageWay(way=Way.WALKING),)
    return Drawn(
        Stage(
            **{
                "id": "s",
                "name": "S",
                "from_place": "a",
                "to_place": "b",
                "track_id": "t",
                "ways": ways,
                **fields,
            }
        ),
        LINE,
    )


def test_trimming_keeps_a_share_of_the_recorded_time() -> None:
    whole = plain(
        recordings=(Recording(Way.WALKING, 3_600.0, 10_000.0),),
        points=(StagePoint(900.0, PointKind.WATER, "w"),),
    )
    middle = whole.length_m / 2
    part = trimmed(whole, 500.0, 500.0 + middle)
    assert part.stage.recordings[0].moving_s == pytest.approx(1_800.0)
    assert part.stage.points[0].along_m == pytest.approx(400.0)
    assert part.length_m == pytest.approx(middle, abs=0.1)


def test_joining_takes_the_harder_and_only_common_ways() -> None:
    easy = StageWay(way=Way.WALKING, footing=Footing.EVEN, exposure=Exposure.NONE)
    first, second = cut_in_two(plain(ways=(easy,)), 4_000.0, "m", "x", "y")
    rough = replace(easy, footing=Footing.ROUGH, exposure=None)
    second = Drawn(replace(second.stage, ways=(rough, StageWay(way=Way.CYCLING))), second.track)
    (way,) = joined(first, second).stage.ways
    assert (way.footing, way.exposure) == (Footing.ROUGH, None)


def test_joining_turns_the_second_round_where_that_makes_them_meet() -> None:
    first, second = cut_in_two(plain(), 4_000.0, "m", "x", "y")
    whole = joined(first, reversed_(second))
    assert (whole.stage.from_place, whole.stage.to_place) == ("a", "b")
    assert whole.length_m == pytest.approx(plain().length_m, abs=0.1)


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (lambda each: cut_in_two(each, 10.0, "m", "x", "y"), "at least 50 m"),
        (lambda each: trimmed(each, 900.0, 900.0), "Nothing would be left"),
        (lambda each: with_start_at(each, 900.0, "c"), "is no round"),
        (lambda each: with_point(each, StagePoint(99_000.0, PointKind.WATER, "w")), "beyond the end"),
        (lambda each: with_cue(each, Cue(10.0, Direction.OUT, " ")), "says something"),
        (lambda each: with_surface(each, Way.CYCLING, 0.0, 9.0, Surface.PATH), "isn't for cycling"),
        (lambda each: with_traffic(each, Way.WALKING, 9.0, 9.0, Traffic.QUIET), "Choose a stretch"),
        (lambda each: without_way(each, Way.WALKING), "needs one of them"),
        (lambda each: renamed(each, ""), "needs a name"),
        (lambda each: joined(trimmed(each, 0.0, 3e3), trimmed(each, 5e3, 8e3)), "that meet"),
    ],
)
def test_edits_without_meaning_are_refused_in_a_sentence(edit: Any, says: str) -> None:
    with pytest.raises(StageEditRefused, match=says):
        edit(plain())


def test_marks_are_put_in_order_and_taken_away_one_at_a_time() -> None:
    well, bench = StagePoint(900.0, PointKind.WATER, "Well"), StagePoint(300.0, PointKind.VIEWPOINT, "Bench")
    both = with_point(with_point(plain(), well), bench)
    assert both.stage.points == (bench, well)
    assert without_point(with_point(both, well), well).stage.points == (bench, well)
    cue = Cue(10.0, Direction.OUT, "Left at the oak")
    assert without_cue(with_cue(both, cue), cue).stage.cues == ()
