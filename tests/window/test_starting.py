"""A start opens what was named or what was left; a library without a trip says what comes first."""

import importlib
import warnings
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from lacet.store import open_project
from lacet.trip.edits import copy_variant
from lacet.trip.errors import LacetError
from lacet.trip.region import Region
from lacet.window import app, projects
from lacet.window.app import first_window, open_window
from lacet.window.dialogs.region_form import RegionDialog
from lacet.window.main_window import MainWindow
from lacet.window.projects import last, new_library, remember
from lacet.window.starting import project_named
from run import wants_window
from tests.small_library import write_small_project

pytestmark = pytest.mark.qt_log_ignore("GPUInfo", "Rhi", "RHI", extend=True)


@pytest.fixture(scope="module", autouse=True)
def _map_page_is_there() -> None:
    """The map's thread imports what it is made with; its warnings belong to no test here."""
    with warnings.catch_warnings(action="ignore"):
        importlib.import_module("folium")


@pytest.fixture
def small(tmp_path: Path) -> Path:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    return path


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    path = tmp_path / "empty.lacet"
    open_project(path, create=True).close()
    return path


@pytest.mark.parametrize(
    ("words", "window"),
    [([], True), (["hills.lacet"], True), (["demo"], True), (["demo", "here"], False), (["--help"], False),
     (["trips", "hills.lacet"], False)],
)  # fmt: skip
def test_a_project_alone_is_opened_and_other_words_are_commands(words: list[str], window: bool) -> None:
    assert wants_window(words) is window


def opened(path: Path, qtbot: QtBot) -> MainWindow:
    window = open_window(path)
    qtbot.addWidget(window)
    return window


def said(window: MainWindow) -> str:
    return " ".join(each.text() for each in window.first_steps.findChildren(QLabel))


def test_the_project_named_goes_before_the_last_and_the_demo_is_the_very_first(small: Path) -> None:
    assert project_named([]) is None
    remember(small)
    assert project_named([]) == small
    assert project_named(["hills.lacet"]) == Path("hills.lacet")
    assert project_named(["demo"]) is None


def test_a_project_opens_where_it_was_left(small: Path, qtbot: QtBot) -> None:
    window = opened(small, qtbot)
    session = window.session.session
    assert session.apply(lambda trip: copy_variant(trip, "v1"), "copy")
    assert session.opened is not None
    other = session.opened.trip.variants[-1].id
    session.show_variant(other)
    session.select(type(session.selection)(day=2))
    window.close()
    again = opened(small, qtbot).session
    assert again.opened is not None
    assert (again.opened.variant_id, again.selection.day) == (other, 2)


def test_a_last_project_that_is_gone_is_said_and_another_offered(
    small: Path, tmp_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone.lacet"
    remember(gone)
    assert last() == gone
    told: list[str] = []

    def instead(refusal: LacetError) -> tuple[bool, Path | None]:
        told.append(str(refusal))
        return True, small

    monkeypatch.setattr(app, "ask_instead", instead)
    window = first_window(project_named([]))
    assert window is not None
    qtbot.addWidget(window)
    assert len(told) == 1
    assert "gone.lacet" in told[0]
    assert not gone.exists()
    window.close()


def test_nobody_has_to_choose_another(tmp_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(app, "ask_instead", lambda _: (False, None))
    assert first_window(tmp_path / "gone.lacet") is None


def test_an_empty_library_says_what_comes_first_and_hints_at_nothing(empty: Path, qtbot: QtBot) -> None:
    window = opened(empty, qtbot)
    assert window.main.currentWidget() is window.first_steps
    assert window.hints.isHidden()
    assert "A new library" in said(window)
    assert "time zone" in said(window)
    shelf = [entry.text for entry in window.shelf.model.entries]
    assert shelf == ["No stages yet (Ctrl+B)"]


def test_stages_without_a_trip_stand_on_the_shelf(small: Path, qtbot: QtBot) -> None:
    with open_project(small) as project, project.unit_of_work() as unit:
        unit.trips.remove("trip", unit.trips.revision("trip"))
        unit.commit()
    window = opened(small, qtbot)
    assert window.main.currentWidget() is window.first_steps
    assert "No trip yet" in said(window)
    assert "2 stages and 3 lodgings" in said(window)
    assert "Alder → Birch" in [entry.text for entry in window.shelf.model.entries]


def test_the_sheet_takes_its_place_with_the_first_trip(small: Path, qtbot: QtBot) -> None:
    window = opened(small, qtbot)
    assert window.main.currentWidget() is window.sheet
    assert not window.hints.isHidden()


def test_a_new_library_keeps_the_region_that_was_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "hills.lacet"
    monkeypatch.setattr(projects, "ask_new", lambda _: path)
    monkeypatch.setattr(RegionDialog, "ask", lambda _=None: Region(zone="Atlantic/Azores"))
    assert new_library(None) == path
    with open_project(path) as project:
        assert project.catalogue().region == Region(zone="Atlantic/Azores")
