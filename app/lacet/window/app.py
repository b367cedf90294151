"""Opens the window: on the project named, else on the last one; on the demo at the very first start.

The first picture comes before what is heavy: project, checks and panels are imported when it stands.
"""

import gc
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QApplication, QProgressDialog

from lacet.trip.errors import LacetError
from lacet.window.faults import catch_faults
from lacet.window.opening import Opening
from lacet.window.projects import remember
from lacet.window.starting import ask_instead, go_back, project_named
from lacet.window.theme import apply_theme, current_theme

if TYPE_CHECKING:
    from lacet.window.main_window import MainWindow


def main(argv: Sequence[str] | None = None) -> int:
    """Run the window until it is closed; returns the exit code."""
    arguments = list(sys.argv if argv is None else argv)
    app = make_application(arguments)
    catch_faults(app)
    window = first_window(project_named(arguments[1:]))
    if window is None:
        return 1
    return app.exec()


def first_window(path: Path | None) -> "MainWindow | None":
    """The window of a start, shown; asks for another project until one opens, None when nobody wants one."""
    going_on = True
    while going_on:
        opening = show_opening(path)
        try:
            window = open_window(path)
        except LacetError as refusal:
            opening.close()
            going_on, path = ask_instead(refusal)
            continue
        window.show()
        opening.close()
        return window
    return None


def make_application(arguments: Sequence[str]) -> QApplication:
    """The application, named and dressed."""
    # The map's browser engine is loaded late; it needs this set before the application is made.
    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication(list(arguments[:1]))
    app.setApplicationName("Lacet")
    app.setOrganizationName("Lacet")
    apply_theme(app, current_theme())
    return app


def show_opening(path: Path | None) -> Opening:
    """The first picture, painted; without a path it is about the demo, where that is built already."""
    opening = Opening(path or built_demo())
    opening.show_now()
    return opening


@contextmanager
def _keeping_everything() -> Iterator[None]:
    """What is made while starting is kept: looking for garbage in it costs a tenth of the start."""
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()


@_keeping_everything()
def open_window(path: Path | None) -> "MainWindow":
    """A window on a project, where somebody left it."""
    from lacet.service.session import Session
    from lacet.store import open_project
    from lacet.window.main_window import MainWindow
    from lacet.window.preferences import kept_wording
    from lacet.window.qt_saver import QtSaver
    from lacet.window.qt_session import QtSession

    project = open_project(path or demo_path())
    remember(project.path)
    session = Session(project, saver=QtSaver())
    session.speak(kept_wording())
    window = MainWindow(QtSession(session), open_window)
    window.closed.connect(session.close)
    with project.reading() as unit:
        go_back(session, [row.id for row in unit.trips.rows()])
    window.show_first_steps()
    return window


def demo_folder() -> Path:
    """Where the demo is kept for this person."""
    from platformdirs import user_data_path

    folder: Path = user_data_path("lacet", appauthor=False)
    return folder / "demo"


def built_demo() -> Path | None:
    """The demo project, where it was built before."""
    return next(demo_folder().glob("*.lacet"), None)


def demo_path() -> Path:
    """The demo project in the user's own folder; written on first use, which takes some seconds."""
    there = built_demo()
    if there is not None:
        return there
    from lacet.demo import write_demo

    told = QProgressDialog("Building the island of Verrin, once.", "", 0, 0)
    told.setCancelButton(None)
    told.setMinimumDuration(500)

    def progress(done: int, of: int) -> None:
        told.setMaximum(of)
        told.setValue(done)
        QApplication.processEvents()

    path: Path = write_demo(demo_folder(), progress)
    told.close()
    return path
