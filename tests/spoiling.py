"""Files of every kind that Lacet reads, spoilt by chance, and the ways they are handed to it.

`spoilt` is the same for the same number everywhere, so a number is all that is needed to see a case again.
"""

import io
import sqlite3
import zipfile
from collections.abc import Callable
from contextlib import closing, redirect_stderr, redirect_stdout, suppress
from pathlib import Path
from random import Random

import numpy as np
import rasterio
from PIL import Image

from lacet.cli import main
from lacet.intake.write import csv_bytes, sheets_of, write_workbook
from lacet.store.tile_file import TileFile
from lacet.tracks.picture_tiles import PictureTiles
from lacet.trip.errors import LacetError
from tests.small_library import small_catalogue, write_small_project

GPX = (
    '<?xml version="1.0" encoding="UTF-8"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">'
    '<wpt lat="44.1" lon="-24.4"><name>Well</name></wpt><trk><name>Climb</name><trkseg>'
    + "".join(
        f'<trkpt lat="{44 + n / 1000}" lon="-24.4"><ele>{n}</ele><time>2027-05-08T08:{n:02}:00Z</time>'
        "</trkpt>"
        for n in range(40)
    )
    + "</trkseg></trk></gpx>"
)
THEME = """name = "Lanes"
[colours]
ink = "#22302f"
[fonts]
text = ["Libertinus Serif"]
folder = "."
"""
# What breaks readers more often than chance does.
_NASTY = (
    b"\0", b"\xff\xfe", b"\xc3", b"\xed\xa0\x80", "\u202e".encode(), b"\x1b[2J", b"9" * 5_000, b"[" * 2_000,
    b"a." * 500, b"-1", b"1e999", b"NaN", b"<!DOCTYPE x>", b"&#0;", b'"', b",", b"\n", b"=1+1", b"2027-02-31",
)  # fmt: skip


def seeds(folder: Path) -> dict[str, bytes]:
    """One sound file of each kind, by name."""
    made: dict[str, bytes] = {"climb.gpx": GPX.encode(), "look.toml": THEME.encode()}
    made |= {f"{each.kind.name}.csv": csv_bytes(each) for each in sheets_of(small_catalogue())}
    made["own.xlsx"] = write_workbook(small_catalogue(), folder / "own.xlsx").read_bytes()
    write_small_project(folder / "small.lacet")
    made["small.lacet"] = (folder / "small.lacet").read_bytes()
    made["hills.mbtiles"] = _tiles(folder / "hills.mbtiles")
    made["heights.tif"] = _raster(folder / "heights.tif", "float32")
    made["map.tif"] = _raster(folder / "map.tif", "uint8")
    for kind in ("jpeg", "png", "webp"):
        file = io.BytesIO()
        Image.new("RGB", (160, 120), "navy").save(file, kind)
        made[f"view.{kind}"] = file.getvalue()
    return made


def spoilt(sound: dict[str, bytes], number: int) -> tuple[str, bytes]:
    """The name and content of a case."""
    random = Random(number)
    name = sorted(sound)[number % len(sound)]
    content = sound[name]
    if name.endswith(".xlsx") and random.random() < 0.7:
        return name, _spoilt_within(content, random)
    return name, _spoilt(content, random)


def hand_over(name: str, content: bytes, project: Path) -> None:
    """Give a file to the program in the way a person would; what isn't refused in a sentence escapes."""
    path = project.parent / f"spoilt-{name}"
    if name.endswith(".csv"):
        path = project.parent / name
    path.write_bytes(content)
    try:
        _way(name, project)(path)
    finally:
        path.unlink(missing_ok=True)


def _way(name: str, project: Path) -> Callable[[Path], None]:
    if name.endswith(".mbtiles") or name == "map.tif":
        return _looked_at
    if name.endswith(".lacet"):
        return _used
    if name.endswith(".toml"):
        return lambda path: _run("pack", project, "1", "A", "--out", project.parent / "out", "--theme", path)
    if name.startswith("view."):
        return lambda path: _run("picture", project, "quay", path, "--alt", "a view")
    return lambda path: _run("import", project, path, "--dry-run")


def _used(path: Path) -> None:
    _run("trips", path)
    _run("stages", path)
    _run("assess", path, "1", "A")


def _looked_at(path: Path) -> None:
    with suppress(LacetError):
        made = PictureTiles(path) if path.suffix == ".tif" else TileFile(path)
        made.tile(3, 2, 1)
        made.close()


def _run(*words: object) -> None:
    out, err = io.TextIOWrapper(io.BytesIO()), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main([str(word) for word in words])
    assert code in (0, 1), code
    assert code == 0 or err.getvalue().startswith("lacet: "), err.getvalue()


def _spoilt(content: bytes, random: Random) -> bytes:
    made = bytearray(content)
    for _ in range(random.choice((1, 1, 2, 4, 16))):
        at, size = random.randrange(len(made) + 1), random.choice((1, 4, 64, 4096))
        match random.randrange(6):
            case 0 if at < len(made):
                made[at] ^= 1 << random.randrange(8)
            case 1:
                made[at : at + size] = b""
            case 2:
                made[at:at] = random.choice(_NASTY)
            case 3:
                made[at : at + size] = random.randbytes(len(made[at : at + size]))
            case 4:
                made[at : at + size] = bytes(len(made[at : at + size]))
            case _:
                other = random.randrange(len(made) + 1)
                made[at:at] = made[other : other + size]
    return bytes(made)


def _spoilt_within(content: bytes, random: Random) -> bytes:
    """A package with one part of it spoilt: chance alone hardly gets through the checksums."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as sound, zipfile.ZipFile(made, "w") as package:
        chosen = random.choice(sound.namelist())
        for name in sound.namelist():
            part = sound.read(name)
            package.writestr(name, _spoilt(part, random) if name == chosen else part)
    return made.getvalue()


def _tiles(path: Path) -> bytes:
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE metadata (name text, value text)")
        file.execute("CREATE TABLE tiles (zoom_level int, tile_column int, tile_row int, tile_data blob)")
        file.execute("INSERT INTO metadata VALUES ('format', 'png'), ('name', 'Hills')")
        file.execute("INSERT INTO tiles VALUES (3, 2, 1, x'89504e47')")
        file.commit()
    return path.read_bytes()


def _raster(path: Path, kind: str) -> bytes:
    place = rasterio.transform.from_bounds(-25, 44, -24, 45, 32, 32)
    cells = np.arange(1024).reshape(1, 32, 32).astype(kind)
    with rasterio.open(
        path, "w", driver="GTiff", count=1, height=32, width=32, dtype=kind, crs="EPSG:4326", transform=place
    ) as made:
        made.write(cells)
    return path.read_bytes()
