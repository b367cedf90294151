"""Whatever can be reached in the windows of price and comparison has a name a screen reader can say."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QScrollBar, QWidget
from pytestqt.qtbot import QtBot

from lacet.trip import edits
from lacet.trip.money import Money
from lacet.window.compare.accept import AcceptDialog
from lacet.window.compare.panel import ComparePanel
from lacet.window.price.panel import QuotePanel
from lacet.window.price.what_if import WhatIfPanel
from lacet.window.qt_session import QtSession
from lacet.window.standards import NameDialog, SinceStandard

WINDOWS: tuple[Callable[[QtSession], QWidget], ...] = (
    QuotePanel,
    WhatIfPanel,
    ComparePanel,
    SinceStandard,
    lambda _: AcceptDialog("A", Money(Decimal(1), "EUR"), date(2027, 1, 1)),
    lambda _: NameDialog("Hill and lane"),
)


@pytest.mark.parametrize("make", WINDOWS)
def test_everything_that_takes_the_keyboard_has_a_name(
    make: Callable[[QtSession], QWidget], session: QtSession, qtbot: QtBot
) -> None:
    assert session.apply(lambda trip: edits.copy_variant(trip, "v1"), "copy")
    window = make(session)
    qtbot.addWidget(window)
    reached = [each for each in window.findChildren(QWidget) if _is_reached(each, window)]
    assert reached
    assert [each for each in reached if not _name(each)] == []


def _is_reached(widget: QWidget, window: QWidget) -> bool:
    """Lists that drop down are windows of their own; a viewport is its area's."""
    parent = widget.parentWidget()
    is_viewport = isinstance(parent, QAbstractScrollArea) and parent.viewport() is widget
    takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    return takes and widget.window() is window and not is_viewport and not isinstance(widget, QScrollBar)


def _name(widget: QWidget) -> str:
    """Its own, the text of a button, or that of the field an inner line belongs to."""
    own = widget.text() if isinstance(widget, QAbstractButton) else ""
    parent = widget.parentWidget()
    inner = parent.accessibleName() if parent is not None and widget.objectName().startswith("qt_") else ""
    return widget.accessibleName() or own or inner
