"""A layout that sets widgets in lines and breaks them as text breaks."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

GAP = 6


class FlowLayout(QLayout):
    """Left to right, then the next line; `indent` moves every line in [px]."""

    def __init__(self, parent: QWidget | None = None, indent: int = 0) -> None:
        super().__init__(parent)
        self.indent = indent
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def _arrange(self, rect: QRect, *, move: bool) -> int:
        x, y, high = rect.left() + self.indent, rect.top(), 0
        for item in self._items:
            size = item.sizeHint()
            width = min(size.width(), max(rect.width() - self.indent, 40))
            if x + width > rect.right() + 1 and high:
                x, y, high = rect.left() + self.indent, y + high + GAP, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), QSize(width, size.height())))
            x, high = x + width + GAP, max(high, size.height())
        return y + high - rect.top()

    # --- Qt overrides

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._arrange(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        width = max((item.minimumSize().width() for item in self._items), default=0)
        return QSize(width + self.indent, self.heightForWidth(max(self.geometry().width(), width)))
