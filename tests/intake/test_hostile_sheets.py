"""Sheets that are broken, enormous or meant to harm: a sentence each, no crash, nothing half in."""

import os
import random
import tracemalloc
import zipfile
from pathlib import Path

import pytest

from lacet.intake.sheets import read_sheets
from lacet.intake.table import MOST_ROWS
from lacet.intake.table_csv import csv_table
from lacet.intake.table_xlsx import MOST_UNPACKED_BYTES
from tests.intake.files import library, lodgings, rezipped, said, sheet, workbook

HEADER = ("id", "name", "place", "latitude", "longitude")
ROW = ("new", "New", "quay", 44.0, -24.0)


def book(folder: Path, *rows: tuple[object, ...]) -> Path:
    return workbook(folder / "own.xlsx", lodgings=[HEADER, *rows])


def test_a_formula_is_told_and_not_computed(tmp_path: Path) -> None:
    read = read_sheets([book(tmp_path, ("new", '=HYPERLINK("http://x")', "quay", 44.0, "=-20-4"))], library())
    assert said(read) == [
        'own.xlsx, sheet lodgings, row 2, column name: it holds a formula (=HYPERLINK("http://x")); '
        "paste what it comes to as a value.",
        "own.xlsx, sheet lodgings, row 2, column longitude: it holds a formula (=-20-4); "
        "paste what it comes to as a value.",
    ]


def test_a_formula_in_a_csv_file_is_told_too(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "new,=cmd|'/c calc'!A0,quay,44,-24,,")
    assert "column name: it holds a formula" in said(read)[0]


def test_merged_cells_are_told_below_the_header_and_passed_over_above_it(tmp_path: Path) -> None:
    from openpyxl import load_workbook

    path = workbook(
        tmp_path / "own.xlsx", lodgings=[("Our houses",), HEADER, ROW, ("b", "B", "quay", 44.0, -24.0)]
    )
    opened = load_workbook(path)
    opened["lodgings"].merge_cells("A1:E1")
    opened.save(path)
    assert said(read_sheets([path], library())) == []
    opened["lodgings"].merge_cells("C3:C4")
    opened.save(path)
    told = said(read_sheets([path], library()))
    assert "own.xlsx, sheet lodgings, row 3: the cells C3:C4 are merged" in told[0]


def test_a_hundred_thousand_rows_are_read(tmp_path: Path) -> None:
    rows = "".join(f"p{number},P,44,-24\n" for number in range(100_000))
    read = read_sheets([sheet(tmp_path, "places.csv", f"id,name,latitude,longitude\n{rows}")])
    assert len(read.items) == 100_000


def test_more_rows_than_any_library_has_are_refused(tmp_path: Path) -> None:
    rows = "p,P,944,-24\n" * 600
    told = said(read_sheets([sheet(tmp_path, "places.csv", f"id,name,latitude,longitude\n{rows}")]))
    assert len(told) < 600
    assert "mend these first" in told[-1]
    empty = "\n" * (MOST_ROWS + 5) + "x,X,44,-24\n"
    told = said(read_sheets([sheet(tmp_path, "places.csv", f"id,name,latitude,longitude\n{empty}")]))
    assert "more than 200,000 rows" in told[0]


def test_a_zip_bomb_is_weighed_and_not_unpacked(tmp_path: Path) -> None:
    path = book(tmp_path, ROW)
    with (
        zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as package,
        package.open("xl/media/bomb.bin", "w", force_zip64=True) as part,
    ):
        for _ in range(MOST_UNPACKED_BYTES // 10_000_000 + 1):
            part.write(bytes(10_000_000))
    assert path.stat().st_size < 2_000_000
    assert "would unpack to more than any library holds" in said(read_sheets([path], library()))[0]


def test_a_document_type_is_refused_before_any_entity_grows(tmp_path: Path) -> None:
    path = rezipped(
        book(tmp_path, ROW), workbook_xml=b'<!DOCTYPE x [<!ENTITY a "aa">]><workbook>&a;</workbook>'
    )
    assert "declares a document type" in said(read_sheets([path], library()))[0]


def test_macros_are_left_alone(tmp_path: Path) -> None:
    path = rezipped(book(tmp_path, ROW), vbaProject_bin=b"\xd0\xcf\x11\xe0 not looked at")
    renamed = path.rename(path.with_suffix(".xlsm"))
    read = read_sheets([renamed], library())
    assert not read.refused
    assert len(read.items) == 1


@pytest.mark.parametrize("name", ["old.xls", "own.ods", "own.numbers"])
def test_other_spreadsheets_are_told_how_to_save(tmp_path: Path, name: str) -> None:
    told = said(read_sheets([sheet(tmp_path, name, "anything")]))
    assert told == [f"{name}: {name} is of a kind that isn't read; save it as .xlsx or .csv."]


@pytest.mark.parametrize(
    "data", [b"", b"PK\x03\x04 cut off", b"\xd0\xcf\x11\xe0 protected", b"<html>log in</html>"]
)
def test_what_is_no_workbook_is_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "lodgings.xlsx"
    path.write_bytes(data)
    assert "isn't a workbook" in said(read_sheets([path]))[0]


def test_binary_junk_named_csv_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "places.csv"
    path.write_bytes(bytes(range(256)) * 20)
    assert "isn't a CSV file" in said(read_sheets([path]))[0]


def test_a_quotation_mark_left_open_is_told(tmp_path: Path) -> None:
    read = lodgings(tmp_path, 'new,"Never closed,quay,44,-24,,')
    assert "Is a quotation mark missing there?" in said(read)[0]
    assert read.items == ()


def test_an_empty_sheet_says_what_its_header_must_name(tmp_path: Path) -> None:
    told = said(read_sheets([sheet(tmp_path, "places.csv", "")]))
    assert told == [
        "places.csv: no header was found; one of the first rows must name id, name, latitude, longitude."
    ]


@pytest.mark.parametrize("track", ["../outside.gpx", "/etc/passwd", "..\\..\\outside.gpx"])
def test_a_stage_cant_fetch_a_track_from_outside_its_folder(tmp_path: Path, track: str) -> None:
    inside = tmp_path / "own"
    inside.mkdir()
    sheet(tmp_path, "outside.gpx", "<gpx/>")
    text = f"id,name,from_place,to_place,ways,track\nup,Up,quay,hill,both,{track}\n"
    told = said(read_sheets([sheet(inside, "stages.csv", text)], library()))
    assert "there is no file" in told[0]


@pytest.mark.parametrize("seed", range(40))
def test_a_damaged_workbook_never_crashes(tmp_path: Path, seed: int) -> None:
    """Bytes of the package, or of one part of it, are changed at random."""
    path = book(tmp_path, *(("n" + str(number), *ROW[1:]) for number in range(20)))
    chance = random.Random(seed)
    if seed % 2:
        with zipfile.ZipFile(path) as package:
            name = chance.choice(package.namelist())
            data = bytearray(package.read(name))
        _spoil(data, chance)
        rezipped(path, **{name.rsplit("/", 1)[-1].replace(".", "_"): bytes(data)})
    else:
        data = bytearray(path.read_bytes())
        _spoil(data, chance)
        path.write_bytes(bytes(data))
    read = read_sheets([path], library())
    assert read.refused == (read.items == ()) or not read.problems
    assert all(len(str(problem)) < 600 for problem in read.problems)


def _spoil(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.randint(1, 12)):
        data[chance.randrange(len(data))] = chance.randrange(256)


def test_millions_of_empty_formats_are_refused_before_the_reader_makes_them(tmp_path: Path) -> None:
    path = rezipped(book(tmp_path, ROW), styles_xml=b"<styleSheet>" + b"<xf/>" * 400_000)
    assert "holds more formats than any sheet needs" in said(read_sheets([path], library()))[0]


def test_rows_of_a_workbook_are_counted_before_the_first_is_read(tmp_path: Path) -> None:
    path = rezipped(book(tmp_path, ROW), sheet1_xml=b"<sheetData>" + b"<row/>" * (MOST_ROWS + 1))
    told = said(read_sheets([path], library()))
    assert told == [f"own.xlsx: own.xlsx has more than {MOST_ROWS:,} rows; split it."]


def test_a_csv_file_with_nul_signs_in_utf_16_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "stages.csv"
    path.write_bytes("id,name,track\ns,S,a\0b.gpx\n".encode("utf-16"))
    assert "holds signs that no text has" in said(read_sheets([path], library()))[0]


def test_a_pipe_called_a_sheet_is_refused_without_waiting(tmp_path: Path) -> None:
    for name in ("places.csv", "own.xlsx"):
        os.mkfifo(tmp_path / name)
        assert "a pipe or a device, not a file" in said(read_sheets([tmp_path / name], library()))[0]


def test_signs_that_hide_or_turn_text_are_left_out_of_names_and_refused_in_ids(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "new,Quay\u202e\x1b[2J house,quay,44,-24,,")
    assert [item.name for item in read.items] == ["Quay[2J house"]
    assert "can't be an id" in said(lodgings(tmp_path, "ne\u202ew,Quay,quay,44,-24,,"))[0]


def test_the_delimiter_of_a_long_file_is_found_by_its_head(tmp_path: Path) -> None:
    """Parting a whole file into lines took fifteen times its size."""
    path = sheet(tmp_path, "places.csv", "id;name;latitude;longitude\n" + "p;P;44;-24\n" * 100_000)
    tracemalloc.start()
    try:
        csv_table(path)
        assert tracemalloc.get_traced_memory()[1] < 5 * path.stat().st_size
    finally:
        tracemalloc.stop()
