"""The row of variants: a menu on each, and names that give way to letters where there is no room."""

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QInputDialog, QWidget
from pytestqt.qtbot import QtBot

from lacet.trip import edits
from lacet.window.qt_session import QtSession
from lacet.window.variant_menu import copy, propose, rename, take_out
from lacet.window.variant_tabs import VariantTabs


def names(session: QtSession) -> list[str]:
    assert session.opened is not None
    return [variant.name for variant in session.opened.trip.variants]


def test_a_variant_is_renamed_copied_proposed_and_taken_out(
    qtbot: QtBot, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    monkeypatch.setattr(QInputDialog, "getText", lambda *_, **__: ("The short one", True))
    rename(session, "v1", window)
    assert names(session) == ["The short one"]
    copy(session, "v1")
    assert len(names(session)) == 2
    assert session.opened is not None
    other = session.opened.trip.variants[1].id
    propose(session, other)
    assert session.opened.trip.proposed == other
    take_out(session, other)
    assert names(session) == ["The short one"]
    with qtbot.waitSignal(session.refused):
        take_out(session, "v1")
    session.undo()
    assert len(names(session)) == 2


def test_the_menu_of_a_tab_is_about_its_variant(qtbot: QtBot, session: QtSession) -> None:
    tabs = VariantTabs()
    qtbot.addWidget(tabs)
    assert session.opened is not None
    tabs.show_variants(session.opened)
    with qtbot.waitSignal(tabs.menu_wanted) as asked:
        tabs.tabs[0].customContextMenuRequested.emit(QPoint(1, 1))
    assert asked.args is not None
    assert asked.args[0] == "v1"


def test_tabs_give_way_down_to_their_letters(qtbot: QtBot, session: QtSession) -> None:
    for number in range(4):
        session.apply(lambda trip: edits.add_variant(trip, "Nine days on foot and by bike"), f"{number}")
    tabs = VariantTabs()
    qtbot.addWidget(tabs)
    assert session.opened is not None
    tabs.show_variants(session.opened)
    tabs.resize(900, 30)
    with qtbot.waitExposed(tabs):
        tabs.show()
    assert all("Nine" in tab.text() for tab in tabs.tabs[1:])
    tabs.resize(tabs.minimumSizeHint().width(), 30)
    assert [tab.text() for tab in tabs.tabs[1:]] == ["B", "C", "D", "E"]
    assert all(tab.accessibleName().endswith("by bike") for tab in tabs.tabs[1:])
