"""Licences in the window: every package by keyboard, its text beside it."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from lacet.licences import licences
from lacet.window.app import open_window
from lacet.window.dialogs.licences import LicencesDialog
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession


def test_the_chosen_package_shows_its_text(qtbot: QtBot) -> None:
    dialog = LicencesDialog()
    qtbot.addWidget(dialog)
    assert dialog.packages.count() == len(licences())
    assert dialog.text.toPlainText().rstrip("\n") == licences()[0].text.rstrip("\n")
    qtbot.keyClick(dialog.packages, Qt.Key.Key_Down)
    assert dialog.text.toPlainText().rstrip("\n") == licences()[1].text.rstrip("\n")


def test_the_menu_of_the_title_asks_for_them(
    qtbot: QtBot, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    shown: list[str] = []
    monkeypatch.setattr(LicencesDialog, "exec", lambda dialog: shown.append(dialog.windowTitle()))
    next(each for each in window.header.title.menu().actions() if each.text() == "Licences…").trigger()
    assert shown == ["Licences"]
