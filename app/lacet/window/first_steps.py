"""What comes first in a project without a trip: where it is, what it holds, then the first trip."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Lodging, Stage
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import command
from lacet.window.parts import label
from lacet.window.qt_session import QtSession
from lacet.wording import listed

WIDTH = 620
NOTHING_YET = "Nothing yet. GPX files become stages; sheets bring lodgings, restaurants and tariffs."
SAID = "All set."


class FirstSteps(QFrame):
    """Three steps, each with how far it is."""

    def __init__(self, session: QtSession, commands: Commands) -> None:
        super().__init__()
        self.setObjectName("panel")
        self.session, self.commands = session, commands
        self.title = label(name="What comes first")
        self.title.setStyleSheet("font-size: 17px; font-weight: 600;")
        self.region = self._told("How far the region is said")
        self.library = self._told("What the library holds")
        self.trips = self._told("The trips")
        self.begin = self._button("new")
        self._lay_out()
        session.library_changed.connect(self.show_catalogue)
        self.show_catalogue(session.session.catalogue)

    def show_catalogue(self, catalogue: Catalogue) -> None:
        """Tell how far each step is."""
        stages, houses = catalogue.count_current(Stage), catalogue.count_current(Lodging)
        unset = catalogue.region.unset()
        self.title.setText("No trip yet" if stages else "A new library")
        self.region.setText(
            f"Not set: {listed(list(unset))}. What rests on it isn't proved." if unset else "All set."
        )
        self.library.setText(
            f"{_count(stages, 'stage')} and {_count(houses, 'lodging')}." if stages or houses else NOTHING_YET
        )
        self.trips.setText(
            "An enquiry becomes a trip; its days are made of the stages on the shelf."
            if stages
            else "A trip is made of stages, so bring some in first."
        )
        self.begin.setObjectName("primary" if stages else "")

    def _lay_out(self) -> None:
        rows = QGridLayout()
        rows.setHorizontalSpacing(14)
        rows.setVerticalSpacing(16)
        rows.setColumnStretch(1, 1)
        for number, (heading, told, buttons) in enumerate(
            (
                ("Where it is", self.region, [self._button("region")]),
                ("What you have", self.library, [self._button("bring"),
                                                 self._button("library")]),
                ("The first trip", self.trips, [self.begin]),
            )
        ):  # fmt: skip
            rows.addWidget(label(str(number + 1), quiet=True), number, 0, Qt.AlignmentFlag.AlignTop)
            rows.addLayout(_step(heading, told, buttons), number, 1)
        inner = QWidget()
        inner.setMaximumWidth(WIDTH)
        column = QVBoxLayout(inner)
        column.addWidget(self.title)
        column.addSpacing(10)
        column.addLayout(rows)
        column.addStretch(1)
        across = QHBoxLayout(self)
        across.setContentsMargins(28, 18, 28, 12)
        across.addWidget(inner, 1)
        across.addStretch(1)

    def _button(self, command_id: str) -> QWidget:
        """With its key: whoever is here for the first time learns it."""
        made, it = self.commands.push(command_id), command(command_id)
        made.setText(f"{it.text} ({it.keys[0]})" if it.keys else it.text)
        return made

    def _told(self, name: str) -> QLabel:
        made = label(name=name, quiet=True)
        made.setWordWrap(True)
        return made


def _step(heading: str, told: QLabel, buttons: list[QWidget]) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(4)
    title = label(heading)
    title.setStyleSheet("font-weight: 600;")
    column.addWidget(title)
    column.addWidget(told)
    row = QHBoxLayout()
    for button in buttons:
        row.addWidget(button)
    row.addStretch(1)
    column.addLayout(row)
    return column


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number or 'no'} {what}s"
