"""Maps as squares in one SQLite file, read only."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from lacet.store.tile_file import TileFile, TileFileRefused


def tile_file(path: Path, squares: dict[tuple[int, int, int], bytes], **told: str) -> Path:
    """An MBTiles file with squares by zoom, column and row as the file counts them (from the south)."""
    with sqlite3.connect(path) as file:
        file.execute("CREATE TABLE metadata (name text, value text)")
        file.execute(
            "CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob)"
        )
        file.executemany("INSERT INTO metadata VALUES (?, ?)", told.items())
        file.executemany(
            "INSERT INTO tiles VALUES (?, ?, ?, ?)", [(*key, data) for key, data in squares.items()]
        )
    file.close()
    return path


def test_rows_are_counted_from_the_north(tmp_path: Path) -> None:
    """At zoom 2 there are four rows: the file's row 3 is the northernmost."""
    made = TileFile(
        tile_file(tmp_path / "a.mbtiles", {(2, 1, 3): b"north", (2, 1, 0): b"south"}, format="png")
    )
    assert (made.tile(2, 1, 0), made.tile(2, 1, 3), made.tile(2, 0, 0)) == (b"north", b"south", None)
    made.close()


def test_its_name_rights_and_zooms_are_told(tmp_path: Path) -> None:
    path = tile_file(
        tmp_path / "b.mbtiles",
        {(3, 0, 0): b"x", (9, 0, 0): b"x"},
        name="Hill map",
        attribution="Survey of Verrin",
        format="jpg",
    )
    made = TileFile(path)
    assert (made.name, made.attribution, made.least_zoom, made.most_zoom) == (
        "Hill map", "Survey of Verrin", 3, 9,
    )  # fmt: skip
    made.close()


def test_zooms_beyond_any_map_have_no_square(tmp_path: Path) -> None:
    made = TileFile(tile_file(tmp_path / "c.mbtiles", {(1, 0, 0): b"x"}))
    assert made.tile(99_999, 0, 0) is None
    made.close()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "no MBTiles map"),
        (b"<html>", "no MBTiles map"),
        (b"SQLite format 3\0" + b"\0" * 90, "no MBTiles map"),
    ],
)
def test_what_is_no_map_is_refused(tmp_path: Path, data: bytes, says: str) -> None:
    path = tmp_path / "bad.mbtiles"
    path.write_bytes(data)
    with pytest.raises(TileFileRefused, match="no MBTiles map"):
        TileFile(path)


def test_shapes_emptiness_and_absence_are_refused(tmp_path: Path) -> None:
    with pytest.raises(TileFileRefused, match="shapes, not pictures"):
        TileFile(tile_file(tmp_path / "v.mbtiles", {(1, 0, 0): b"x"}, format="pbf"))
    with pytest.raises(TileFileRefused, match="holds no squares"):
        TileFile(tile_file(tmp_path / "e.mbtiles", {}))
    with pytest.raises(TileFileRefused, match="there is no such file"):
        TileFile(tmp_path / "gone.mbtiles")


def test_the_file_is_never_written(tmp_path: Path) -> None:
    path = tile_file(tmp_path / "d.mbtiles", {(1, 0, 0): b"x"})
    before = path.read_bytes()
    made = TileFile(path)
    made.tile(1, 0, 1)
    made.close()
    assert path.read_bytes() == before
    assert [each.name for each in tmp_path.iterdir()] == ["d.mbtiles"]


def test_zooms_that_are_text_and_names_that_are_no_text_are_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "odd.mbtiles"
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE metadata (name text, value text)")
        file.execute("CREATE TABLE tiles (zoom_level, tile_column integer, tile_row integer, tile_data blob)")
        file.execute("INSERT INTO metadata VALUES ('name', CAST(x'C3FF41' AS TEXT))")
        file.execute("INSERT INTO tiles VALUES ('high', 0, 0, x'00')")
        file.commit()
        with pytest.raises(TileFileRefused, match="holds no squares"):
            TileFile(path)
        file.execute("INSERT INTO tiles VALUES (3, 0, 0, x'00')")
        file.commit()
    odd = TileFile(path)
    assert (odd.least_zoom, odd.most_zoom, odd.name) == (3, 3, "��A")
    odd.close()
