"""The map in its engine: asks the network for nothing, follows by messages, tells what was pointed at."""

import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import orjson
import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from lacet.service.shown import Selection
from lacet.trip import edits
from lacet.trip.library import Place
from lacet.trip.trip import Alternative
from lacet.trip.words import Reason
from lacet.window.map.page import ADDRESS, asset
from lacet.window.map.panel import MapPanel, colours, shaded
from lacet.window.map.tiles import TileLayer, save_tile_layer, tile_layer
from lacet.window.qt_session import QtSession, Spot
from lacet.window.theme import DARK, LIGHT, Theme
from lacet.wording import Wording
from tests.small_library import walk

TILES = TileLayer("Example", "https://{s}.tiles.example/{z}/{x}/{y}.png", "© Example <b>maps</b>")
HOSTILE = "<script>window.struck = true</script><img src=x onerror='window.struck = true'>"

WATCH = """var broken = [];
document.addEventListener('securitypolicyviolation', (event) => broken.push(event.effectiveDirective));"""
# A picture, a request, a script element and a script on an attribute, all from elsewhere.
STRIKE = """new Image().src = 'https://b.example/1.png';
fetch('https://b.example/').catch(() => null);
document.body.append(Object.assign(document.createElement('script'), {textContent: 'window.struck = true'}));
document.body.insertAdjacentHTML('beforeend', '<i onclick="window.struck = true"></i>');
document.body.lastChild.click();"""

# The engine runs outside this process: its first words take a second.
ENGINE = ("Release of profile", "GPUInfo", "Rhi", "RHI")
pytestmark = pytest.mark.qt_log_ignore(*ENGINE, extend=True)


@pytest.fixture
def panel(session: QtSession, qtbot: QtBot) -> Iterator[MapPanel]:
    _rename_birch(session)
    made = MapPanel(session)
    made.resize(700, 420)
    made.show()
    qtbot.waitUntil(lambda: made.ready, timeout=20_000)
    yield made
    made.close()
    made.view.shut()
    made.deleteLater()


def _rename_birch(session: QtSession) -> None:
    inner = session.session
    birch = inner.catalogue.latest(Place, "birch")
    assert birch is not None
    with inner.project.unit_of_work() as unit:
        unit.library.add_version(replace(birch, version=birch.version + 1, name=HOSTILE))
        unit.commit()
    inner.reload_library()


def answer(panel: MapPanel, qtbot: QtBot, script: str) -> Any:
    """What the page says; messages before it have been worked off by then."""
    said: list[Any] = []
    panel.view.page().runJavaScript(script, said.append)
    qtbot.waitUntil(lambda: bool(said), timeout=10_000)
    return said[0]


def until(panel: MapPanel, qtbot: QtBot, script: str, holds: Callable[[Any], bool]) -> None:
    qtbot.waitUntil(lambda: holds(answer(panel, qtbot, script)), timeout=10_000)


def texts(panel: MapPanel, qtbot: QtBot, selector: str) -> list[str]:
    script = f"JSON.stringify([...document.querySelectorAll('{selector}')].map(each => each.textContent))"
    found: list[str] = orjson.loads(answer(panel, qtbot, script))
    return found


@pytest.mark.qt_log_ignore(*ENGINE, "Refused to", "Fetch API cannot load", extend=True)
def test_the_map_draws_follows_and_tells_without_network_or_reload(
    panel: MapPanel, session: QtSession, qtbot: QtBot, settings: QSettings
) -> None:
    """One page for all of it: that it is never loaded again is part of what is shown."""
    page_loads: list[bool] = []
    panel.view.page().runJavaScript(WATCH)
    panel.view.loadStarted.connect(lambda: page_loads.append(True))

    # Drawn: a leg on foot, a leg by bike, two days that share a stop.
    assert answer(panel, qtbot, "document.querySelectorAll('.way.walking').length") == 1
    assert answer(panel, qtbot, "document.querySelectorAll('.way.cycling').length") == 1
    assert texts(panel, qtbot, ".stop button") == ["1", "2", "3"]
    assert texts(panel, qtbot, ".stop") == ["12", "3"]

    # A name is text, whatever it holds.
    assert HOSTILE in texts(panel, qtbot, ".name")
    assert answer(panel, qtbot, "Boolean(window.struck)") is False

    # Selection, from the sheet and from the page.
    session.select(Selection(day=2))
    assert texts(panel, qtbot, ".stop button.chosen") == ["3"]
    assert answer(panel, qtbot, "document.querySelector('.way.chosen').classList.contains('cycling')")
    with qtbot.waitSignal(session.selected, timeout=10_000) as told:
        panel.view.page().runJavaScript("document.querySelector('.stop button').click()")
    assert told.args == [Selection(day=0)]

    # Another way to spend a day: a sign whose words are text. The bar is in miles where they are spoken.
    other = Alternative(id="", reason=Reason.SHORTER, items=(walk("", backward=True),), says=HOSTILE)
    session.apply(lambda trip: edits.set_alternatives(trip, "v1", "d3", (other,)), "another way")
    until(panel, qtbot, "document.querySelectorAll('.sign').length", lambda count: count == 1)
    assert HOSTILE in answer(panel, qtbot, "document.querySelector('.sign').title")
    assert answer(panel, qtbot, "Boolean(window.struck)") is False
    session.session.speak(Wording("en_US", imperial=True))
    bar = "document.querySelector('.leaflet-control-scale-line').textContent"
    until(panel, qtbot, bar, lambda said: said.endswith(("mi", "ft")))
    session.session.speak(Wording())
    session.undo()

    # The spot under the mouse, both ways.
    session.hovered.emit(Spot(0, 0, 0, 4_500.0))
    assert answer(panel, qtbot, "document.querySelectorAll('.spot').length") == 1
    session.hovered.emit(None)
    assert answer(panel, qtbot, "document.querySelectorAll('.spot').length") == 0
    hover = """(() => {
        const line = document.querySelector('.reach'), box = line.getBoundingClientRect();
        for (const type of ['mouseover', 'mousemove'])
            line.dispatchEvent(new MouseEvent(type, {bubbles: true,
                clientX: box.left + box.width / 2, clientY: box.top + box.height / 2}));
    })()"""
    with qtbot.waitSignal(session.hovered, timeout=10_000) as hovered:
        panel.view.page().runJavaScript(hover)
    (spot,) = hovered.args
    assert (spot.group, spot.leg) == (0, 0)
    assert 0 < spot.along_m < 30_100

    # What is tried out is drawn, and gone again.
    session.session.start_preview(lambda trip: edits.remove_item(trip, "v1", "i1"))
    assert answer(panel, qtbot, "document.querySelectorAll('.way').length") == 1
    session.session.stop_preview()
    assert answer(panel, qtbot, "document.querySelectorAll('.way').length") == 2

    assert page_loads == []
    gate = panel.view.gate
    assert gate.refused == []
    assert len(gate.asked) >= 6
    assert all(address.startswith(ADDRESS) for address in gate.asked)

    # And if something did ask for more, the page's policy refuses it before the gate has to.
    assert answer(panel, qtbot, "broken.length") == 0, "the page itself keeps to its policy"
    panel.view.page().runJavaScript(STRIKE)
    until(panel, qtbot, "broken.length", lambda count: count == 4)
    told = orjson.loads(answer(panel, qtbot, "JSON.stringify(broken)"))
    assert sorted(told) == ["connect-src", "img-src", "script-src-attr", "script-src-elem"]
    assert answer(panel, qtbot, "Boolean(window.struck)") is False
    assert not any("b.example" in each for each in (*gate.refused, *gate.asked))

    # A tile layer the office switches on is asked for, with its attribution as text.
    save_tile_layer(TILES)
    panel.read_settings()
    qtbot.waitUntil(lambda: panel.ready, timeout=10_000)
    assert TILES.attribution in texts(panel, qtbot, ".words")
    qtbot.waitUntil(lambda: any("tiles.example/" in each and TILES.allows(each) for each in gate.asked))
    assert page_loads == [True], "only another layer loads it again"

    # What the policy lets through, the gate still looks at.
    panel.view.page().runJavaScript("new Image().src = 'https://a.tiles.example/else.png'")
    qtbot.waitUntil(lambda: "https://a.tiles.example/else.png" in gate.refused, timeout=10_000)


def test_the_panel_is_made_without_the_engine(session: QtSession, qtbot: QtBot) -> None:
    made = MapPanel(session)
    qtbot.addWidget(made)
    assert made.view is None
    session.select(Selection(day=1))
    session.hovered.emit(Spot(0, 0, 0, 1.0))
    assert made.accessibleName() == "Map of the trip"


def test_without_an_engine_a_sentence_says_so(
    session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "lacet.window.map.web", None)
    made = MapPanel(session)
    qtbot.addWidget(made)
    made._load_engine(b"")
    assert made.sentence.text().startswith("The map can't be shown")
    assert made.view is None


def test_a_missing_raster_is_told(tmp_path: Path) -> None:
    found, words = shaded([tmp_path / "island.tif"], "light")
    assert found == ()
    assert words.startswith("island.tif: there is no such file beside the project")


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_every_colour_of_the_style_sheet_comes_with_the_theme(theme: Theme) -> None:
    wanted = set(re.findall(r"var\(--([\w-]+)", asset("map.css").decode()))
    assert wanted - set(colours(theme, "Sans")) == set()


@pytest.fixture
def settings() -> Iterator[QSettings]:
    kept = QSettings()
    kept.clear()
    yield kept
    kept.clear()


def test_tiles_are_off_until_they_are_switched_on(settings: QSettings) -> None:
    assert tile_layer() is None
    save_tile_layer(TILES)
    assert tile_layer() == TILES
    save_tile_layer(None)
    assert tile_layer() is None


@pytest.mark.parametrize(
    "layer",
    [
        TileLayer("n", "https://a.example/{z}/{x}.png", "©"),
        TileLayer("n", "file:///a/{z}/{x}/{y}.png", "©"),
        TileLayer("n", "https://a.example/{z}/{x}/{y}.png", " "),
    ],
)
def test_a_layer_without_template_or_attribution_is_not_used(layer: TileLayer, settings: QSettings) -> None:
    save_tile_layer(layer)
    assert tile_layer() is None


@pytest.mark.parametrize(
    ("address", "expected"),
    [
        ("https://a.tiles.example/3/2/1.png", True),
        ("https://a.tiles.example/3/2/1.png?who=me", False),
        ("https://a.tilesXexample/3/2/1.png", False),
        ("https://a.tiles.example.evil/3/2/1.png", False),
        ("http://a.tiles.example/3/2/1.png", False),
    ],
)
def test_only_tiles_of_the_layer_are_let_through(address: str, expected: bool) -> None:
    assert TILES.allows(address) is expected
