"""Drag and drop from the keyboard: pick up, move, drop, put back (WCAG 2.2, 2.5.7)."""

from PySide6.QtCore import QObject, Signal

from lacet.trip.drop import Gap, NoDrop, OnDay, Payload, Target
from lacet.window.qt_session import QtSession
from lacet.window.sheet.guide import DropGuide


def targets_of(days: int) -> tuple[Target, ...]:
    """Every place a card can go, from the left: before day 1, on day 1, between 1 and 2, and so on."""
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
        self._targets = targets_of(days)
        day = self.session.selection.day
        self._at = 2 * min(day, days - 1) + 1 if day is not None and days else 0
        self._show()

    def move(self, steps: int) -> None:
        """Go to the next or the previous place."""
        if self.active:
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
        return payload is not None and self.guide.let_go(payload, target)

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
        self.says.emit(f"{self._name}: {_where(self.target)}{why}. Enter drops, Esc puts back.")


def _where(target: Target) -> str:
    if isinstance(target, Gap):
        return f"a new day {target.at + 1}"
    if isinstance(target, OnDay):
        place = "" if target.at is None else f", before card {target.at + 1}"
        return f"on day {target.day + 1}{place}"
    return "off the sheet"
