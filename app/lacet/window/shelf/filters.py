"""What the shelf leaves out: by length, climb, ground, how far away, and whether the day would work."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from lacet.trip.words import Footing
from lacet.wording import METRES_PER_FOOT, METRES_PER_MILE

# Round figures to choose from, in the unit each is said in.
LENGTHS_KM, LENGTHS_MI = (8, 15, 30), (5, 10, 20)
CLIMBS_M, CLIMBS_FT = (200, 500, 900), (600, 1600, 3000)
GROUNDS = (
    ("any", None),
    ("even", Footing.EVEN),
    ("up to uneven", Footing.UNEVEN),
    ("up to rough", Footing.ROUGH),
)


def steps(figures: Sequence[int], unit: str, metres: float) -> tuple[tuple[str, float | None], ...]:
    """'any', then 'to 8 km' and so on, each with its length [m]."""
    return (("any", None), *((f"to {figure} {unit}", figure * metres) for figure in figures))


class FilterButton(QToolButton):
    """A button with a menu; says how many filters are set."""

    def __init__(self, changed: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._changed = changed
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setAccessibleName("Filters")
        menu = QMenu(self)
        self.length_menu, self.climb_menu = menu.addMenu("Length"), menu.addMenu("Climb")
        self.imperial = False
        self._fill_measures()
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

    def speak(self, imperial: bool) -> None:
        """Offer round miles and feet, or kilometres and metres; what was chosen in the other is let go."""
        if imperial != self.imperial:
            self.imperial = imperial
            self._fill_measures()
            self._tell()

    def _fill_measures(self) -> None:
        lengths = steps(LENGTHS_MI, "mi", METRES_PER_MILE) if self.imperial else steps(LENGTHS_KM, "km", 1000)
        climbs = steps(CLIMBS_FT, "ft", METRES_PER_FOOT) if self.imperial else steps(CLIMBS_M, "m", 1)
        self.lengths = self._choices(self.length_menu, lengths)
        self.climbs = self._choices(self.climb_menu, climbs)

    def _choices(self, menu: QMenu, options: tuple[tuple[str, Any], ...]) -> QActionGroup:
        menu.clear()
        group = QActionGroup(menu)
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
