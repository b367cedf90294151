"""While a client looks on, nothing in the window tells a net price or a margin."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from lacet.trip.finding import Finding, Level
from lacet.window.eyes import for_eyes
from lacet.window.main_window import NOT_NOW, MainWindow
from lacet.window.qt_session import QtSession


@pytest.fixture
def window(session: QtSession, qtbot: QtBot) -> MainWindow:
    made = MainWindow(session)
    qtbot.addWidget(made)
    return made


def test_findings_about_prices_are_for_the_office_alone(session: QtSession) -> None:
    opened = session.opened
    assert opened is not None
    dear = Finding(check="price_known", level=Level.NOTE, subject="x", day=1, says="Booked at 95.00 EUR.")
    shown = replace(opened, assessment=replace(opened.assessment, findings=(dear,)))
    assert for_eyes(shown, client_looks_on=True).assessment.findings == ()
    assert for_eyes(shown, client_looks_on=False).assessment.findings == (dear,)


def test_the_library_and_the_settings_stay_closed(window: MainWindow, session: QtSession) -> None:
    session.let_client_look(True)
    assert window.header.looks.isChecked()
    for what in ("library", "settings", "bring"):
        window.header.show_sentence("")
        window.header.wants.emit(what)
        assert window.header.sentence.text() == NOT_NOW
    assert window.library is None


def test_other_windows_are_made_once(window: MainWindow) -> None:
    for what in ("price", "what if", "compare"):
        window.others.made[what] = QWidget(window)
        made = window.others.made[what]
        window.header.wants.emit(what)
        assert window.others.made[what] is made
        assert not made.isHidden()
