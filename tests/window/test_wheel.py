"""Turning the wheel over a form scrolls it and answers nothing, in every window there is."""

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QFormLayout,
    QScrollArea,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

import lacet.window
from lacet.trip.money import Money
from lacet.window.compare.panel import ComparePanel
from lacet.window.dialogs.party import PartyDialog
from lacet.window.dialogs.settings import SettingsDialog
from lacet.window.dialogs.trips import EnquiryDialog
from lacet.window.fields import ComboBox, SpinBox
from lacet.window.intake.desk import DropTable
from lacet.window.library.desk import LibraryDesk
from lacet.window.price.panel import QuotePanel
from lacet.window.price.what_if import WhatIfPanel
from lacet.window.qt_session import QtSession
from lacet.window.settings import settings_now
from lacet.window.sheet.panel import SheetPanel
from lacet.window.shelf.panel import ShelfPanel
from lacet.window.wheel import guarded_field

EUROS = Money(Decimal(1), "EUR")


def turn(widget: QWidget) -> None:
    """One click of the wheel, towards its hand and away from it."""
    at = QPointF(widget.rect().center())
    for delta in (-120, 120, 120):
        event = QWheelEvent(
            at, widget.mapToGlobal(at), QPoint(), QPoint(0, delta), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(widget, event)


def turn_over(widget: QWidget, delta: int) -> None:
    """One click of the wheel as the window system tells it, on its way through all that stands around."""
    window = widget.window()
    QTest.wheelEvent(
        window.windowHandle(), QPointF(widget.mapTo(window, widget.rect().center())), QPoint(0, delta)
    )


def answer(field: QWidget) -> object:
    if isinstance(field, QAbstractSpinBox):
        return field.text()
    if isinstance(field, QComboBox | QTabBar):
        return field.currentIndex()
    return field.value() if isinstance(field, QAbstractSlider) else None


WINDOWS: dict[str, Callable[[QtSession], QWidget]] = {
    "price": QuotePanel,
    "what if": WhatIfPanel,
    "compare": ComparePanel,
    "shelf": ShelfPanel,
    "sheet": SheetPanel,
    "enquiry": lambda session: EnquiryDialog((), date(2026, 11, 25)),
    "party": lambda session: PartyDialog(session.opened.trip.party) if session.opened else QWidget(),
    "settings": lambda session: SettingsDialog(settings_now(session), EUROS),
    "library": lambda session: LibraryDesk(session, None, lambda *_: None),
    "drop table": lambda session: DropTable(session, None),
}


@pytest.mark.parametrize("name", WINDOWS)
def test_the_wheel_changes_no_answer_in_any_window(name: str, session: QtSession, qtbot: QtBot) -> None:
    window = WINDOWS[name](session)
    qtbot.addWidget(window)
    fields = [each for each in window.findChildren(QWidget) if guarded_field(each) is each]
    for field in fields:
        field.ensurePolished()
        before = answer(field)
        turn(field)
        assert answer(field) == before, f"{name}: {field.accessibleName() or type(field).__name__}"
        assert field.focusPolicy() != Qt.FocusPolicy.WheelFocus


def scrolled_form(qtbot: QtBot) -> tuple[QScrollArea, list[SpinBox]]:
    inner, area = QWidget(), QScrollArea()
    rows = QFormLayout(inner)
    fields = [SpinBox() for _ in range(30)]
    for field in fields:
        field.setRange(-9, 9)
        rows.addRow("Answer", field)
    area.setWidget(inner)
    area.resize(240, 160)
    qtbot.addWidget(area)
    area.show()
    return area, fields


def test_the_page_scrolls_instead(qtbot: QtBot) -> None:
    area, fields = scrolled_form(qtbot)
    area.verticalScrollBar().setValue(200)
    shown = next(each for each in fields if each.visibleRegion().boundingRect() == each.rect())
    turn_over(shown, 120)
    assert shown.value() == 0
    assert area.verticalScrollBar().value() < 200


def test_a_field_that_was_clicked_into_takes_the_wheel_until_another_is(qtbot: QtBot) -> None:
    _, fields = scrolled_form(qtbot)
    first, second = fields[:2]
    first.setFocus()  # as a dialog does with its first field
    turn_over(first, 120)
    assert first.value() == 0
    QTest.mouseClick(first.lineEdit(), Qt.MouseButton.LeftButton)
    turn_over(first, 120)
    assert first.value() == 1
    QTest.mouseClick(second.lineEdit(), Qt.MouseButton.LeftButton)
    turn_over(first, 120)
    assert first.value() == 1


def test_a_list_that_becomes_editable_is_guarded_in_its_line_too(qtbot: QtBot) -> None:
    field = ComboBox()
    field.addItems(["one", "two", "three"])
    field.setEditable(True)
    qtbot.addWidget(field)
    field.show()
    turn(field)
    assert field.currentIndex() == 0
    line = field.lineEdit()
    assert line is not None
    QTest.mouseClick(line, Qt.MouseButton.LeftButton)
    turn_over(field, -120)
    assert field.currentIndex() == 1


def test_every_field_of_the_program_is_a_guarded_one() -> None:
    made = re.compile(
        r"\b(QSpinBox|QDoubleSpinBox|QComboBox|QDateEdit|QTimeEdit|QDateTimeEdit|QSlider|QTabWidget)\("
    )
    bare = {
        f"{path.name}: {line.strip()}"
        for path in Path(lacet.window.__file__).parent.rglob("*.py")
        for line in path.read_text().splitlines()
        if made.search(line) and not line.startswith("class ")
    }
    assert not bare
