"""Drag and drop from the keyboard: pick up, move, drop, put back (WCAG 2.2, 2.5.7)."""

from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from lacet.trip.drop import DayPayload, Gap, NoDrop, OnDay, Payload, StayPayload, Target
from lacet.window.guide import DropGuide
from lacet.window.qt_session import QtSession


def targets_of(days: int, payload: Payload | None = None) -> tuple[Target, ...]:
    """Every place a card can go, from the left: before day 1, on day 1, between 1 and 2, and so on.

    A day goes only between days; the end of a stay stays where it is and is moved by nights.
    """
    if isinstance(payload, StayPayload):
        return (Gap(0),)
    if isinstance(payload, DayPayload):
        return tuple(Gap(at) for at in range(days + 1))
    found: list[Target] = [Gap(0)]
    for day in range(days):
        found += [OnDay(day), Gap(day + 1)]
    return tuple(found)


class Carry(QObject):
    """What the keyboard holds and where it would be dropped. `says` tells it in a sentence."""

    says = Signal(str)

    def __init__(self, session: QtSession, guide: DropGuide) -> None:
        super().__init__(guide)
        self.session = session
        self.guide = guide
        self.payload: Payload | None = None
        self._name = ""
        self._targets: tuple[Target, ...] = ()
        self._at = 0

    @property
    def active(self) -> bool:
        return self.payload is not None

    @property
    def target(self) -> Target:
        return self._targets[self._at]

    def pick_up(self, payload: Payload, name: str) -> None:
        """Take something in hand, over the selected day."""
        opened = self.session.opened
        if opened is None:
            return
        self.payload, self._name = payload, name
        days = len(opened.variant.days)
        self._targets = targets_of(days, payload)
        day = self.session.selection.day
        each = 1 if isinstance(payload, DayPayload) else 2
        at = each * min(day, days - 1) + each - 1 if day is not None and days else 0
        self._at = min(at, len(self._targets) - 1)
        self._show()

    def move(self, steps: int) -> None:
        """Go to the next or the previous place; the end of a stay a night further or back."""
        if isinstance(self.payload, StayPayload):
            self.payload = replace(self.payload, nights=self.payload.nights + steps)
            self._show()
        elif self.active:
            self._at = max(0, min(len(self._targets) - 1, self._at + steps))
            self._show()

    def move_within(self, steps: int) -> None:
        """Go before or after the cards of the day."""
        target, opened = self.target, self.session.opened
        if not self.active or not isinstance(target, OnDay) or opened is None:
            return
        count = len(opened.variant.days[target.day].items)
        at = max(0, min(count, (count if target.at is None else target.at) + steps))
        moved = OnDay(target.day, at, target.travellers)
        self._targets = (*self._targets[: self._at], moved, *self._targets[self._at + 1 :])
        self._show()

    def let_go(self) -> bool:
        """Drop it here."""
        payload, target = self.payload, self.target
        self._empty()
        if payload is None or (isinstance(payload, StayPayload) and not payload.nights):
            self.guide.leave()
            return False
        return self.guide.let_go(payload, target)

    def put_back(self) -> None:
        """Drop nothing; no trace stays."""
        self._empty()
        self.guide.leave()

    def _empty(self) -> None:
        self.payload = None
        self.says.emit("")

    def _show(self) -> None:
        if self.payload is None:
            return
        answer = self.guide.over(self.payload, self.target)
        why = f" – {answer.says}" if isinstance(answer, NoDrop) else ""
        self.says.emit(f"{self._name}: {self._goes()}{why}. Enter drops, Esc puts back.")

    def _goes(self) -> str:
        """Where it would go."""
        if isinstance(self.payload, StayPayload):
            return _nights(self.payload.nights)
        if isinstance(self.payload, DayPayload) and isinstance(self.target, Gap):
            last = self.target.at == len(self._targets) - 1
            return "at the end" if last else f"before day {self.target.at + 1}"
        return _where(self.target)


def _nights(nights: int) -> str:
    if not nights:
        return "as long as it is"
    many = "a night" if abs(nights) == 1 else f"{abs(nights)} nights"
    return f"{many} {'longer' if nights > 0 else 'shorter'}"


def _where(target: Target) -> str:
    if isinstance(target, Gap):
        return f"a new day {target.at + 1}"
    if isinstance(target, OnDay):
        place = "" if target.at is None else f", before card {target.at + 1}"
        return f"on day {target.day + 1}{place}"
    return "off the sheet"
