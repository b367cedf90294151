"""Sheets as people have them are read as meant, or every problem is told by place, and nothing is taken."""

from datetime import date, time
from decimal import Decimal
from pathlib import Path

import pytest

from lacet.intake.plan import changes
from lacet.intake.sheets import read_sheets
from lacet.tracks.gpx_document import GpxLine
from lacet.trip.library import Lodging, Place, Room, Stage, Tariff
from lacet.trip.money import Money
from lacet.trip.words import Means
from tests.intake.files import gpx, library, line, lodgings, said, sheet, workbook

NEW_INN = "new,Neue Straße,quay,44.01,-24.0,15:00-20:00,+999 555 2"


def only(items: tuple[object, ...]) -> Lodging:
    (item,) = items
    assert isinstance(item, Lodging)
    return item


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_any_delimiter_and_encoding_is_read(tmp_path: Path, delimiter: str, encoding: str) -> None:
    text = f"id,name,place,latitude,longitude,check_in,telephone\n{NEW_INN}\n".replace(",", delimiter)
    read = read_sheets([sheet(tmp_path, "lodgings.csv", text, encoding)], library())
    assert not read.refused
    assert only(read.items).name == "Neue Straße"
    assert only(read.items).latitude_deg == 44.01


def test_decimal_commas_are_read_where_they_divide_no_cells(tmp_path: Path) -> None:
    text = "id;name;place;latitude;longitude\nnew;New;quay;44,126;-24,5\n"
    read = read_sheets([sheet(tmp_path, "lodgings.csv", text)], library())
    assert (only(read.items).latitude_deg, only(read.items).longitude_deg) == (44.126, -24.5)


def test_columns_come_in_any_order_under_headers_in_any_case(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "-24.0,quay,44.0,New,new", header="LONGITUDE,Place,Latitude,Name,ID")
    assert only(read.items).id == "new"


def test_a_title_above_the_header_is_passed_over(tmp_path: Path) -> None:
    text = f"Our houses 2027\n\nid,name,place,latitude,longitude,check_in,telephone\n{NEW_INN}\n"
    read = read_sheets([sheet(tmp_path, "lodgings.csv", text)], library())
    assert only(read.items).id == "new"


def test_every_problem_is_told_by_row_and_column_and_nothing_is_taken(tmp_path: Path) -> None:
    read = lodgings(
        tmp_path,
        NEW_INN,
        "b,,quay,44.0,-24.0,15:00,1",
        "c,C,moon,44.0,-24.0,late,1",
        "new,Again,quay,944.0,-24.0,,",
    )
    assert read.items == ()
    assert read.tracks == {}
    assert said(read) == [
        "lodgings.csv, row 3, column name: it is empty; write text.",
        "lodgings.csv, row 4, column check_in: 'late' isn't clock times such as 15:00-21:00.",
        "lodgings.csv, row 5, column latitude: '944.0' is outside what can be; it should be between -90 and "
        "90 degrees.",
    ]


def test_two_rows_with_one_id_are_told_with_both_places(tmp_path: Path) -> None:
    read = lodgings(tmp_path, NEW_INN, NEW_INN)
    assert said(read) == [
        "lodgings.csv, row 3, column id: 'new' is there already, in lodgings.csv row 2; give one of the two "
        "another id."
    ]


def test_a_place_that_is_nowhere_is_told(tmp_path: Path) -> None:
    read = lodgings(tmp_path, NEW_INN.replace("quay", "moon"))
    assert said(read) == [
        "lodgings.csv, row 2, column place: there is no place 'moon', neither in what is read nor in the "
        "library; correct it or add it."
    ]


def test_sheets_read_together_may_refer_to_each_other(tmp_path: Path) -> None:
    moon = sheet(tmp_path, "places.csv", "id,name,latitude,longitude\nmoon,Moon,44,-24\n")
    houses = sheet(tmp_path, "lodgings.csv", "id,name,place,latitude,longitude\nnew,New,moon,44,-24\n")
    read = read_sheets([houses, moon], library())
    assert {type(item) for item in read.items} == {Place, Lodging}


def test_a_misspelt_column_is_told_with_the_one_meant(tmp_path: Path) -> None:
    read = lodgings(tmp_path, NEW_INN, header="id,name,place,latitude,longitude,chek_in,telephone")
    assert said(read) == [
        "lodgings.csv, row 1, column chek_in: no column of lodgings is called so; is 'check_in' meant? "
        "Rename it or take it out."
    ]


def test_a_cell_too_many_is_told(tmp_path: Path) -> None:
    read = lodgings(tmp_path, NEW_INN + ",stray")
    assert said(read) == [
        "lodgings.csv, row 2: 'stray' stands beyond the last column; is a delimiter too many?"
    ]


def test_a_column_left_out_keeps_what_the_library_holds_and_an_empty_cell_clears_it(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "inn,", header="id,telephone")
    kept = only(read.items)
    assert (kept.telephone, kept.check_in, len(kept.rooms)) == ("", "15:00-21:00", 2)


def test_a_new_item_needs_the_columns_that_an_old_one_may_leave_out(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "other,1", header="id,telephone")
    assert said(read) == [
        "lodgings.csv, row 2: it is new, so it needs name, place, latitude, longitude too; add the column."
    ]


def test_rooms_alone_replace_those_of_the_houses_they_name(tmp_path: Path) -> None:
    path = sheet(tmp_path, "rooms.csv", "lodging,kind,sleeps,count\ninn,twin,2,5\n")
    assert only(read_sheets([path], library()).items).rooms == (Room(kind="twin", sleeps=2, count=5),)


def test_parts_of_something_unknown_are_told(tmp_path: Path) -> None:
    path = sheet(tmp_path, "rooms.csv", "lodging,kind,sleeps,count\nnowhere,twin,2,5\n")
    assert said(read_sheets([path], library())) == [
        "rooms.csv, row 2, column lodging: there is no lodging 'nowhere', neither in the lodgings read nor "
        "in the library."
    ]


def test_a_tariff_comes_with_its_rates_and_must_have_some(tmp_path: Path) -> None:
    head = sheet(
        tmp_path,
        "tariffs.csv",
        "id,name,service,subject,valid_from,valid_to\n"
        "a,Inn,lodging,inn,2027-01-01,2027-12-31\nb,B,lodging,inn,2028-01-01,2028-12-31\n",
    )
    rates = sheet(tmp_path, "rates.csv", "tariff,unit,amount,currency\na,room_night,118.00,EUR\n")
    assert said(read_sheets([head, rates], library())) == [
        "tariffs.csv, row 3, column id: it has no rates; add rows for it in the sheet rates."
    ]
    rates.write_text(rates.read_text() + "b,room_night,120,EUR\n")
    first = read_sheets([head, rates], library()).items[0]
    assert isinstance(first, Tariff)
    assert first.rates[0].amount == Money(Decimal("118.00"), "EUR")


def test_a_tariff_for_a_house_that_isnt_there_is_told(tmp_path: Path) -> None:
    text = "id,name,service,subject,valid_from,valid_to\na,A,lodging,inm,2027-01-01,2027-12-31\n"
    rates = sheet(tmp_path, "rates.csv", "tariff,unit,amount,currency\na,room_night,118.00,EUR\n")
    read = read_sheets([sheet(tmp_path, "tariffs.csv", text), rates], library())
    assert "column subject: there is no lodging 'inm'" in said(read)[0]


def test_the_kind_and_the_ferry_column_make_hubs_where_no_hub_column_does(tmp_path: Path) -> None:
    text = "id,name,kind,latitude,longitude,ferry\na,A,airfield,44,-24,no\nb,B,harbour,44,-24,yes\n"
    flat, harbour = read_sheets([sheet(tmp_path, "places.csv", text)]).items
    assert isinstance(flat, Place)
    assert isinstance(harbour, Place)
    assert (flat.hub, harbour.hub) == ((Means.FLIGHT,), (Means.FERRY,))


def test_a_new_stage_needs_its_track_and_takes_it_from_the_folder(tmp_path: Path) -> None:
    path = sheet(
        tmp_path,
        "stages.csv",
        "id,name,from_place,to_place,ways\nup,Up,quay,hill,both\nlane,L,quay,hill,both\n",
    )
    assert said(read_sheets([path], library())) == [
        "stages.csv, row 2, column track: there is no file 'tracks/up.gpx' beside the sheet; add it."
    ]
    gpx(tmp_path, "tracks/up.gpx", GpxLine("Up", "", "track", line(0, 6_000, east_m=300)))
    read = read_sheets([path], library())
    assert list(read.tracks) == ["up"]
    assert read.track_files == {(tmp_path / "tracks" / "up.gpx").resolve()}


def test_a_track_that_says_what_the_library_holds_is_no_change(tmp_path: Path) -> None:
    path = sheet(tmp_path, "stages.csv", "id,name\nlane,The lane\n")
    gpx(tmp_path, "tracks/lane.gpx", GpxLine("", "", "track", line(0, 6_000)))
    read = read_sheets([path], library())
    assert read.tracks == {}
    assert [change.what for change in changes(read.items, library())] == ["same"]
    gpx(tmp_path, "tracks/lane.gpx", GpxLine("", "", "track", line(0, 6_000, height_m=51.0)))
    moved = read_sheets([path], library())
    (change,) = changes(moved.items, library(), set(moved.tracks))
    assert (change.what, change.says) == ("changed", "another line")


def test_a_workbook_gives_its_dates_times_and_numbers_as_meant(tmp_path: Path) -> None:
    path = workbook(
        tmp_path / "own.xlsx",
        lodgings=[
            ("id", "name", "place", "latitude", "longitude", "check_in", "release_days", "late_key"),
            ("new", "New", "quay", 44.5, -24, time(15, 0), 21.0, True),
        ],
        tariffs=[
            ("id", "name", "service", "subject", "valid_from", "valid_to"),
            ("a", 2027, "lodging", "new", date(2027, 1, 1), "31.12.2027"),
        ],
        rates=[("tariff", "unit", "amount", "currency"), ("a", "room_night", 118.5, "EUR")],
        Notes=[("whatever",)],
    )
    read = read_sheets([path], library())
    assert [problem.stops for problem in read.problems] == [False]
    assert "Notes" in said(read)[0]
    house, tariff = read.items
    assert isinstance(house, Lodging)
    assert isinstance(tariff, Tariff)
    assert (house.check_in, house.release_days, house.late_key) == ("15:00", 21, True)
    assert (tariff.name, tariff.valid_from, tariff.valid_to) == ("2027", date(2027, 1, 1), date(2027, 12, 31))
    assert tariff.rates[0].amount == Money(Decimal("118.5"), "EUR")


def test_a_file_named_after_nothing_is_told(tmp_path: Path) -> None:
    read = read_sheets([sheet(tmp_path, "hotels2027.csv", "id,name\n")])
    assert "name the file after what it holds" in said(read)[0]


def test_changes_name_each_column_with_old_and_new(tmp_path: Path) -> None:
    read = lodgings(tmp_path, "inn,16:00-20:00", "two,", header="id,check_in")
    assert read.refused
    read = lodgings(tmp_path, "inn,16:00-20:00", header="id,check_in")
    (change,) = changes(read.items, library())
    assert (change.kind, change.id, change.what) == ("lodging", "inn", "changed")
    assert change.says == "check_in '15:00-21:00' -> '16:00-20:00'"


def test_a_stage_keeps_its_directions_when_only_its_text_is_read_again(tmp_path: Path) -> None:
    read = read_sheets([sheet(tmp_path, "stages.csv", "id,text\nlane,Another text.\n")], library())
    (stage,) = read.items
    assert isinstance(stage, Stage)
    assert (stage.text, stage.track_id, stage.ways) == (
        "Another text.", "t-lane", library().latest(Stage, "lane").ways,  # type: ignore[union-attr] # it is there
    )  # fmt: skip
