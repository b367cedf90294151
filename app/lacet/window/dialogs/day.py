"""The day editor: when they set out, how long they stop, whether the rep briefs them, a note, other ways."""

from dataclasses import dataclass
from datetime import time

from PySide6.QtCore import QTime
from PySide6.QtWidgets import QCheckBox, QPlainTextEdit, QWidget

from lacet.service.other_ways import WaysDesk
from lacet.trip import edits
from lacet.trip.trip import Alternative, Trip
from lacet.window.dialogs.base import FormDialog
from lacet.window.dialogs.other_ways import OtherWaysEditor
from lacet.window.fields import SpinBox, TimeEdit


@dataclass(frozen=True, slots=True)
class DayAnswer:
    """None = as the house usually does."""

    departs: time | None
    stops_s: float | None
    briefing: bool
    note: str
    others: tuple[Alternative, ...] = ()

    def edit(self, trip: Trip, variant_id: str, day_id: str) -> Trip:
        """All of it as one edit."""
        trip = edits.set_departs(trip, variant_id, day_id, self.departs)
        trip = edits.set_stops(trip, variant_id, day_id, self.stops_s)
        trip = edits.set_briefing(trip, variant_id, day_id, self.briefing)
        trip = edits.set_day_note(trip, variant_id, day_id, self.note)
        return edits.set_alternatives(trip, variant_id, day_id, self.others)


class DayDialog(FormDialog):
    """Edits one day."""

    def __init__(self, desk: WaysDesk, usual: time, parent: QWidget | None = None) -> None:
        day = desk.planned
        super().__init__(f"Day {desk.day + 1}", "Keep", parent)
        self.resize(640, self.height())
        self.own_hour = QCheckBox("at their own hour")
        self.own_hour.setChecked(day.departs is not None)
        self.departs = TimeEdit(_qtime(day.departs or usual))
        self.departs.setDisplayFormat("HH:mm")
        self.departs.setAccessibleName("Setting out")
        self.departs.setEnabled(day.departs is not None)
        self.own_hour.toggled.connect(self.departs.setEnabled)
        self.own_stops = QCheckBox("stops of their own length")
        self.own_stops.setChecked(day.stops_s is not None)
        self.stops = SpinBox()
        self.stops.setRange(0, 720)
        self.stops.setSingleStep(15)
        self.stops.setSuffix(" min")
        self.stops.setValue(round((day.stops_s or 3600.0) / 60))
        self.stops.setEnabled(day.stops_s is not None)
        self.own_stops.toggled.connect(self.stops.setEnabled)
        self.briefing = QCheckBox("the rep talks them through the trip")
        self.briefing.setChecked(day.briefing)
        self.note = QPlainTextEdit(day.note)
        self.note.setAccessibleName("Note for the guests")
        self.note.setTabChangesFocus(True)
        self.note.setMaximumHeight(64)
        self.form.addRow("Set out", self.own_hour)
        self.form.addRow("", self.departs)
        self.form.addRow("Stops", self.own_stops)
        self.form.addRow("", self.stops)
        self.form.addRow("Briefing", self.briefing)
        self.form.addRow("Note for the guests", self.note)
        self.ways = OtherWaysEditor(desk)
        self.form.addRow("Other ways", self.ways)

    def answer(self) -> DayAnswer:
        at = self.departs.time()
        return DayAnswer(
            departs=time(at.hour(), at.minute()) if self.own_hour.isChecked() else None,
            stops_s=self.stops.value() * 60.0 if self.own_stops.isChecked() else None,
            briefing=self.briefing.isChecked(),
            note=self.note.toPlainText().strip(),
            others=self.ways.others,
        )

    @classmethod
    def ask(cls, desk: WaysDesk, usual: time, parent: QWidget | None = None) -> DayAnswer | None:
        dialog = cls(desk, usual, parent)
        return dialog.answer() if dialog.said_yes() else None


def _qtime(at: time) -> QTime:
    return QTime(at.hour, at.minute)
