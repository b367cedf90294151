"""What a cell may hold and how it is read, sort by sort."""

from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import pytest

from lacet.intake.cells import OPENING, SEASON, Amount, Clocks, Day, Number, Word, YesNo, as_text, decimal_of
from lacet.intake.pairs import SURFACES, Assists, Depots, Diets, Weekdays
from lacet.intake.problems import CellRefused
from lacet.trip.library import Assist, Depot, DietAnswer, SurfaceStretch
from lacet.trip.words import Answer, BikeKind, Surface


@pytest.mark.parametrize(
    ("text", "comma", "number"),
    [
        ("12.5", False, "12.5"),
        ("12,5", False, "12.5"),
        ("1234", False, "1234"),
        ("1 234,50", False, "1234.50"),
        ("1\u00a0234", False, "1234"),
        ("1'234.5", False, "1234.5"),
        ("1.234,5", False, "1234.5"),
        ("1,234.5", False, "1234.5"),
        ("1,234", True, "1.234"),
        ("-24.427083", False, "-24.427083"),
        ("\u22123", False, "-3"),
        ("1e3", False, "1000"),
    ],
)
def test_a_number_is_read_as_its_writer_meant_it(text: str, comma: bool, number: str) -> None:
    assert decimal_of(text, comma, "a number") == Decimal(number)


@pytest.mark.parametrize("text", ["7 km", "12 EUR", "about 5", "", "1,2,3", "nan", "inf", "1e999999", "0x10"])
def test_what_is_no_number_is_refused_and_shown(text: str) -> None:
    with pytest.raises(CellRefused, match="figure alone"):
        decimal_of(text, False, "a number of metres")


def test_a_comma_that_may_group_or_divide_is_asked_about_with_both_readings() -> None:
    with pytest.raises(CellRefused, match=r"'1,234' may be read in two ways; write 1234 or 1\.234\."):
        decimal_of("1,234", False, "a number")


@pytest.mark.parametrize(
    ("cell", "text", "value"),
    [
        (YesNo(), "Yes", True),
        (YesNo(), "n", False),
        (Word(BikeKind), "E-Bike", BikeKind.E_BIKE),
        (Word(BikeKind), "e bike", BikeKind.E_BIKE),
        (Day(), "2027-05-08", date(2027, 5, 8)),
        (Day(), "8.5.2027", date(2027, 5, 8)),
        (Day(), "25/12/2027", date(2027, 12, 25)),
        (Day(), "12/25/2027", date(2027, 12, 25)),
        (Clocks(), "7:30", "07:30"),
        (Clocks(), "15:00 – 21:00", "15:00-21:00"),
        (Number("cm", 60, 230), "154", 154.0),
        (Number("km", scale=1000), "5,35", 5350.0),
        (Amount(), "12.50", Decimal("12.50")),
        (Weekdays(), "Fr-Mo", (4, 5, 6, 0)),
        (Weekdays(), "mo, We", (0, 2)),
        (Diets(), "Vegan: on request", (DietAnswer("vegan", Answer.ON_REQUEST),)),
        (Diets(), "milk: no; eggs: yes", (DietAnswer("milk", Answer.NO), DietAnswer("eggs", Answer.YES))),
        (Assists(), "very low 57 %", (Assist("very low", 0.57),)),
        (Depots(), "quay 6; hill 2", (Depot("quay", 6), Depot("hill", 2))),
        (SURFACES, "0-1.2 asphalt", (SurfaceStretch(0.0, 1200.0, Surface.ASPHALT),)),
    ],
)  # fmt: skip
def test_a_cell_is_read(cell: Any, text: str, value: Any) -> None:
    assert cell.read(text) == value


@pytest.mark.parametrize(
    ("cell", "text", "says"),
    [
        (YesNo(), "perhaps", "leave it empty if nobody knows"),
        (Word(BikeKind), "racer", "isn't one of touring, e_bike"),
        (Day(), "5/6/2027", "two ways"),
        (Day(), "31.2.2027", "There is no day"),
        (Day(), "next May", "write it as 2027-05-08"),
        (Clocks(), "3 pm", "clock times such as 15:00-21:00"),
        (Clocks(), "25:00", "clock times"),
        (Number("cm", 60, 230), "1.54", "between 60 and 230 cm"),
        (Number("guests", 1, 9, whole=True), "2.5", "isn't a whole number"),
        (Number("degrees", -90, 90), "4412656", "between -90 and 90 degrees"),
        (Amount(), "-5", "below zero"),
        (Weekdays(), "Monday", "weekdays such as"),
        (Diets(), "vegan", "a need and an answer"),
        (Diets(), "wheat: yes", "'wheat' isn't a need"),
        (Assists(), "60 %", "name and percent"),
        (Depots(), "6 quay", "a place's id and a number"),
        (SURFACES, "1.2-0.4 path", "ends before it begins"),
        (SURFACES, "0-1 mud", "asphalt"),
        (SEASON, "in summer", "season"),
        (SEASON, "13-01..14-01", "season"),
        (OPENING, "Mo-Fr from six", "opening hours"),
    ],
)
def test_what_cant_be_read_is_told_with_what_to_write(cell: Any, text: str, says: str) -> None:
    with pytest.raises(CellRefused, match=says):
        cell.read(text)


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (None, ""),
        (True, "yes"),
        (6.0, "6"),
        (6.25, "6.25"),
        (datetime(2027, 5, 8), "2027-05-08"),
        (time(7, 30), "07:30"),
        ("  a ", "a"),
    ],
)
def test_whatever_a_workbook_gives_becomes_the_text_a_person_would_type(raw: object, text: str) -> None:
    assert as_text(raw) == text


@pytest.mark.parametrize("metres", [0.0, 0.1, 1e-12, 1234.5678901234567, 1e21, 5.3651927586239864e-33])
def test_kilometres_in_a_cell_lose_nothing_of_the_metres(metres: float) -> None:
    kilometres = Number("km", scale=1000)
    assert kilometres.read(kilometres.write(metres)) == metres
