"""The template says what goes where, and what is filled into it is read as meant."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from lacet.intake.columns import SheetKind
from lacet.intake.documentation import columns_as_markdown
from lacet.intake.kinds import KINDS
from lacet.intake.sheets import read_sheets
from lacet.intake.write import write_csv_folder, write_template
from lacet.trip.library import Lodging
from tests.intake.files import library, said


def test_an_untouched_template_takes_in_nothing_and_complains_of_nothing(tmp_path: Path) -> None:
    read = read_sheets([write_template(tmp_path / "own.xlsx")], library())
    assert said(read) == []
    assert read.items == ()


def test_every_kind_has_a_sheet_whose_headers_say_what_belongs_below(tmp_path: Path) -> None:
    book = load_workbook(write_template(tmp_path / "own.xlsx"))
    assert book.sheetnames == ["about", *(kind.name for kind in KINDS)]
    for kind in KINDS:
        heads = book[kind.name][1]
        assert [cell.value for cell in heads] == [column.name for column in kind.written]
        for cell, column in zip(heads, kind.written, strict=True):
            assert column.cell.expects in cell.comment.text


def test_words_and_yes_or_no_are_offered_as_drop_downs(tmp_path: Path) -> None:
    book = load_workbook(write_template(tmp_path / "own.xlsx"))
    offered = {str(rule.sqref): rule.formula1 for rule in book["bikes"].data_validations.dataValidation}
    assert offered["C2:C2000"] == '"touring,e_bike,child,tandem,trailer"'
    assert '"yes,no"' in offered.values()


def test_what_is_typed_into_the_template_is_read(tmp_path: Path) -> None:
    path = write_template(tmp_path / "own.xlsx")
    book = load_workbook(path)
    page = book["lodgings"]
    heads = {cell.value: cell.column for cell in page[1]}
    for name, value in {
        "id": "new",
        "name": "New",
        "place": "quay",
        "latitude": 44,
        "longitude": -24.5,
    }.items():
        page.cell(2, heads[name], value)
    book.save(path)
    (item,) = read_sheets([path], library()).items
    assert isinstance(item, Lodging)
    assert (item.id, item.longitude_deg) == ("new", -24.5)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_column_is_documented(kind: SheetKind) -> None:
    section = columns_as_markdown().split(f"### {kind.name}\n")[1].split("###")[0]
    assert all(f"| `{column.name}` |" in section for column in kind.columns)


def test_the_contributor_documentation_is_what_the_description_says() -> None:
    kept = (Path(__file__).parents[2] / "resources" / "sheets.md").read_text(encoding="utf-8")
    assert columns_as_markdown() in kept, "run: python -m lacet.intake.documentation > resources/sheets.md"


def test_a_text_that_looks_like_a_formula_is_guarded_in_csv_files_and_comes_back(tmp_path: Path) -> None:
    house = Lodging(id="x", name="=1+1", place="quay", latitude_deg=44, longitude_deg=-24, telephone="+999 1")
    write_csv_folder(library(house), tmp_path)
    text = (tmp_path / "lodgings.csv").read_text(encoding="utf-8-sig")
    assert "'=1+1" in text
    assert ",+999 1" in text
    read = read_sheets([tmp_path / "lodgings.csv"], library())
    assert house in read.items
