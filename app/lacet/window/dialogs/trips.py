"""Choosing a trip, or beginning one from an enquiry."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QWidget,
)

from lacet.store import TripRow
from lacet.trip.edits import new_trip, set_crossings, set_month, set_start, trip_from_standard
from lacet.trip.library import Place
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Crossing, Trip
from lacet.window.dialogs.base import FormDialog
from lacet.window.fields import ComboBox, DateEdit, SpinBox
from lacet.window.qt_session import QtSession

MONTHS = ("not known", "January", "February", "March", "April", "May", "June", "July", "August",
          "September", "October", "November", "December")  # fmt: skip


class TripChooser(FormDialog):
    """The trips of the project; what others add or rename appears by itself."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__("Trips", "Open", parent)
        self.session = session
        self.list = QListWidget()
        self.list.setAccessibleName("Trips")
        self.list.setMinimumSize(360, 220)
        self.list.itemActivated.connect(lambda _: self.accept())
        self.form.addRow(self.list)
        self.refresh()
        self.list.setCurrentRow(0)
        session.others_wrote.connect(self.refresh)

    def refresh(self) -> None:
        """Read the list anew; the chosen trip stays chosen."""
        chosen = self.chosen()
        with self.session.session.project.reading() as unit:
            rows = unit.trips.rows()
        self.list.clear()
        for row in rows:
            item = QListWidgetItem(f"{row.name}  ·  standard trip" if row.standard else row.name)
            item.setData(Qt.ItemDataRole.UserRole, row.id)
            self.list.addItem(item)
            if row.id == chosen:
                self.list.setCurrentItem(item)

    def chosen(self) -> str | None:
        """The id of the trip the person points at."""
        at = self.list.currentRow()
        return None if at < 0 else str(self.list.item(at).data(Qt.ItemDataRole.UserRole))

    @classmethod
    def ask(cls, session: QtSession, parent: QWidget | None = None) -> str | None:
        """The id of the trip chosen."""
        dialog = cls(session, parent)
        chosen = dialog.chosen() if dialog.said_yes() else None
        session.others_wrote.disconnect(dialog.refresh)
        return chosen


@dataclass(frozen=True, slots=True)
class Enquiry:
    """What somebody asks for first."""

    name: str
    guests: int
    days: int
    start: date | None
    month: int | None
    hub: str | None
    standard: str | None = None

    def trip(self, trip_id: str, hubs: tuple[Place, ...], standard: Trip | None = None) -> Trip:
        """The enquiry as a trip: of one empty variant, or of those of a standard trip."""
        party = placeholder_party(self.guests, self.name)
        if standard is None:
            made = new_trip(trip_id, self.name, party, days=self.days)
        else:
            made = trip_from_standard(standard, trip_id, self.name, party, start=self.start)
        made = set_start(made, self.start) if self.start else set_month(made, self.month)
        place = next((hub for hub in hubs if hub.id == self.hub), None)
        if place is None:
            return made
        crossing = Crossing(hub=place.id, means=place.hub[0])
        return set_crossings(made, arrivals=(crossing,), departures=(crossing,))


class EnquiryDialog(FormDialog):
    """Party, dates or month, hub, number of days or a standard trip."""

    def __init__(
        self,
        hubs: tuple[Place, ...],
        today: date,
        parent: QWidget | None = None,
        standards: Sequence[TripRow] = (),
    ) -> None:
        super().__init__("New trip from an enquiry", "Begin", parent)
        self.name = QLineEdit()
        self.name.setPlaceholderText("The party's name")
        self.guests = SpinBox()
        self.guests.setRange(1, 40)
        self.guests.setValue(2)
        self.days = SpinBox()
        self.days.setRange(1, 60)
        self.days.setValue(7)
        self.dated = QCheckBox("starts on a known date")
        self.start = DateEdit(QDate(today.year, today.month, today.day).addMonths(6))
        self.start.setCalendarPopup(True)
        self.start.setDisplayFormat("ddd d MMM yyyy")
        self.start.setEnabled(False)
        self.month = ComboBox()
        self.month.addItems(MONTHS)
        self.dated.toggled.connect(self.start.setEnabled)
        self.dated.toggled.connect(self.month.setDisabled)
        self.hub = ComboBox()
        for hub in hubs:
            self.hub.addItem(hub.name, hub.id)
        self.standard = ComboBox()
        self.standard.addItem("empty days", None)
        for row in standards:
            self.standard.addItem(row.name, row.id)
        self.standard.currentIndexChanged.connect(lambda index: self.days.setEnabled(index == 0))
        for text, widget in (
            ("Name", self.name),
            ("Guests", self.guests),
            ("Begin from", self.standard),
            ("Days", self.days),
            ("Date", self.dated),
            ("", self.start),
            ("Month", self.month),
            ("Arrive and leave at", self.hub),
        ):
            widget.setAccessibleName(text or "Start")
            self.form.addRow(text, widget)
        self.name.textChanged.connect(lambda text: self.does.setEnabled(bool(text.strip())))
        self.does.setEnabled(False)

    def answer(self) -> Enquiry:
        on = self.start.date()
        dated = self.dated.isChecked()
        return Enquiry(
            name=self.name.text().strip(),
            guests=self.guests.value(),
            days=self.days.value(),
            start=date(on.year(), on.month(), on.day()) if dated else None,
            month=None if dated else self.month.currentIndex() or None,
            hub=self.hub.currentData(),
            standard=self.standard.currentData(),
        )

    @classmethod
    def ask(
        cls,
        hubs: tuple[Place, ...],
        today: date,
        parent: QWidget | None = None,
        standards: Sequence[TripRow] = (),
    ) -> Enquiry | None:
        dialog = cls(hubs, today, parent, standards)
        return dialog.answer() if dialog.said_yes() else None
