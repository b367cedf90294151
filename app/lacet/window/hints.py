"""A few quiet hints for the first time; each is shown until it is put away, and then never again."""

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QFrame, QHBoxLayout

from lacet.window.parts import label, tool_button

SEEN = "hints/seen"
HINTS = (
    "Drag a stage from the shelf onto a day, or between two days. The sheet shows what the day would become.",
    "Pick a night or a dinner in the sheet: the shelf then offers houses and kitchens near by.",
    "What to settle lists what is wrong, worst first. Hover over a remedy to see what it would do.",
    "By key: Enter on the shelf or Space on the sheet takes in hand, arrows move, Enter drops, F2 edits.",
)


class HintBar(QFrame):
    """One hint at a time; goes away by itself when all have been seen."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("panel")
        self.text = label(name="Hint", quiet=True)
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 2, 6, 2)
        row.addWidget(self.text, 1)
        row.addWidget(tool_button("Next", "The next hint", self.show_next))
        row.addWidget(tool_button("No more hints", "Never show hints again", self.put_away))
        self._allowed = True
        self._show()

    @property
    def seen(self) -> int:
        return int(str(QSettings().value(SEEN, 0)))

    def allow(self, allowed: bool) -> None:
        """Hints only where they can be followed: with a trip, and something on the shelf."""
        self._allowed = allowed
        self._show()

    def show_next(self) -> None:
        """Put this hint away."""
        QSettings().setValue(SEEN, self.seen + 1)
        self._show()

    def put_away(self) -> None:
        """Put all of them away."""
        QSettings().setValue(SEEN, len(HINTS))
        self._show()

    def _show(self) -> None:
        index = self.seen
        self.setVisible(self._allowed and index < len(HINTS))
        if index < len(HINTS):
            self.text.setText(HINTS[index])
            self.text.setToolTip(HINTS[index])
