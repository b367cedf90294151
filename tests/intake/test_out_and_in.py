"""Whatever a library holds, written as sheets and read in again, changes nothing."""

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacet.demo import demo_items, demo_tracks
from lacet.intake import table, write
from lacet.intake.columns import SheetKind
from lacet.intake.kinds import BY_NAME, ITEMS, PARTS
from lacet.intake.plan import changes
from lacet.intake.sheets import read_sheets
from lacet.intake.write import NotGivenOut, write_csv_folder, write_workbook
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.library import Place, Stage, Tariff
from tests.intake.sheet_strategies import PLACE_IDS, fields_of, parts_of

PLACES = tuple(Place(id=each, name=each, latitude_deg=44.0, longitude_deg=-24.0) for each in PLACE_IDS)


class Tracks(dict[str, Track]):
    """Tracks by id."""


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    return catalogue_of(demo_items(), Tracks(demo_tracks()))


def differences(catalogue: Catalogue, paths: list[Path]) -> list[str]:
    read = read_sheets(paths, catalogue)
    assert [str(problem) for problem in read.problems] == []
    planned = changes(read.items, catalogue, set(read.tracks))
    held = sum(len(by_id) for by_id in catalogue.items.values())
    assert len(planned) == held, "every item is read again"
    return [f"{each.kind} {each.id} {each.what}: {each.says}" for each in planned if each.what != "same"]


def test_the_whole_demo_goes_out_and_in_as_csv_and_tracks(verrin: Catalogue, tmp_path: Path) -> None:
    write_csv_folder(verrin, tmp_path)
    assert differences(verrin, sorted(tmp_path.glob("*.csv"))) == []


def test_a_sheet_too_long_to_come_back_goes_out_in_parts(
    verrin: Catalogue, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(write, "MOST_ROWS", 20)
    monkeypatch.setattr(table, "MOST_ROWS", 20)
    write_csv_folder(verrin, tmp_path)
    assert (tmp_path / "cues 3.csv").exists()
    assert differences(verrin, sorted(tmp_path.glob("*.csv"))) == []
    with pytest.raises(NotGivenOut, match="too many for a workbook; export into a folder"):
        write_workbook(verrin, tmp_path / "verrin.xlsx")
    monkeypatch.setattr(write, "MOST_ROWS", 200_000)
    write_csv_folder(verrin, tmp_path)
    assert not list(tmp_path.glob("* *.csv")), "parts of before would bring back what is gone"


def test_the_whole_demo_goes_out_and_in_as_a_workbook(verrin: Catalogue, tmp_path: Path) -> None:
    assert differences(verrin, [write_workbook(verrin, tmp_path / "verrin.xlsx")]) == []


def test_the_demo_read_from_what_was_written_is_the_demo(verrin: Catalogue, tmp_path: Path) -> None:
    write_csv_folder(verrin, tmp_path)
    read = read_sheets(sorted(tmp_path.glob("*.csv")))
    before = {(type(item), item.id): item for item in demo_items()}
    for item in read.items:
        wanted = before.pop((type(item), item.id))
        assert item == (replace(wanted, track_id="") if isinstance(wanted, Stage) else wanted)
    assert not before
    assert set(read.tracks) == set(demo_tracks())


@pytest.mark.parametrize("kind", ITEMS, ids=lambda kind: kind.name)
@settings(max_examples=25)
@given(data=st.data())
def test_any_item_goes_out_and_in(kind: SheetKind, data: st.DataObject) -> None:
    made = item_of(kind, data)
    catalogue = catalogue_of((*PLACES, made))
    with tempfile.TemporaryDirectory() as folder:
        write_csv_folder(catalogue, Path(folder))
        assert differences(catalogue, sorted(Path(folder).glob("*.csv"))) == []


@pytest.mark.parametrize("kind", ITEMS, ids=lambda kind: kind.name)
@settings(max_examples=6)
@given(data=st.data())
def test_any_item_goes_out_and_in_as_a_workbook(kind: SheetKind, data: st.DataObject) -> None:
    catalogue = catalogue_of((*PLACES, item_of(kind, data)))
    with tempfile.TemporaryDirectory() as folder:
        assert differences(catalogue, [write_workbook(catalogue, Path(folder) / "all.xlsx")]) == []


def item_of(kind: SheetKind, data: st.DataObject) -> Any:
    """A random item with random parts; tariffs lie at no subject that must be known."""
    fields = data.draw(fields_of(kind))
    for part in (part for part in PARTS if part.parent == kind.name):
        least = 1 if part.name == "rates" else 0
        drawn = data.draw(st.lists(parts_of(BY_NAME[part.name]), min_size=least, max_size=2))
        fields[part.parent_field] = tuple(drawn)
    if kind.makes is Stage:
        fields["track_id"] = "line"
        if not fields.get("closed_season"):
            fields["further_closures"] = ()
    if kind.makes is Tariff:
        fields["service"] = BY_NAME["tariffs"].columns[2].cell.read("entry")
    fields["id"] = f"made-{fields['id']}"
    return kind.makes(**kind.take(fields))
