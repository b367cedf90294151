"""The party editor: who travels, what they must have, how far they wish to go, who shares a room."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from lacet.effort.cycling import RiderClass
from lacet.trip.party import NEED_KINDS, Need, Party, Traveller, Wishes
from lacet.trip.words import Exposure, Footing, NeedLevel
from lacet.window.dialogs.base import CheckedDialog, FormDialog
from lacet.window.fields import ComboBox, SpinBox
from lacet.window.parts import push_button
from lacet.wording import METRES_PER_MILE

NOT_SAID = "not said"
CM_PER_INCH = 2.54
KG_PER_POUND = 0.45359237
PACES = ((0.85, "brisk"), (1.0, "by the rule"), (1.2, "relaxed"), (1.5, "very relaxed"))
ROOMS = "ABCDEFGHIJKLMNOPQRST"
NEEDS_COLUMN = 9


@dataclass(frozen=True, slots=True)
class _Column:
    """How one plain column is read from and written to a guest."""

    show: Callable[[Traveller], str]
    read: Callable[[Traveller, str], Traveller]


def _number(text: str, what: str, scale: float = 1.0) -> float | None:
    text = text.strip().replace(",", ".")
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        raise ValueError(f"'{text}' is not a number ({what}).") from None
    if value <= 0:
        raise ValueError(f"{what} is a number above 0.")
    return value * scale


def _plain(value: float | None, scale: float = 1.0) -> str:
    return "" if value is None else f"{value / scale:.4g}"


def _limit(guest: Traveller, **limits: float | None) -> Traveller:
    return replace(guest, limits=replace(guest.limits, **limits))


def _age(text: str) -> int | None:
    value = _number(text, "age")
    return None if value is None else int(value)


@dataclass(frozen=True, slots=True)
class _Units:
    """What the table's figures are in: each unit's name and what it is in ours (cm, kg, m)."""

    height: tuple[str, float] = ("cm", 1.0)
    mass: tuple[str, float] = ("kg", 1.0)
    length: tuple[str, float] = ("km", 1000.0)

    def heads(self) -> tuple[str, ...]:
        length = self.length[0]
        measures = (
            f"Height {self.height[0]}",
            f"Mass {self.mass[0]}",
            f"On foot {length}",
            f"By bike {length}",
        )
        return ("Name", "Age", "Pace", "Rider", *measures, "Room", "Needs")


METRIC = _Units()
IMPERIAL = _Units(("in", CM_PER_INCH), ("lb", KG_PER_POUND), ("mi", METRES_PER_MILE))


def _columns(units: _Units) -> dict[int, _Column]:
    (_, cm), (_, kg), (_, m) = units.height, units.mass, units.length
    return {
        0: _Column(lambda guest: guest.name, lambda guest, text: replace(guest, name=text.strip())),
        1: _Column(lambda guest: _plain(guest.age), lambda guest, text: replace(guest, age=_age(text))),
        4: _Column(
            lambda guest: _plain(guest.height_cm, cm),
            lambda guest, text: replace(guest, height_cm=_number(text, "height", cm)),
        ),
        5: _Column(
            lambda guest: _plain(guest.mass_kg, kg),
            lambda guest, text: replace(guest, mass_kg=_number(text, "mass", kg)),
        ),
        6: _Column(
            lambda guest: _plain(guest.limits.walking_m, m),
            lambda guest, text: _limit(guest, walking_m=_number(text, "length on foot", m)),
        ),
        7: _Column(
            lambda guest: _plain(guest.limits.cycling_m, m),
            lambda guest, text: _limit(guest, cycling_m=_number(text, "length by bike", m)),
        ),
    }


def needs_text(needs: tuple[Need, ...]) -> str:
    """'must: milk; prefers: vegetarian'."""
    return "; ".join(f"{need.level.value}: {need.kind}" for need in needs)


class PartyDialog(CheckedDialog):
    """One row a guest; wishes below."""

    def __init__(self, party: Party, *, imperial: bool = False, parent: QWidget | None = None) -> None:
        super().__init__("The party", "Keep", parent)
        self.resize(980, 460)
        self.party = party
        self.guests = list(party.travellers)
        self.rooms = _room_letters(party)
        self.name = QLineEdit(party.name)
        self.name.setAccessibleName("Name of the party")
        units = IMPERIAL if imperial else METRIC
        self.columns = _columns(units)
        self.table = QTableWidget(0, len(units.heads()))
        self.table.setAccessibleName("Guests")
        self.table.setHorizontalHeaderLabels(units.heads())
        self.table.setMinimumHeight(180)
        self.table.verticalHeader().hide()
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(NEEDS_COLUMN, QHeaderView.ResizeMode.Stretch)
        self.table.cellDoubleClicked.connect(self._on_cell_opened)
        buttons = QHBoxLayout()
        buttons.addWidget(push_button("One guest more", self.add_guest))
        buttons.addWidget(push_button("Take out this guest", self.take_out_guest))
        buttons.addWidget(push_button("Needs of this guest…", self.ask_needs))
        buttons.addStretch(1)
        self.rest_days = SpinBox()
        self.rest_days.setRange(-1, 20)
        self.rest_days.setSpecialValueText(NOT_SAID)
        self.rest_days.setValue(-1 if party.wishes.rest_days is None else party.wishes.rest_days)
        self.footing = _choice([NOT_SAID, *Footing], party.wishes.footing)
        self.exposure = _choice([NOT_SAID, *Exposure], party.wishes.exposure)
        self.wishes = QLineEdit(party.wishes.text)
        self.form.addRow("Name", self.name)
        self.form.addRow(self.table)
        self.form.addRow(buttons)
        self.form.addRow("Rest days wished", self.rest_days)
        self.form.addRow("Footing at most", self.footing)
        self.form.addRow("Exposure at most", self.exposure)
        self.form.addRow("What they like", self.wishes)
        self._show()

    def add_guest(self) -> None:
        """A guest of whom nothing is known yet."""
        self._read_rows()
        numbers = [int(guest.id[1:]) for guest in self.guests if guest.id[1:].isdecimal()]
        self.guests.append(Traveller(id=f"t{max(numbers, default=0) + 1}"))
        self._show()

    def take_out_guest(self) -> None:
        """The guest whose row is picked leaves the party, unless it is the last."""
        row = self.table.currentRow()
        self._read_rows()
        if 0 <= row < len(self.guests) and len(self.guests) > 1:
            del self.guests[row]
            self._show()

    def ask_needs(self) -> None:
        """Must and prefers of the picked guest."""
        row = self.table.currentRow()
        self._read_rows()
        if 0 <= row < len(self.guests):
            needs = NeedsDialog.ask(self.guests[row].needs, self)
            if needs is not None:
                self.guests[row] = replace(self.guests[row], needs=needs)
                self._show()

    def _on_cell_opened(self, row: int, column: int) -> None:
        if column == NEEDS_COLUMN:
            self.table.setCurrentCell(row, column)
            self.ask_needs()

    def _show(self) -> None:
        self.table.setRowCount(len(self.guests))
        for row, guest in enumerate(self.guests):
            for column, how in self.columns.items():
                self.table.setItem(row, column, QTableWidgetItem(how.show(guest)))
            pace = ComboBox()
            for value, text in PACES:
                pace.addItem(text, value)
            nearest = min(range(len(PACES)), key=lambda index: abs(PACES[index][0] - guest.pace))
            pace.setCurrentIndex(nearest)
            self.table.setCellWidget(row, 2, pace)
            self.table.setCellWidget(row, 3, _choice([member.value for member in RiderClass], guest.rider))
            room = _choice([f"Room {mark}" for mark in ROOMS], f"Room {self.rooms.get(guest.id, ROOMS[row])}")
            self.table.setCellWidget(row, 8, room)
            needs = QTableWidgetItem(needs_text(guest.needs))
            needs.setFlags(needs.flags() & ~Qt.ItemFlag.ItemIsEditable)
            self.table.setItem(row, NEEDS_COLUMN, needs)

    def _read_rows(self) -> None:
        for row, guest in enumerate(self.guests):
            for column, how in self.columns.items():
                item = self.table.item(row, column)
                text = item.text() if item else ""
                # What nobody touched stays exactly as it was, whatever it was rounded to.
                guest = guest if text == how.show(guest) else how.read(guest, text)
            pace, rider, room = (self.table.cellWidget(row, column) for column in (2, 3, 8))
            assert isinstance(pace, QComboBox)
            assert isinstance(rider, QComboBox)
            assert isinstance(room, QComboBox)
            self.guests[row] = replace(guest, pace=pace.currentData(), rider=rider.currentText())
            self.rooms[guest.id] = room.currentText()[-1]

    def answer(self) -> Party:
        """The party as it now stands.

        Raises
        ------
        ValueError
            When a field isn't a number; the sentence says which.
        """
        self._read_rows()
        wishes: Wishes = replace(
            self.party.wishes,
            rest_days=None if self.rest_days.value() < 0 else self.rest_days.value(),
            footing=_chosen(self.footing, Footing),
            exposure=_chosen(self.exposure, Exposure),
            text=self.wishes.text().strip(),
        )
        return replace(
            self.party,
            name=self.name.text().strip(),
            travellers=tuple(self.guests),
            sharing=_sharing(self.guests, self.rooms),
            wishes=wishes,
        )

    @classmethod
    def ask(cls, party: Party, *, imperial: bool = False, parent: QWidget | None = None) -> Party | None:
        dialog = cls(party, imperial=imperial, parent=parent)
        return dialog.answer() if dialog.said_yes() else None


class NeedsDialog(FormDialog):
    """For each kind of need: nothing, prefers or must."""

    def __init__(self, needs: tuple[Need, ...], parent: QWidget | None = None) -> None:
        super().__init__("Needs", "Keep", parent)
        self.before = {need.kind: need for need in needs}
        self.table = QTableWidget(len(NEED_KINDS), 3)
        self.table.setHorizontalHeaderLabels(("Need", "How much", "In words"))
        self.table.setMinimumSize(520, 420)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        for row, kind in enumerate(NEED_KINDS):
            name = QTableWidgetItem(kind)
            name.setFlags(name.flags() & ~Qt.ItemFlag.ItemIsEditable)
            self.table.setItem(row, 0, name)
            known = self.before.get(kind)
            self.table.setCellWidget(row, 1, _choice(["–", *NeedLevel], known.level if known else "–"))
            self.table.setItem(row, 2, QTableWidgetItem(known.text if known else ""))
        self.table.resizeColumnToContents(0)
        self.form.addRow(self.table)

    def answer(self) -> tuple[Need, ...]:
        found = []
        for row, kind in enumerate(NEED_KINDS):
            level, text = self.table.cellWidget(row, 1), self.table.item(row, 2)
            assert isinstance(level, QComboBox)
            if level.currentIndex():
                known = self.before.get(kind) or Need(kind=kind, level=NeedLevel.MUST)
                said = text.text().strip() if text else ""
                found.append(replace(known, level=NeedLevel(level.currentText()), text=said))
        return tuple(found)

    @classmethod
    def ask(cls, needs: tuple[Need, ...], parent: QWidget | None = None) -> tuple[Need, ...] | None:
        dialog = cls(needs, parent)
        return dialog.answer() if dialog.said_yes() else None


def _choice(options: list[Any], chosen: Any) -> QComboBox:
    box = ComboBox()
    box.addItems([str(option) for option in options])
    box.setCurrentText(str(chosen) if chosen is not None else str(options[0]))
    return box


def _chosen(box: QComboBox, kind: type[Any]) -> Any:
    return kind(box.currentText()) if box.currentIndex() else None


def _room_letters(party: Party) -> dict[str, str]:
    """A letter for each room: those who share have the same."""
    letters: dict[str, str] = {}
    free = iter(ROOMS)
    for group in party.sharing:
        letters |= dict.fromkeys(group, next(free, ROOMS[-1]))
    for guest in party.travellers:
        if guest.id not in letters:
            letters[guest.id] = next(free, ROOMS[-1])
    return letters


def _sharing(guests: list[Traveller], rooms: dict[str, str]) -> tuple[tuple[str, ...], ...]:
    by_room: dict[str, list[str]] = {}
    for guest in guests:
        by_room.setdefault(rooms.get(guest.id, guest.id), []).append(guest.id)
    return tuple(tuple(group) for _, group in sorted(by_room.items()) if len(group) > 1)
