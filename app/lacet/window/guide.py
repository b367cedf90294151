"""From a payload over a target to a preview, and on letting go to one edit: for mouse and keyboard alike."""

from PySide6.QtCore import QObject

from lacet.service.shown import Opened, Selection
from lacet.trip.drop import (
    CardPayload,
    Drop,
    Gap,
    NoDrop,
    OnDay,
    Payload,
    StagePayload,
    Standing,
    Target,
    drop,
)
from lacet.window.qt_session import QtSession


class DropGuide(QObject):
    """Asks what a drop would mean and shows it; the same question is asked again when it is let go."""

    def __init__(self, session: QtSession, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._asked: tuple[Payload, Target] | None = None
        self._answer: Drop | NoDrop | None = None

    def over(self, payload: Payload, target: Target) -> Drop | NoDrop:
        """Preview the drop; asked again only when something changed."""
        if self._asked == (payload, target) and self._answer is not None:
            return self._answer
        answer = self._ask(payload, target)
        self._asked, self._answer = (payload, target), answer
        if isinstance(answer, Drop):
            self.session.session.start_preview(answer.edit, self)
        else:
            self.session.session.stop_preview(self)
        return answer

    def let_go(self, payload: Payload, target: Target) -> bool:
        """Make the edit; a drop without meaning says why."""
        answer = self._ask(payload, target)
        self.leave()
        if isinstance(answer, NoDrop):
            self.session.refused.emit(answer.says)
            return False
        done = self.session.apply(answer.edit, answer.says)
        if done:
            self._go_on_from(payload, target)
        return done

    def _go_on_from(self, payload: Payload, target: Target) -> None:
        """What comes next continues from the day that was just filled."""
        opened = self.session.opened
        if opened is not None and isinstance(payload, StagePayload | CardPayload):
            day = target.at if isinstance(target, Gap) else target.day if isinstance(target, OnDay) else None
            if day is not None and day < len(opened.variant.days):
                self.session.select(Selection(day=day))

    def leave(self) -> None:
        """Nothing is carried over the sheet any more: no trace stays."""
        self._asked = self._answer = None
        self.session.session.stop_preview(self)

    def _ask(self, payload: Payload, target: Target) -> Drop | NoDrop:
        opened = self.session.opened
        if opened is None:
            return NoDrop("No trip is open: choose one or start a new one first.")
        return drop(opened.trip, opened.variant_id, payload, target, standing_of(opened))


def standing_of(opened: Opened) -> Standing:
    """Where the party stands each morning and evening: of the group that moves longest."""
    days = opened.assessment.figures.days
    starts = [day.group.start_place if day.group else None for day in days]
    ends = [day.group.end_place if day.group else None for day in days]
    arrival = opened.trip.arrivals[0].hub if opened.trip.arrivals else None
    mornings = [arrival if index == 0 and start is None else start for index, start in enumerate(starts)]
    return Standing((*mornings, ends[-1] if ends else arrival), tuple(ends))
