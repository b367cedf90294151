"""A base map from this disk: chosen, served through the map's own scheme, told where it can't be used."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from lacet.trip.errors import LacetError
from lacet.window.dialogs.settings import MapPage
from lacet.window.map.base_map import address_of, asked_for, base_map, base_map_path, set_base_map
from lacet.window.map.page import ADDRESS
from lacet.window.map.panel import MapPanel
from lacet.window.map.web import Library
from lacet.window.qt_session import QtSession
from lacet.window.settings import keep_settings, settings_now
from tests.store.test_tile_file import tile_file


@pytest.fixture
def hills(tmp_path: Path) -> Iterator[Path]:
    """A map with one square; no map is chosen afterwards."""
    yield tile_file(
        tmp_path / "hills.mbtiles", {(3, 2, 1): b"picture"}, format="png", attribution="Survey of Verrin"
    )
    set_base_map(None)


def test_a_chosen_map_stays_chosen_and_a_bad_one_leaves_it(hills: Path, tmp_path: Path) -> None:
    assert base_map() == (None, "")
    set_base_map(hills)
    (tmp_path / "bad.mbtiles").write_text("nothing")
    with pytest.raises(LacetError, match="no MBTiles map"):
        set_base_map(tmp_path / "bad.mbtiles")
    assert base_map_path() == hills.resolve()
    found, _ = base_map()
    assert found is not None
    found.close()
    set_base_map(None)
    assert base_map_path() is None


def test_a_map_that_went_away_is_told_and_the_rest_goes_on(hills: Path) -> None:
    set_base_map(hills)
    hills.unlink()
    found, says = base_map()
    assert found is None
    assert says.startswith("hills.mbtiles: there is no such file")


def test_the_scheme_serves_squares_and_nothing_else(hills: Path, qtbot: QtBot) -> None:
    set_base_map(hills)
    base, _ = base_map()
    assert base is not None
    owner = QObject()
    library = Library(hills.parent, owner)
    name = address_of(base).removeprefix(ADDRESS).format(z=3, x=2, y=6)
    with pytest.raises(FileNotFoundError):
        library.content(name)
    library.base = base
    assert library.content(name) == b"picture"
    for other in (name.replace("-6.", "-7."), "base-../../x-1-1-1.png", "hills.mbtiles"):
        with pytest.raises(FileNotFoundError):
            library.content(other)
    base.close()


def test_names_of_squares_are_read_strictly() -> None:
    assert asked_for("base-0123456789ab-3-2-6.png") == (3, 2, 6)
    for name in ("base-0123456789ab-3-2--6.png", "base-xyz-3-2-6.png", "base-0123456789ab-3-2-6.png/..", ""):
        assert asked_for(name) is None


def test_the_map_asks_for_the_file_and_names_whose_it_is(
    hills: Path, session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel = MapPanel(session)
    qtbot.addWidget(panel)
    told: list[object] = []
    monkeypatch.setattr(panel, "_tell", lambda message, content: told.append(content))
    set_base_map(hills)
    panel.read_settings()
    assert isinstance(told[-1], dict)
    assert told[-1]["tiles"] == {"url": address_of(panel.base), "most": 3}  # type: ignore[arg-type]  # it is there
    assert "Survey of Verrin" in told[-1]["words"]
    set_base_map(None)
    panel.read_settings()
    assert isinstance(told[-1], dict)
    assert told[-1]["tiles"] is None


def test_the_settings_take_a_map_file_and_refuse_a_bad_one(
    hills: Path, session: QtSession, qtbot: QtBot
) -> None:
    before = settings_now(session)
    page = MapPage(before.layer, before.layer_on, before.map_file)
    qtbot.addWidget(page)
    page.file.setText(str(hills.with_name("gone.mbtiles")))
    with pytest.raises(ValueError, match="no such file"):
        page.file_answer()
    page.file.setText(str(hills))
    assert keep_settings(session, before, replace(before, map_file=page.file_answer()))
    assert base_map_path() == hills.resolve()
    kept = settings_now(session)
    keep_settings(session, kept, replace(kept, map_file=""))
    assert base_map_path() is None
