"""Standard trips of the house: saved from a variant, begun from, and what differs since."""

from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from lacet.compare.comparison import Comparison
from lacet.compare.since import since_standard
from lacet.service.eyes import for_eyes
from lacet.service.shown import Opened
from lacet.service.standards import keep_as_standard, standard_trip
from lacet.trip.trip import Trip
from lacet.window.beside import Beside
from lacet.window.dialogs.base import FormDialog
from lacet.window.parts import label
from lacet.window.qt_session import QtSession

NOT_FROM_ONE = "This trip was not begun from a standard trip."
LEFT_OUT = (
    "Left out: guests, dates, rooms, hires, bookings, agent, decisions to let findings stand, and every "
    "note: note cards, notes of days, rest days and alternatives. Names of variants and visits stay, unless "
    "they name a guest."
)
SAME = "Nothing differs from the standard trip."


class NameDialog(FormDialog):
    """What a standard trip is called."""

    def __init__(self, suggested: str, parent: QWidget | None = None) -> None:
        super().__init__("Save as a standard trip", "Save", parent)
        self.name = QLineEdit(suggested)
        self.name.setAccessibleName("Name of the standard trip")
        self.name.setMinimumWidth(280)
        self.name.selectAll()
        self.form.addRow("Name", self.name)
        kept = label(LEFT_OUT, quiet=True)
        kept.setWordWrap(True)
        self.form.addRow("", kept)
        self.name.textChanged.connect(lambda text: self.does.setEnabled(bool(text.strip())))

    @classmethod
    def ask(cls, suggested: str, parent: QWidget | None = None) -> str | None:
        dialog = cls(suggested, parent)
        return dialog.name.text().strip() if dialog.said_yes() else None


def save_as_standard(session: QtSession, parent: QWidget | None = None) -> bool:
    """Ask for a name and keep the open variant under it as a standard trip; the open trip stays open."""
    opened = session.opened
    name = None if opened is None else NameDialog.ask(f"{opened.trip.name}: {opened.variant.name}", parent)
    if opened is None or name is None:
        return False

    project = session.session.project
    return session.do(lambda: keep_as_standard(project, opened, name), f"Kept as a standard trip: {name}")


class SinceStandard(Beside):
    """Each difference of the open variant to the standard trip it was begun from; follows every edit."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setWindowTitle("Since the standard trip – Lacet")
        self.resize(560, 380)
        self.heading = label(name="Held against")
        self.heading.setStyleSheet("font-weight: 600;")
        self.list = QListWidget()
        self.list.setAccessibleName("What differs from the standard trip")
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        column = QVBoxLayout(self)
        column.addWidget(self.heading)
        column.addWidget(self.list, 1)
        self.follow()

    def refresh(self) -> None:
        """Tell the differences of what is open."""
        opened = self.session.opened
        self.list.clear()
        if opened is None:
            return
        standard = standard_trip(self.session.session.project, opened.trip.started_from)
        if standard is None:
            self.heading.setText(NOT_FROM_ONE)
            return
        self.heading.setText(f"{opened.variant.name}, since '{standard.name}'")
        found = self._comparison(opened, standard)
        for each in found.differences:
            where = f"Day {each.day}" if each.day else "In all"
            self.list.addItem(QListWidgetItem(f"{where}: {each.says}"))
        if not found.differences:
            self.list.addItem(SAME)

    def _comparison(self, opened: Opened, standard: Trip) -> Comparison:
        inner, looks = self.session.session, self.session.client_looks_on
        found = for_eyes(opened, looks).assessment
        return since_standard(
            inner.inputs(opened.trip, opened.variant_id), found, standard,
            show_money=not looks, wording=inner.wording,
        )  # fmt: skip
