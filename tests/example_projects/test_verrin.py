"""The island of Verrin is sound as geography: what ships is measured here with other tools than made it."""

from __future__ import annotations

import csv
import itertools
import re
from collections import defaultdict
from functools import cache
from pathlib import Path

import gpxpy
import numpy as np
import pytest
import rasterio
from numpy.typing import NDArray

VERRIN = Path(__file__).parents[2] / "example_projects" / "verrin"
Floats = NDArray[np.float64]
METRES_PER_DEGREE = 111_195.0

# Steepest gradient over 100 m by the least way on a stage; the maker builds roads to 9 %, lanes to 11.5 %,
# tracks to 14.5 % and paths to 35 %. A cliff road would show here at once.
STEEPEST_BY_WHEELS, STEEPEST_ON_FOOT = 0.15, 0.36
DEEPEST_CUT = (
    40.0  # from the cell a point lies in, cells being 66 m wide; without it a cutting could hide a cliff
)
LARGEST_RASTER, LARGEST_TRACKS = 3_000_000, 6_000_000


def table(name: str) -> list[dict[str, str]]:
    with (VERRIN / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


STAGES = table("stages")
PLACES = {row["id"]: row for row in table("places")}
IDS = [row["id"] for row in STAGES]


@cache
def track(stage: str) -> tuple[Floats, Floats, Floats, Floats]:
    """Latitude, longitude, height [m] and distance [m] of each point."""
    document = gpxpy.parse((VERRIN / "tracks" / f"{stage}.gpx").read_text(encoding="utf-8"))
    points = document.tracks[0].segments[0].points
    lat, lon, height = np.array(
        [[p.latitude, p.longitude, p.elevation or np.nan] for p in points], dtype=float
    ).T
    steps = np.hypot(np.diff(lat), np.diff(lon) * np.cos(np.radians(lat[1:]))) * METRES_PER_DEGREE
    return lat, lon, height, np.concatenate([[0.0], np.cumsum(steps)])


@cache
def raster() -> tuple[Floats, Floats, float, float, float, float]:
    """Heights with nan in the sea, and what turns degrees into cells."""
    with rasterio.open(VERRIN / "island.tif") as source:
        heights = source.read(1).astype(float)
        heights[heights == source.nodata] = np.nan
        grid = source.transform
        return heights, np.array(source.shape, dtype=float), grid.c, grid.f, grid.a, grid.e


def ground_m(lat: Floats, lon: Floats) -> Floats:
    """Height of the cell each position lies in; nan is sea."""
    heights, _, west, north, east_step, south_step = raster()
    return np.asarray(
        heights[((lat - north) / south_step).astype(int), ((lon - west) / east_step).astype(int)]
    )


def metres_between(place: dict[str, str], lat: float, lon: float) -> float:
    north = lat - float(place["latitude"])
    east = (lon - float(place["longitude"])) * np.cos(np.radians(lat))
    return float(np.hypot(north, east)) * METRES_PER_DEGREE


def gradients_over_100_m(stage: str) -> Floats:
    _, _, height, along = track(stage)
    starts = np.arange(0.0, max(along[-1] - 100.0, 1.0), 20.0)
    return np.asarray(np.abs(np.interp(starts + 100, along, height) - np.interp(starts, along, height)) / 100)


def stretches(text: str) -> list[tuple[float, float, str]]:
    found = [re.fullmatch(r"([\d.]+)-([\d.]+) (\w+)", piece) for piece in text.split("; ")]
    return [(float(m[1]), float(m[2]), m[3]) for m in found if m]


def test_files_are_small_enough_to_ship() -> None:
    assert (VERRIN / "island.tif").stat().st_size < LARGEST_RASTER
    assert sum(path.stat().st_size for path in (VERRIN / "tracks").glob("*.gpx")) < LARGEST_TRACKS


def test_each_stage_has_one_track_and_each_track_a_stage() -> None:
    assert len(set(IDS)) == len(IDS) >= 60
    assert {path.stem for path in (VERRIN / "tracks").glob("*.gpx")} == set(IDS)


def test_the_island_lies_in_the_open_atlantic_with_sea_all_round() -> None:
    heights, _, west, north, east_step, south_step = raster()
    rows, columns = heights.shape
    assert west + columns / 2 * east_step == pytest.approx(-24.6, abs=0.01)
    assert north + rows / 2 * south_step == pytest.approx(44.2, abs=0.01)
    edges = np.concatenate([heights[0], heights[-1], heights[:, 0], heights[:, -1]])
    assert np.isnan(edges).all()
    assert 900 <= np.nanmax(heights) <= 1100


def test_valleys_drain_to_the_sea_save_for_the_crater_and_small_hollows() -> None:
    heights, _, *_ = raster()
    padded = np.pad(np.nan_to_num(heights, nan=-1.0), 1, constant_values=-1.0)
    rows, columns = heights.shape
    neighbours = [
        padded[1 + down : 1 + down + rows, 1 + right : 1 + right + columns]
        for down in (-1, 0, 1)
        for right in (-1, 0, 1)
        if down or right
    ]
    pits = (heights < np.min(neighbours, axis=0)) & ~np.isnan(heights)
    assert pits.sum() / np.sum(~np.isnan(heights)) < 0.01


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_stages_begin_and_end_at_their_places(row: dict[str, str]) -> None:
    lat, lon, _, _ = track(row["id"])
    assert metres_between(PLACES[row["from_place"]], lat[0], lon[0]) < 50
    assert metres_between(PLACES[row["to_place"]], lat[-1], lon[-1]) < 50


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_points_are_close_and_no_leap_joins_two_ways(row: dict[str, str]) -> None:
    along = track(row["id"])[3]
    assert np.diff(along).max() < 40
    assert 14 < np.median(np.diff(along)) < 26


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_nothing_crosses_the_sea_and_heights_are_the_ground_s(row: dict[str, str]) -> None:
    lat, lon, height, _ = track(row["id"])
    ground = ground_m(lat, lon)
    assert not np.isnan(ground).any()
    assert np.median(np.abs(height - ground)) < 8
    assert np.abs(height - ground).max() < DEEPEST_CUT


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_no_lane_is_steeper_than_its_limit_and_no_road_climbs_a_cliff(row: dict[str, str]) -> None:
    limit = STEEPEST_ON_FOOT if row["ways"] == "walking" else STEEPEST_BY_WHEELS
    assert gradients_over_100_m(row["id"]).max() <= limit


def test_roads_on_walking_stages_keep_the_wheels_limit_too() -> None:
    checked = 0
    for row in STAGES:
        gradients = gradients_over_100_m(row["id"])
        for start_km, end_km, surface in stretches(row["surface"]):
            if surface == "asphalt" and end_km - start_km > 1:
                inside = gradients[int(start_km * 50) + 15 : int(end_km * 50) - 20]
                assert inside.max() <= STEEPEST_BY_WHEELS
                checked += 1
    assert checked > 50


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_stretches_cover_the_stage_without_gap(row: dict[str, str]) -> None:
    for column in ("surface", "traffic"):
        told = stretches(row[column])
        assert told[0][0] == 0
        assert told[-1][1] == pytest.approx(float(row["length_km"]), abs=0.06)
        assert all(before[1] == after[0] for before, after in itertools.pairwise(told))


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_the_told_length_is_the_track_s(row: dict[str, str]) -> None:
    assert float(row["length_km"]) == pytest.approx(track(row["id"])[3][-1] / 1000, rel=0.002)


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_texts_can_be_printed_as_they_are(row: dict[str, str]) -> None:
    assert 40 <= len(row["text"].split()) <= 80
    assert row["text"].endswith(".")
    assert row["highlights"]


@pytest.mark.parametrize("row", STAGES, ids=IDS)
def test_words_of_a_stage_belong_to_the_trade(row: dict[str, str]) -> None:
    ways = ("walking", "cycling") if row["ways"] == "both" else (row["ways"],)
    for way in ("walking", "cycling"):
        told = [row[f"{what}_{way}"] for what in ("grade", "footing", "exposure")]
        assert all(told) == (way in ways)
        assert any(told) == (way in ways)
    assert bool(row["closed_season"]) == bool(row["closed_level"]) == bool(row["closed_text"])
    assert row["closed_level"] in ("", "advice", "authority")
    assert row["signal"] in ("good", "patchy", "none")


def test_no_bike_is_sent_on_a_path() -> None:
    for row in STAGES:
        if row["ways"] != "walking":
            assert {surface for _, _, surface in stretches(row["surface"])} <= {
                "asphalt",
                "compacted_gravel",
                "loose_gravel",
            }


@pytest.mark.parametrize("way", ["walking", "cycling"])
def test_lodging_places_are_joined_by_stages(way: str) -> None:
    beside: dict[str, set[str]] = defaultdict(set)
    for row in STAGES:
        if row["ways"] in (way, "both"):
            beside[row["from_place"]].add(row["to_place"])
            beside[row["to_place"]].add(row["from_place"])
    reached, waiting = {"port-verrin"}, ["port-verrin"]
    while waiting:
        new = beside[waiting.pop()] - reached
        reached |= new
        waiting += new
    assert set(PLACES) - {"sallow-beacon"} <= reached


def test_several_ridges_and_lanes_join_the_same_two_places() -> None:
    by_ends: dict[frozenset[str], set[str]] = defaultdict(set)
    for row in STAGES:
        by_ends[frozenset((row["from_place"], row["to_place"]))].add(row["ways"])
    parted = [ends for ends, ways in by_ends.items() if len(ends) == 2 and {"walking", "cycling"} <= ways]
    assert len(parted) >= 5


@pytest.mark.parametrize("name", ["points", "cues"])
def test_points_and_cues_lie_on_their_stage(name: str) -> None:
    length_km = {row["id"]: float(row["length_km"]) for row in STAGES}
    for row in table(name):
        assert 0 <= float(row["km"]) <= length_km[row["stage"]] + 0.01


def test_each_stage_is_told_out_and_back_in_numbered_cues() -> None:
    told: dict[tuple[str, str], list[dict[str, str]]] = defaultdict(list)
    for row in table("cues"):
        told[row["stage"], row["direction"]].append(row)
    assert set(told) == {(stage, direction) for stage in IDS for direction in ("out", "back")}
    for (_, direction), rows in told.items():
        assert [int(row["number"]) for row in rows] == list(range(1, len(rows) + 1))
        kilometres = [float(row["km"]) for row in rows]
        assert kilometres == sorted(kilometres, reverse=direction == "back")


def test_left_is_left_and_right_is_right() -> None:
    checked = 0
    for row in table("cues"):
        side = re.search(r" (?:keep|turn|turn sharp|round to the) (left|right)\b", row["text"])
        if not side:
            continue
        lat, lon, _, along = track(row["stage"])
        at = float(row["km"]) * 1000
        look = np.array([at - 45, at, at + 45])[:: 1 if row["direction"] == "out" else -1]
        north, east = np.interp(look, along, lat), np.interp(look, along, lon) * np.cos(np.radians(lat[0]))
        cross = (east[1] - east[0]) * (north[2] - north[1]) - (north[1] - north[0]) * (east[2] - east[1])
        assert ("left" if cross > 0 else "right") == side[1], row
        checked += 1
    assert checked > 300


def test_place_notes_are_sentences_and_names_are_single() -> None:
    assert len({row["name"] for row in PLACES.values()}) == len(PLACES) >= 25
    for row in PLACES.values():
        assert row["note"].count(".") >= 2
        assert metres_between(row, float(row["latitude"]), float(row["longitude"])) == 0
        ground = ground_m(np.array([float(row["latitude"])]), np.array([float(row["longitude"])]))
        assert float(row["height_m"]) == pytest.approx(float(ground[0]), abs=0.6)


def test_the_proposed_trips_name_stages_and_places_that_exist() -> None:
    named = set(re.findall(r"`([a-z0-9-]+)`", (VERRIN / "TRIPS.md").read_text(encoding="utf-8")))
    assert named
    assert named <= set(IDS) | set(PLACES)
