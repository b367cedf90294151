"""Everything a mouse can do on the sheet can be done from the keyboard (WCAG 2.2, 2.1.1 and 2.5.7)."""

from datetime import time
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from lacet.service.sheet.table import RowKind
from lacet.trip.trip import Leg, Rest
from lacet.window.app import open_window
from lacet.window.dialogs.base import FormDialog
from lacet.window.dialogs.day import DayAnswer, DayDialog
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession
from lacet.window.settle_panel import CauseRow, FixButton, SettlePanel
from lacet.window.sheet.panel import SheetPanel
from lacet.window.shelf.panel import ShelfPanel

if TYPE_CHECKING:
    from lacet.trip.trip import Day

ENTER, SPACE, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Escape
LEFT, RIGHT, UP = Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up


@pytest.fixture
def sheet(session: QtSession, qtbot: QtBot) -> SheetPanel:
    made = SheetPanel(session)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    with qtbot.waitExposed(made):
        made.show()
    return made


def stand_on(sheet: SheetPanel, kind: RowKind, day: int) -> None:
    table = sheet.model.table
    assert table is not None
    sheet.view.setCurrentIndex(sheet.model.index(table.row_of(kind), table.columns_of_day(day)[0]))


def press(qtbot: QtBot, sheet: SheetPanel, *keys: Qt.Key) -> None:
    for key in keys:
        qtbot.keyClick(sheet.view, key)


def days_of(session: QtSession) -> tuple["Day", ...]:
    assert session.opened is not None
    return session.opened.variant.days


def test_a_card_is_carried_to_another_day_before_the_card_there(
    qtbot: QtBot, session: QtSession, sheet: SheetPanel
) -> None:
    stand_on(sheet, RowKind.CARD, 0)
    press(qtbot, sheet, SPACE, RIGHT, RIGHT, RIGHT, RIGHT, UP)
    assert "on day 3, before card 1" in sheet.hover_text.text()
    press(qtbot, sheet, ENTER)
    assert [[item.id for item in day.items] for day in days_of(session)] == [[], ["i2"], ["i1", "i3"]]


def test_a_day_is_carried_past_another(qtbot: QtBot, session: QtSession, sheet: SheetPanel) -> None:
    stand_on(sheet, RowKind.PROFILE, 2)
    press(qtbot, sheet, SPACE, LEFT)
    assert sheet.hover_text.text().startswith("Day 3: before day 2")
    press(qtbot, sheet, ENTER)
    assert [day.id for day in days_of(session)] == ["d1", "d3", "d2"]


def test_the_end_of_a_stay_is_pulled_a_night_further_and_back(
    qtbot: QtBot, session: QtSession, sheet: SheetPanel
) -> None:
    stand_on(sheet, RowKind.NIGHT, 0)
    press(qtbot, sheet, SPACE, RIGHT)
    assert "The stay at Birch House: a night longer" in sheet.hover_text.text()
    press(qtbot, sheet, ENTER)
    houses = [day.nights[0].lodging.id for day in days_of(session)]
    assert houses.count("birch-house") == 3
    stand_on(sheet, RowKind.NIGHT, 0)
    press(qtbot, sheet, SPACE, LEFT, ENTER)
    assert [day.nights[0].lodging.id for day in days_of(session)].count("birch-house") == 2


@pytest.mark.parametrize("kind", [RowKind.CARD, RowKind.NIGHT, RowKind.CHECKS])
def test_escape_leaves_no_trace_of_anything_in_hand(
    qtbot: QtBot, session: QtSession, sheet: SheetPanel, kind: RowKind
) -> None:
    before = session.opened
    stand_on(sheet, kind, 1)
    press(qtbot, sheet, SPACE, RIGHT)
    assert sheet.carry.active
    press(qtbot, sheet, ESCAPE)
    assert sheet.carry.payload is None
    assert session.session.preview is None
    assert session.opened == before


def test_a_stage_of_the_shelf_is_taken_in_hand_and_dropped_as_a_new_day(
    qtbot: QtBot, session: QtSession, sheet: SheetPanel
) -> None:
    shelf = ShelfPanel(session)
    qtbot.addWidget(shelf)
    with qtbot.waitExposed(shelf):
        shelf.show()
    stand_on(sheet, RowKind.CARD, 0)
    shelf.refresh()
    shelf.finder.setFocus()
    shelf.go_to_list()
    assert shelf.list.hasFocus() or not shelf.isActiveWindow()
    qtbot.keyClick(shelf.list, ENTER)
    press(qtbot, sheet, RIGHT, ENTER)
    days = days_of(session)
    assert len(days) == 4
    assert isinstance(days[1].items[0], Leg)
    assert isinstance(days[2].items[0], Rest)


@pytest.mark.parametrize("key", [Qt.Key.Key_F2, ENTER])
def test_the_day_opens_for_editing(
    qtbot: QtBot, session: QtSession, sheet: SheetPanel, monkeypatch: pytest.MonkeyPatch, key: Qt.Key
) -> None:
    answer = DayAnswer(time(8, 15), None, briefing=True, note="early")
    monkeypatch.setattr(DayDialog, "ask", lambda *_: answer)
    stand_on(sheet, RowKind.DISTANCE, 2)
    press(qtbot, sheet, key)
    assert days_of(session)[2].departs == time(8, 15)
    assert days_of(session)[2].note == "early"


def test_the_menu_key_asks_about_the_cell_the_keyboard_is_on(qtbot: QtBot, sheet: SheetPanel) -> None:
    stand_on(sheet, RowKind.CHECKS, 1)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, QPoint(0, 0), QPoint(0, 0))
    sheet.view.day_menu_wanted.disconnect()
    with qtbot.waitSignal(sheet.view.day_menu_wanted) as asked:
        sheet.view.contextMenuEvent(event)
    assert asked.args is not None
    assert asked.args[0] == 1


def test_everything_that_takes_the_focus_has_a_name(qtbot: QtBot, session: QtSession) -> None:
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    session.session.reload_library()
    takes = [each for each in window.findChildren(QWidget) if each.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert len(takes) > 15
    nameless = [
        each
        for each in takes
        if not each.accessibleName() and not (isinstance(each, QAbstractButton) and each.text())
    ]
    assert [f"{type(each).__name__} in {type(each.parent()).__name__}" for each in nameless] == []


def test_a_finding_is_reached_by_key_and_its_fix_is_shown_before_it_is_taken(
    qtbot: QtBot, session: QtSession
) -> None:
    settle = SettlePanel(session)
    qtbot.addWidget(settle)
    with qtbot.waitExposed(settle):
        settle.show()
    settle.refresh()
    settle.prove_now()
    qtbot.waitUntil(lambda: bool(settle.findChildren(FixButton)))
    row = next(each for each in settle.findChildren(CauseRow) if each.line.days)
    qtbot.keyClick(row, ENTER)
    assert session.selection.day == row.line.days[0] - 1
    fix = settle.findChildren(FixButton)[0]
    fix.setFocus()
    qtbot.waitUntil(lambda: session.session.preview is not None)
    row.setFocus()
    assert session.session.preview is None
    before = session.opened
    qtbot.keyClick(fix, SPACE)
    assert session.opened != before


def test_a_form_begins_in_its_first_field_and_comes_to_its_buttons_last(qtbot: QtBot) -> None:
    form = FormDialog("Form", "Keep")
    first, second = QLineEdit(), QLineEdit()
    form.form.addRow("First", first)
    form.form.addRow("Second", second)
    qtbot.addWidget(form)
    with qtbot.waitExposed(form):
        form.show()
    qtbot.waitUntil(lambda: form.focusWidget() is first)
    qtbot.keyClick(first, Qt.Key.Key_Tab)
    assert form.focusWidget() is second
    qtbot.keyClick(second, Qt.Key.Key_Tab)
    assert form.buttons.isAncestorOf(form.focusWidget())
