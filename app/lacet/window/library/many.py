"""One field set on many items: seen first, then done off the window's thread, in one saving."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from lacet.days.holidays import holidays_of
from lacet.service.keeper import Keeper, Step
from lacet.service.library.changes import set_on_many
from lacet.service.library.fields import DeskKind, Names
from lacet.window.library.dialogs import ManyDialog
from lacet.window.qt_session import QtSession
from lacet.window.work import Step as Tell
from lacet.window.work import Work

# More than this are too many to be looked at, and to be tried at every key.
MOST_PREVIEWED = 200


class ManyFields(QObject):
    """`said(sentence)`; `saved(ids)` after something was kept."""

    said = Signal(str)
    saved = Signal(list)

    def __init__(self, session: QtSession, keeper: Keeper, kind: DeskKind, window: QWidget) -> None:
        super().__init__(window)
        self.session, self.keeper, self.kind, self.window = session, keeper, kind, window
        self.work = Work(window)

    def ask(self, ids: Sequence[str], names: Names) -> None:
        """Let the person choose field and value, show what it would do, and do it."""
        inner, kind, keeper = self.session.session, self.kind, self.keeper
        first = self._latest(ids[:MOST_PREVIEWED])
        holidays = holidays_of(inner.catalogue.region)
        dialog = ManyDialog(kind, first, names, inner.as_of, holidays, self.window, of=len(ids))
        if self.work.busy or not dialog.said_yes():
            return
        column, text = dialog.answer()

        def errand(step: Tell) -> tuple[Step, ...]:
            would = set_on_many(kind, column, text, self._latest(ids), names)
            changed = [each.after for each in would if each.changes]
            expected = {(type(item), item.id): item.version for item in changed}
            return keeper.store(changed, expected, step)

        says = f"Setting one field on {len(ids)} {kind.name}"
        self.work.run(says, errand, self._on_kept, self.said.emit)

    def _on_kept(self, steps: tuple[Step, ...]) -> None:
        says = f"one field on {len(steps)} {self.kind.name}"
        self.keeper.remember(says, steps)
        self.saved.emit([step.after.id for step in steps])
        self.said.emit(f"Kept: {says}")

    def _latest(self, ids: Sequence[str]) -> list[Any]:
        with self.session.session.project.reading() as unit:
            found = [unit.library.latest(self.kind.makes, item_id) for item_id in ids]
        return [item for item in found if item is not None]
