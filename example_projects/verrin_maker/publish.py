"""Writes what ships: raster, tracks and tables. Nothing is decided here."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

import gpxpy.gpx
import numpy as np
import rasterio
from rasterio.transform import from_origin

from character import Character, Stretch
from cues import Cue
from features import Point
from places import Place
from stages import Stage
from terrain import NODATA, Terrain

SERVICES = ("water", "food", "shop", "charging", "taxi", "ferry", "shelter")


def write_raster(path: Path, terrain: Terrain) -> None:
    """Heights in whole metres, sea without data, WGS 84."""
    grid = terrain.grid
    heights = np.where(terrain.sea, NODATA, np.round(terrain.height)).astype(np.int16)
    profile = {
        "driver": "GTiff", "dtype": "int16", "count": 1, "height": grid.rows, "width": grid.columns,
        "crs": "EPSG:4326", "nodata": NODATA, "compress": "deflate", "predictor": 2, "zlevel": 9,
        "transform": from_origin(grid.west, grid.north, grid.lon_step, grid.lat_step),
        "tiled": True, "blockxsize": 256, "blockysize": 256,
    }  # fmt: skip
    with rasterio.open(path, "w", **profile) as raster:
        raster.write(heights, 1)


def write_places(path: Path, terrain: Terrain, places: tuple[Place, ...]) -> None:
    header = ("id", "name", "kind", "latitude", "longitude", "height_m", *SERVICES, "note")
    rows = []
    for place in places:
        lat, lon = terrain.grid.position(np.array(place.row), np.array(place.column))
        height = f"{terrain.height[place.row, place.column]:.0f}"
        served = ["yes" if service in place.serves else "no" for service in SERVICES]
        rows.append(
            (place.id, place.name, place.kind, f"{lat:.6f}", f"{lon:.6f}", height, *served, place.note)
        )
    _write(path, header, rows)


def write_tracks(folder: Path, stages: tuple[Stage, ...]) -> None:
    """One GPX 1.1 file a stage; files of stages that are no more are removed."""
    folder.mkdir(exist_ok=True)
    for stale in {path.stem for path in folder.glob("*.gpx")} - {stage.id for stage in stages}:
        (folder / f"{stale}.gpx").unlink()
    for stage in stages:
        (folder / f"{stage.id}.gpx").write_text(_gpx(stage), encoding="utf-8", newline="\n")


def _gpx(stage: Stage) -> str:
    document = gpxpy.gpx.GPX()
    document.creator = "verrin_maker"
    track = gpxpy.gpx.GPXTrack(name=stage.name)
    segment = gpxpy.gpx.GPXTrackSegment()
    journey = stage.journey
    for lat, lon, height in zip(journey.lat, journey.lon, journey.height_m, strict=True):
        segment.points.append(gpxpy.gpx.GPXTrackPoint(round(lat, 6), round(lon, 6), round(height, 1)))
    track.segments.append(segment)
    document.tracks.append(track)
    text = document.to_xml(version="1.1", prettyprint=False)
    return str(text.replace("<trkpt", "\n<trkpt").replace("</trkseg>", "\n</trkseg>")) + "\n"


def write_stages(path: Path, stages: tuple[Stage, ...], characters: Sequence[Character]) -> None:
    per_way = [f"{what}_{way}" for what in ("grade", "footing", "exposure") for way in ("walking", "cycling")]
    header = (
        "id", "name", "from_place", "to_place", "ways", "length_km", "ascent_m", "descent_m", "highest_m",
        *per_way,
        "surface", "traffic", "signal", "snow_season", "closed_season", "closed_level", "closed_text",
        "highlights", "text",
    )  # fmt: skip
    _write(path, header, [_stage_row(*pair) for pair in zip(stages, characters, strict=True)])


def _stage_row(stage: Stage, character: Character) -> tuple[str, ...]:
    journey, closure = stage.journey, stage.closure
    told = (character.grade, character.footing, character.exposure)
    return (
        stage.id, stage.name, stage.start, stage.end, stage.ways, f"{journey.length_m / 1000:.2f}",
        f"{character.ascent_m:.0f}", f"{character.descent_m:.0f}", f"{journey.height_m.max():.0f}",
        *(words.get(way, "") for words in told for way in ("walking", "cycling")),
        _joined(character.surface), _joined(character.traffic), character.signal, character.snow,
        *((closure.season, closure.level, closure.text) if closure else ("", "", "")),
        "; ".join(stage.highlights), stage.text,
    )  # fmt: skip


def _joined(stretches: tuple[Stretch, ...]) -> str:
    return "; ".join(str(stretch) for stretch in stretches)


def write_points(path: Path, points: Iterable[Point]) -> None:
    rows = [(point.stage, f"{point.km:.2f}", point.kind, point.name, point.note) for point in points]
    _write(path, ("stage", "km", "kind", "name", "note"), rows)


def write_cues(path: Path, cues: Iterable[Cue]) -> None:
    rows = [(cue.stage, cue.direction, str(cue.number), f"{cue.km:.2f}", cue.text) for cue in cues]
    _write(path, ("stage", "direction", "number", "km", "text"), rows)


def _write(path: Path, header: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)
