"""How variants are told apart: a letter and a width of line each, a colour besides. Never dots: on foot.

A variant keeps its width while the others come and go beside it. Where lines run together, the widest lies
below, so that all of them can still be counted.
"""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap

from lacet.window.theme import Theme

WIDTHS = (5.4, 3.6, 2.2, 1.1)
_COLOURS = {
    "light": ("#1d2b33", "#a2559f", "#5f6b14", "#00695f"),
    "dark": ("#eceae3", "#c58fd0", "#c3cf6e", "#5fd0c0"),
}
SWATCH = QSize(26, 12)


def colour_of(index: int, theme: Theme) -> QColor:
    """Of the variant at this place of the comparison."""
    return QColor(_COLOURS[theme.name][index])


def pen_of(index: int, theme: Theme) -> QPen:
    """An unbroken line of its colour and width."""
    pen = QPen(colour_of(index, theme), WIDTHS[index])
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCosmetic(True)
    return pen


def swatch(index: int | None, theme: Theme) -> QIcon:
    """A short piece of the line; nothing for a variant that isn't shown."""
    picture = QPixmap(SWATCH * 2)
    picture.setDevicePixelRatio(2)
    picture.fill(Qt.GlobalColor.transparent)
    if index is not None:
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(pen_of(index, theme))
        painter.drawLine(5, SWATCH.height() // 2, SWATCH.width() - 5, SWATCH.height() // 2)
        painter.end()
    return QIcon(picture)
