"""Windows beside the sheet, made when first asked for: price, what if, variants, standard trip, bookings."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from lacet.window.qt_session import QtSession


class OtherWindows:
    """One of each; asked for again, it comes to the front."""

    def __init__(self, session: QtSession, parent: QWidget) -> None:
        self._session = session
        self._parent = parent
        self.made: dict[str, QWidget] = {}

    def show(self, what: str) -> None:
        """Show 'price', 'what if', 'compare', 'since standard' or 'bookings'."""
        if what not in self.made:
            self.made[what] = _MAKERS[what](self, self._session, self._parent)
        window = self.made[what]
        window.show()
        window.raise_()
        window.activateWindow()


# Plots, and what else these windows need, are no part of the first second of the main window.
def _price(others: OtherWindows, session: QtSession, parent: QWidget) -> QWidget:
    from lacet.window.price.panel import QuotePanel

    made = QuotePanel(session, parent)
    made.what_if_wanted.connect(lambda: others.show("what if"))
    return made


def _what_if(_: OtherWindows, session: QtSession, parent: QWidget) -> QWidget:
    from lacet.window.price.what_if import WhatIfPanel

    return WhatIfPanel(session, parent)


def _compare(_: OtherWindows, session: QtSession, parent: QWidget) -> QWidget:
    from lacet.window.compare.panel import ComparePanel

    return ComparePanel(session, parent)


def _since(_: OtherWindows, session: QtSession, parent: QWidget) -> QWidget:
    from lacet.window.standards import SinceStandard

    return SinceStandard(session, parent)


def _bookings(_: OtherWindows, session: QtSession, parent: QWidget) -> QWidget:
    from lacet.window.bookings import BookingsPanel

    return BookingsPanel(session, parent)


_MAKERS: dict[str, Callable[[OtherWindows, QtSession, QWidget], QWidget]] = {
    "price": _price,
    "what if": _what_if,
    "compare": _compare,
    "since standard": _since,
    "bookings": _bookings,
}
