"""Where on the line one is: a distance, and a stretch between two. The one thing map and profile share."""

from PySide6.QtCore import QObject, Signal


class Cursor(QObject):
    """`moved(at_m)`, `hovered(at_m | None)` and `stretched(from_m, to_m)`; a stretch of no length is none."""

    moved = Signal(float)
    hovered = Signal(object)
    stretched = Signal(float, float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.length_m = 0.0
        self.at_m = 0.0
        self.stretch_m = (0.0, 0.0)

    def begin(self, length_m: float) -> None:
        """Another line, or the same one changed: stay where one is as far as it goes."""
        self.length_m = length_m
        from_m, to_m = (min(each, length_m) for each in self.stretch_m)
        self.move(min(self.at_m, length_m), always=True)
        self.stretch(from_m, to_m)

    def move(self, at_m: float, *, always: bool = False) -> None:
        """Be at a distance."""
        at_m = min(max(at_m, 0.0), self.length_m)
        if always or at_m != self.at_m:
            self.at_m = at_m
            self.moved.emit(at_m)

    def hover(self, at_m: float | None) -> None:
        """Point at a distance in passing."""
        self.hovered.emit(at_m)

    def stretch(self, one_m: float, two_m: float) -> None:
        """Choose a stretch, whichever end comes first."""
        from_m, to_m = sorted(min(max(each, 0.0), self.length_m) for each in (one_m, two_m))
        if (from_m, to_m) != self.stretch_m:
            self.stretch_m = (from_m, to_m)
            self.stretched.emit(from_m, to_m)
