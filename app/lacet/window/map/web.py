"""The browser engine behind the map: a scheme of our own, and nothing else let through.

Importing this module loads the engine (a tenth of a second), so the panel does it late. The scheme has to be
registered before the first profile is made; `view_on` sees to it.
"""

from collections.abc import Callable
from pathlib import Path

import shiboken6
from PySide6.QtCore import QBuffer, QByteArray, QCoreApplication, QFile, QIODevice, QObject, Signal, Slot
from PySide6.QtWebChannel import QWebChannel
from PySide6.QtWebEngineCore import (
    QWebEnginePage,
    QWebEngineProfile,
    QWebEngineSettings,
    QWebEngineUrlRequestInfo,
    QWebEngineUrlRequestInterceptor,
    QWebEngineUrlRequestJob,
    QWebEngineUrlScheme,
    QWebEngineUrlSchemeHandler,
)
from PySide6.QtWebEngineWidgets import QWebEngineView
from PySide6.QtWidgets import QWidget

from lacet.window.map.base_map import BaseMap, asked_for
from lacet.window.map.page import ADDRESS, CHANNEL_SCRIPT, asset, content_type
from lacet.window.map.policy import guarded
from lacet.window.map.tiles import TileLayer

SCHEME = b"lacet"


def register_scheme() -> None:
    """Make the scheme known to the engine; again is harmless."""
    if QWebEngineUrlScheme.schemeByName(QByteArray(SCHEME)).name().isEmpty():
        scheme = QWebEngineUrlScheme(QByteArray(SCHEME))
        scheme.setSyntax(QWebEngineUrlScheme.Syntax.Host)
        scheme.setFlags(QWebEngineUrlScheme.Flag.SecureScheme | QWebEngineUrlScheme.Flag.CorsEnabled)
        QWebEngineUrlScheme.registerScheme(scheme)


class Bridge(QObject):
    """What the page tells: that it is ready, what was clicked, where the mouse is on which leg."""

    ready = Signal()
    day_picked = Signal(int)
    leg_hovered = Signal(int, int, int, float, float)
    leg_left = Signal()

    @Slot()
    def tell_ready(self) -> None:
        self.ready.emit()

    @Slot(int)
    def pick_day(self, day: int) -> None:
        self.day_picked.emit(day)

    @Slot(int, int, int, float, float)
    def hover_leg(self, day: int, group: int, leg: int, latitude: float, longitude: float) -> None:
        self.leg_hovered.emit(day, group, leg, latitude, longitude)

    @Slot()
    def leave_leg(self) -> None:
        self.leg_left.emit()


class Gate(QWebEngineUrlRequestInterceptor):
    """Lets requests through to our own scheme, and to tiles the office switched on; keeps count of both."""

    def __init__(self, allows: Callable[[str], bool], parent: QObject) -> None:
        super().__init__(parent)
        self._allows = allows
        self.asked: list[str] = []
        self.refused: list[str] = []

    # --- Qt overrides

    def interceptRequest(self, info: QWebEngineUrlRequestInfo) -> None:
        address = info.requestUrl().toString()
        if address.startswith(ADDRESS) or self._allows(address):
            self.asked.append(address)
        else:
            self.refused.append(address)
            info.block(True)


class Library(QWebEngineUrlSchemeHandler):
    """Serves the page, its scripts, pictures of the ground and squares of the base map; nothing else."""

    def __init__(self, pictures: Path, parent: QObject) -> None:
        super().__init__(parent)
        self.made: dict[str, bytes] = {}
        self._pictures = pictures
        self.base: BaseMap | None = None

    def content(self, name: str) -> bytes:
        """A file of the map by its bare name.

        Raises
        ------
        OSError
            When there is none.
        """
        if name in self.made:
            return self.made[name]
        if name == CHANNEL_SCRIPT:
            script = QFile(":/qtwebchannel/qwebchannel.js")
            script.open(QIODevice.OpenModeFlag.ReadOnly)
            return bytes(script.readAll().data())
        if "\0" in name:
            raise FileNotFoundError("no file has such a name")
        if name.startswith("relief-") and name.endswith(".png") and "/" not in name and "\\" not in name:
            return (self._pictures / name).read_bytes()
        square = asked_for(name)
        if square is not None:
            return self._square(*square)
        return asset(name)

    def _square(self, zoom: int, column: int, row: int) -> bytes:
        found = None if self.base is None else self.base.tile(zoom, column, row)
        if found is None:
            raise FileNotFoundError(f"no square {zoom}/{column}/{row}")
        return found

    # --- Qt overrides

    def requestStarted(self, job: QWebEngineUrlRequestJob) -> None:
        name = job.requestUrl().path().lstrip("/")
        try:
            content = self.content(name)
        except OSError:
            job.fail(QWebEngineUrlRequestJob.Error.UrlNotFound)
            return
        # The job outlives this call and takes the buffer with it when it ends.
        buffer = QBuffer(job)
        buffer.setData(content)
        job.reply(QByteArray(content_type(name).encode()), buffer)


class MapView(QWebEngineView):
    """A view on the map's page."""

    def __init__(self, page: bytes, pictures: Path, allows: Callable[[str], bool], parent: QWidget) -> None:
        super().__init__(parent)
        register_scheme()
        self.bridge = Bridge(self)
        # The engine would open a dropped file in the map's place; the window brings it in instead.
        self.setAcceptDrops(False)
        # The profile must go after the page: children go in the order they came, and the view came first.
        profile = QWebEngineProfile(parent)
        self.gate = Gate(allows, profile)
        self._page = page
        self.library = Library(pictures, profile)
        profile.setUrlRequestInterceptor(self.gate)
        profile.installUrlSchemeHandler(QByteArray(SCHEME), self.library)
        made = QWebEnginePage(profile, self)
        for setting in (
            QWebEngineSettings.WebAttribute.LocalStorageEnabled,
            QWebEngineSettings.WebAttribute.PluginsEnabled,
            QWebEngineSettings.WebAttribute.JavascriptCanOpenWindows,
        ):
            made.settings().setAttribute(setting, False)
        made.settings().setAttribute(QWebEngineSettings.WebAttribute.ShowScrollBars, False)
        channel = QWebChannel(made)
        channel.registerObject("lacet", self.bridge)
        made.setWebChannel(channel)
        self.setPage(made)
        self._made = made
        application = QCoreApplication.instance()
        if application is not None:
            application.aboutToQuit.connect(self.shut)

    def shut(self) -> None:
        """Let go of the page while its profile is still there; Python may end them in any order."""
        # Not `self.page()`: a view without one makes another.
        if shiboken6.isValid(self._made):
            shiboken6.delete(self._made)

    def load_page(self, tiles: TileLayer | None) -> None:
        """Load the page, with a policy for these tiles; the bridge says when it is ready for messages."""
        self.library.made["index.html"] = guarded(self._page, tiles)
        self.load(f"{ADDRESS}index.html")
