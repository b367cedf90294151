"""A page that was made here, shown as its readers will see it: from its own file, nothing from outside."""

from pathlib import Path

import shiboken6
from PySide6.QtCore import QCoreApplication, QObject, QUrl
from PySide6.QtWebEngineCore import (
    QWebEnginePage,
    QWebEngineProfile,
    QWebEngineSettings,
    QWebEngineUrlRequestInfo,
    QWebEngineUrlRequestInterceptor,
)
from PySide6.QtWebEngineWidgets import QWebEngineView
from PySide6.QtWidgets import QWidget


class OneFileOnly(QWebEngineUrlRequestInterceptor):
    """Lets the shown file through and what stands in it; counts what else was asked for."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.address = ""
        self.refused: list[str] = []

    # --- Qt overrides

    def interceptRequest(self, info: QWebEngineUrlRequestInfo) -> None:
        url = info.requestUrl()
        if url.scheme() != "data" and url.toString() != self.address:
            self.refused.append(url.toString())
            info.block(True)


class PageView(QWebEngineView):
    """Shows one file of ours; a link to elsewhere leads nowhere."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        # Without a name nothing of it is kept. It must go after the page; the view came first.
        profile = QWebEngineProfile(parent)
        self.gate = OneFileOnly(profile)
        profile.setUrlRequestInterceptor(self.gate)
        page = self._own = QWebEnginePage(profile, self)
        for setting in (
            QWebEngineSettings.WebAttribute.LocalStorageEnabled,
            QWebEngineSettings.WebAttribute.PluginsEnabled,
            QWebEngineSettings.WebAttribute.JavascriptCanOpenWindows,
            QWebEngineSettings.WebAttribute.LocalContentCanAccessRemoteUrls,
        ):
            page.settings().setAttribute(setting, False)
        self.setPage(page)
        application = QCoreApplication.instance()
        if application is not None:
            application.aboutToQuit.connect(self.shut)

    def show_file(self, path: Path) -> None:
        """Show a page from a file."""
        url = QUrl.fromLocalFile(str(path))
        self.gate.address = url.toString()
        self.load(url)

    def shut(self) -> None:
        """Let go of the page while its profile is still there; Python may end them in any order."""
        # Not asked for by `page()`, which would make another one.
        if shiboken6.isValid(self._own):
            shiboken6.delete(self._own)
