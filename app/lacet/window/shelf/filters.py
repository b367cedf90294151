"""What the shelf leaves out: by length, climb, ground, how far away, and whether the day would work."""

from collections.abc import Callable
from typing import Any

from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from lacet.trip.words import Footing

LENGTHS = (("any", None), ("to 8 km", 8_000.0), ("to 15 km", 15_000.0), ("to 30 km", 30_000.0))
CLIMBS = (("any", None), ("to 200 m", 200.0), ("to 500 m", 500.0), ("to 900 m", 900.0))
GROUNDS = (
    ("any", None),
    ("even", Footing.EVEN),
    ("up to uneven", Footing.UNEVEN),
    ("up to rough", Footing.ROUGH),
)


class FilterButton(QToolButton):
    """A button with a menu; says how many filters are set."""

    def __init__(self, changed: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._changed = changed
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setAccessibleName("Filters")
        menu = QMenu(self)
        self.lengths = self._choices(menu.addMenu("Length"), LENGTHS)
        self.climbs = self._choices(menu.addMenu("Climb"), CLIMBS)
        self.grounds = self._choices(menu.addMenu("Ground"), GROUNDS)
        menu.addSeparator()
        self.works = self._switch(menu, "Only what works that day")
        self.far = self._switch(menu, "Also what needs a transfer")
        self.setMenu(menu)
        self._tell()

    @property
    def length_m(self) -> float | None:
        chosen: float | None = self._chosen(self.lengths)
        return chosen

    @property
    def climb_m(self) -> float | None:
        chosen: float | None = self._chosen(self.climbs)
        return chosen

    @property
    def footing(self) -> Footing | None:
        chosen: Footing | None = self._chosen(self.grounds)
        return chosen

    def _choices(self, menu: QMenu, options: tuple[tuple[str, Any], ...]) -> QActionGroup:
        group = QActionGroup(self)
        for index, (text, value) in enumerate(options):
            action = group.addAction(menu.addAction(text))
            action.setCheckable(True)
            action.setChecked(index == 0)
            action.setData(value)
        group.triggered.connect(lambda _: self._on_chosen())
        return group

    def _switch(self, menu: QMenu, text: str) -> QAction:
        action = menu.addAction(text)
        action.setCheckable(True)
        action.toggled.connect(lambda _: self._on_chosen())
        return action

    @staticmethod
    def _chosen(group: QActionGroup) -> Any:
        return group.checkedAction().data()

    def _on_chosen(self) -> None:
        self._tell()
        self._changed()

    def _tell(self) -> None:
        count = sum(value is not None for value in (self.length_m, self.climb_m, self.footing))
        count += self.works.isChecked()
        self.setText(f"Filter ({count})" if count else "Filter")
