"""The map under the sheet: tells the page what the session shows, and the session what the page was asked.

The page is made once; every change is a message to it. The engine is loaded shortly after the window is seen,
since the first picture does not need it.
"""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import fields, replace
from pathlib import Path
from threading import Lock, Thread
from typing import Any

import orjson
from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QStackedLayout

from lacet.service.map_scene import along_at, bounds_of, ground_places, scene, spot_position
from lacet.service.shown import Opened, Selection, Shown
from lacet.tracks.relief import TINTS, Relief, relief
from lacet.trip.errors import LacetError
from lacet.trip.library import Place
from lacet.window.map.base_map import address_of, base_map
from lacet.window.map.page import page
from lacet.window.map.tiles import TileLayer, tile_layer
from lacet.window.parts import label
from lacet.window.qt_session import QtSession, Spot
from lacet.window.theme import Theme, current_theme

START_AFTER_MS = 100
NO_ENGINE = (
    "The map can't be shown: the browser engine of Qt did not start ({reason}). All else works without it."
)


class MapPanel(QFrame):
    """Where the trip runs."""

    _errand_done = Signal(object, object)

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
        self.theme = current_theme()
        self.view: Any = None
        self.ready = False
        self._ended = False
        self._begun = False
        self.tiles = tile_layer()
        self.base, self._base_words = base_map()
        self.setAccessibleName("Map of the trip")
        self.setMinimumSize(200, 120)
        self._sent_lines: set[str] = set()
        self._sent_places: object = None
        self._fitted: tuple[str, str] | None = None
        self._relief: tuple[Relief, ...] = ()
        self._words = ""
        self._one_errand = Lock()
        self._errand_done.connect(lambda then, done: then(done))
        self._layout = QStackedLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self.sentence = label("", "Map")
        self.sentence.setWordWrap(True)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._layout.addWidget(self.sentence)
        self._start = QTimer(self, singleShot=True, interval=START_AFTER_MS)
        self._start.timeout.connect(self._prepare)
        session.changed.connect(self._on_changed)
        session.previewed.connect(self._on_previewed)
        session.selected.connect(self._on_selected)
        session.hovered.connect(self._on_hovered)
        session.library_changed.connect(self._on_library_changed)

    @property
    def shown(self) -> Shown | None:
        """What is drawn: what is tried out while something is, else what is kept."""
        return self.session.session.preview or self.session.opened

    def read_settings(self) -> None:
        """Take base map and tile layer as the settings have them now."""
        before = self._tiles_shown
        self.tiles = tile_layer()
        if self.base is not None:
            self.base.close()
        self.base, self._base_words = base_map()
        if self.view is not None and self._tiles_shown != before:
            # The page's policy names the servers of its tiles, so another layer needs the page anew.
            self.ready = False
            self.view.load_page(self._tiles_shown)
        else:
            self.send_ground()

    @property
    def _tiles_shown(self) -> TileLayer | None:
        """The layer on the network; none where there is a base map on this disk."""
        return None if self.base is not None else self.tiles

    # --- the page

    def _prepare(self) -> None:
        self._run(lambda: page(cache_folder()), self._load_engine)

    def shut(self) -> None:
        """Let go of the page; for the end of the window."""
        self._ended, self.ready = True, False
        if self.view is not None:
            self.view.shut()

    def _load_engine(self, made: bytes) -> None:
        """Load the engine now, start it a turn later: together they would stop the window for a moment."""
        try:
            import lacet.window.map.web  # noqa: F401 - loaded here, used a turn later
        except ImportError as error:
            self.sentence.setText(NO_ENGINE.format(reason=error))
        else:
            QTimer.singleShot(0, self, lambda: self._open_view(made))

    def _open_view(self, made: bytes) -> None:
        from lacet.window.map.web import MapView

        if self._ended:
            return
        self.view = MapView(made, cache_folder(), self._allows, self)
        self.view.setAccessibleName("Map of the trip")
        self.view.page().setBackgroundColor(self.theme.color("sea"))
        self.view.page().renderProcessTerminated.connect(self._on_engine_ended)
        bridge = self.view.bridge
        bridge.ready.connect(self._on_ready)
        bridge.day_picked.connect(self._on_day_picked)
        bridge.leg_hovered.connect(self._on_leg_hovered)
        bridge.leg_left.connect(lambda: self.session.hovered.emit(None))
        self._layout.addWidget(self.view)
        self._layout.setCurrentWidget(self.view)
        self.view.load_page(self._tiles_shown)

    def _allows(self, address: str) -> bool:
        return self._tiles_shown is not None and self._tiles_shown.allows(address)

    def _on_engine_ended(self) -> None:
        self.ready = False
        self.sentence.setText(NO_ENGINE.format(reason="it ended by itself"))
        self._layout.setCurrentWidget(self.sentence)

    def _on_ready(self) -> None:
        self.ready = True
        self._sent_lines.clear()
        self._fitted = None
        self._dress()
        self.send_ground()
        self.draw()
        self._shade()

    # --- messages

    def _tell(self, message: str, content: object) -> None:
        if self.ready:
            self.view.page().runJavaScript(f"lacet.{message}({orjson.dumps(content).decode()})")

    def _dress(self) -> None:
        self._tell("dress", colours(self.theme, self.font().family()))

    def send_ground(self) -> None:
        """Send relief, tiles and the names of all places."""
        if self.view is not None:
            self.view.library.base = self.base
        if self.ready:
            self._sent_places = self.session.session.catalogue.located(Place)
        layer = self._tiles_shown
        named = self.base.attribution if self.base is not None else layer.attribution if layer else ""
        places = ground_places(self.session.session.catalogue)
        self._tell(
            "ground",
            {
                "relief": self._relief,
                "tiles": self._tiles(),
                "places": places,
                "bounds": bounds_of(place.at for place in places),
                "words": " · ".join(filter(None, (self._words, self._base_words, named))),
            },
        )

    def _tiles(self) -> dict[str, object] | None:
        """The base map on this disk before the one on the network."""
        if self.base is not None:
            return {"url": address_of(self.base), "most": self.base.most_zoom}
        layer = self._tiles_shown
        return None if layer is None else {"url": layer.url}

    def draw(self) -> None:
        """Send what is shown; lines the page has already are only named."""
        shown = self.shown
        if shown is None or not self.ready:
            return
        drawn = scene(shown, self.session.session.catalogue, self.session.selection.day)
        fresh = {key: line for key, line in drawn.lines.items() if key not in self._sent_lines}
        self._sent_lines.update(fresh)
        fitted = (shown.trip.id, shown.variant_id)
        self._tell(
            "draw",
            {
                "scene": replace(drawn, lines=fresh),
                "fit": fitted != self._fitted,
                "imperial": self.session.wording.imperial,
            },
        )
        self._fitted = fitted

    def _shade(self) -> None:
        """Have the ground shaded, which may take some seconds the first time."""
        inner, tint = self.session.session, TINTS[self.theme.name]
        files = inner.project.raster_files(inner.catalogue.region.rasters)
        self._run(lambda: shaded(files, tint.name), self._on_shaded)

    def _on_shaded(self, found: tuple[tuple[Relief, ...], str]) -> None:
        if found != (self._relief, self._words):
            self._relief, self._words = found
            self.send_ground()

    def _run(self, work: Callable[[], object], then: Callable[[Any], None]) -> None:
        """Do work off the window's thread and hand what it makes back to it."""

        def errand() -> None:
            with self._one_errand:
                done = work()
            # The window may have been closed meanwhile.
            with suppress(RuntimeError):
                self._errand_done.emit(then, done)

        # Not a pool's thread: PROJ crashes when one is used for a second errand.
        Thread(target=errand, name="map").start()

    # --- from the session

    def _on_changed(self, _: Opened) -> None:
        self.draw()

    def _on_previewed(self, _: Shown | None) -> None:
        self.draw()

    def _on_selected(self, selection: Selection) -> None:
        self._tell("select", selection.day)

    def _on_hovered(self, spot: Spot | None) -> None:
        shown = self.shown
        at = None
        if spot is not None and shown is not None:
            catalogue = self.session.session.catalogue
            at = spot_position(shown, catalogue, spot.day, spot.group, spot.leg, spot.along_m)
        self._tell("mark", at)

    def _on_library_changed(self, _: object) -> None:
        self._sent_lines.clear()
        if self._sent_places is not self.session.session.catalogue.located(Place):
            self.send_ground()
        if self.ready:
            self._shade()

    # --- from the page

    def _on_day_picked(self, day: int) -> None:
        self.session.select(Selection(day=day))

    def _on_leg_hovered(self, day: int, group: int, leg: int, latitude: float, longitude: float) -> None:
        shown = self.shown
        if shown is None:
            return
        along_m = along_at(shown, self.session.session.catalogue, day, group, leg, (latitude, longitude))
        if along_m is not None:
            self.session.hovered.emit(Spot(day=day, group=group, leg=leg, along_m=along_m))

    # --- Qt overrides

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._begun:
            self._begun = True
            self._start.start()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        theme = current_theme()
        if event.type() is QEvent.Type.PaletteChange and theme is not self.theme:
            self.theme = theme
            if self.ready:
                self.view.page().setBackgroundColor(theme.color("sea"))
                self._dress()
                self._shade()


def colours(theme: Theme, font: str) -> dict[str, str]:
    """The page's colours and font, by the names its style sheet uses."""
    dark = theme.name == "dark"
    return {
        **{field.name.replace("_", "-"): getattr(theme, field.name) for field in fields(theme)},
        "faded": "0.72" if dark else "0.55",
        "casing": "#11171a" if dark else "#ffffff",
        "halo": "#11171a" if dark else "#ffffff",
        "font": f'"{font}", sans-serif',
    }


def shaded(files: Sequence[Path], theme_name: str) -> tuple[tuple[Relief, ...], str]:
    """The pictures of the ground, and a sentence about what is missing of it."""
    made: list[Relief] = []
    words = ""
    for file in files:
        try:
            made.append(relief(file, TINTS[theme_name], cache_folder()))
        except (LacetError, OSError) as refusal:
            words = str(refusal)
    return tuple(made), words


def cache_folder() -> Path:
    """Where pictures and the page are kept between starts."""
    from platformdirs import user_cache_path

    return user_cache_path("lacet", appauthor=False) / "map"
