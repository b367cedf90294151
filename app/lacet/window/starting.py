"""Which project a start opens: the one named, else the last one, the demo only at the very first start."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QMessageBox

from lacet.trip.errors import LacetError
from lacet.window.opening import key_of
from lacet.window.projects import ask_open, last, new_library

if TYPE_CHECKING:
    from lacet.service.session import Session

DEMO = "demo"


@dataclass(frozen=True, slots=True)
class Left:
    """Where somebody was when they closed a project; ids, never names."""

    trip: str
    variant: str
    day: int | None


def keep_left(path: Path, left: Left) -> None:
    """Remember where somebody was."""
    day = "" if left.day is None else str(left.day)
    QSettings().setValue(f"{key_of(path)}/left", [left.trip, left.variant, day])


def left_at(path: Path) -> Left | None:
    """Where somebody was in a project, if they were anywhere."""
    kept = QSettings().value(f"{key_of(path)}/left")
    if not isinstance(kept, list) or len(kept) != 3:
        return None
    trip, variant, day = map(str, kept)
    return Left(trip, variant, int(day) if day.isdecimal() else None)


def go_back(session: "Session", trips: Sequence[str]) -> None:
    """Open the trip, variant and day somebody left; what is gone since gives way to the first."""
    # The session is heavy, and the first picture needs nothing of it.
    from lacet.service.shown import Selection

    left = left_at(session.project.path)
    if left is None or left.trip not in trips:
        if trips:
            session.open_trip(trips[0])
        return
    session.open_trip(left.trip)
    opened = session.opened
    if opened is not None and opened.trip.variant(left.variant) is not None:
        session.show_variant(left.variant)
    if session.opened is not None and left.day is not None and left.day < len(session.opened.variant.days):
        session.select(Selection(day=left.day))


def project_named(arguments: Sequence[str]) -> Path | None:
    """The project a start is about; None is the demo."""
    if arguments:
        return None if arguments[0] == DEMO else Path(arguments[0])
    return last()


def ask_instead(refusal: LacetError) -> tuple[bool, Path | None]:
    """Say why a project can't be opened and offer others: (whether to go on, the project; None = demo)."""
    box = QMessageBox(QMessageBox.Icon.Warning, "Lacet", str(refusal))
    offers = {
        box.addButton("Open a project…", QMessageBox.ButtonRole.AcceptRole): "open",
        box.addButton("New library…", QMessageBox.ButtonRole.AcceptRole): "new",
        box.addButton("The demo", QMessageBox.ButtonRole.AcceptRole): DEMO,
    }
    box.addButton(QMessageBox.StandardButton.Close)
    box.exec()
    chosen = next((what for button, what in offers.items() if button is box.clickedButton()), "")
    if chosen == DEMO:
        return True, None
    path = {"open": ask_open, "new": new_library}[chosen](None) if chosen else None
    return path is not None, path
