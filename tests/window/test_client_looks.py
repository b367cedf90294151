"""While a client looks on, nothing in the window tells a net price or a margin."""

from dataclasses import replace

import pytest
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from lacet.language import to_say
from lacet.service.eyes import for_eyes
from lacet.trip.finding import Finding, Level
from lacet.window.app import open_window
from lacet.window.commands.listed import Need
from lacet.window.main_window import MainWindow
from lacet.window.price.panel import QuotePanel
from lacet.window.price.what_if import WhatIfPanel
from lacet.window.qt_session import QtSession


@pytest.fixture
def window(session: QtSession, qtbot: QtBot) -> MainWindow:
    made = MainWindow(session, open_window)
    qtbot.addWidget(made)
    return made


def test_findings_about_prices_are_for_the_office_alone(session: QtSession) -> None:
    opened = session.opened
    assert opened is not None
    dear = Finding(
        check="price_known",
        code="no_price",
        level=Level.NOTE,
        subject=(),
        day=1,
        says=to_say("Booked at 95 EUR."),
    )
    shown = replace(opened, assessment=replace(opened.assessment, findings=(dear,)))
    assert for_eyes(shown, client_looks_on=True).assessment.findings == ()
    assert for_eyes(shown, client_looks_on=False).assessment.findings == (dear,)


def test_the_library_and_the_settings_stay_closed(window: MainWindow, session: QtSession) -> None:
    session.let_client_look(True)
    assert window.header.looks.isChecked()
    for what in ("library", "settings", "bring"):
        window.header.show_sentence("")
        window.commands.run(what)
        assert window.header.sentence.text() == Need.OFFICE
    assert window.library is None


def test_other_windows_are_made_once(window: MainWindow) -> None:
    for what in ("price", "what if", "compare"):
        window.others.made[what] = QWidget(window)
        made = window.others.made[what]
        window.commands.run(what)
        assert window.others.made[what] is made
        assert not made.isHidden()


def told_by(widget: QWidget) -> str:
    """Everything the accessibility tree tells of a window, its hidden parts and closed lists included."""
    said: list[str] = []

    def walk(each: QAccessibleInterface) -> None:
        said.extend(each.text(kind) for kind in (QAccessible.Text.Name, QAccessible.Text.Value))
        for index in range(each.childCount()):
            child = each.child(index)
            if child.isValid():
                walk(child)

    walk(QAccessible.queryAccessibleInterface(widget))
    return " ".join(said)


def test_the_accessibility_tree_of_the_price_tells_no_terms(session: QtSession, qtbot: QtBot) -> None:
    panel = QuotePanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert "the house's mark-up, 25 %" in told_by(panel)
    session.let_client_look(True)
    told = told_by(panel)
    assert "25 %" not in told
    assert "mark-up on" not in told
    assert "Net " not in told
    session.let_client_look(False)
    assert "the house's mark-up, 25 %" in told_by(panel)


def test_the_accessibility_tree_of_what_it_would_cost_tells_no_net_price(
    session: QtSession, qtbot: QtBot
) -> None:
    panel = WhatIfPanel(session)
    qtbot.addWidget(panel)
    panel.show()
    session.let_client_look(True)
    told = told_by(panel).split()
    assert "Net" not in told
    assert "Margin" not in told


@pytest.mark.parametrize("kind", [QuotePanel, WhatIfPanel])
def test_a_closed_window_tells_nothing_of_the_office_either(
    kind: type[QuotePanel | WhatIfPanel], session: QtSession, qtbot: QtBot
) -> None:
    """Closed it still stands in the accessibility tree."""
    panel = kind(session)
    qtbot.addWidget(panel)
    panel.show()
    panel.close()
    assert "Net" in told_by(panel)
    session.let_client_look(True)
    told = told_by(panel)
    assert "Net" not in told
    assert "net unknown" not in told


@pytest.mark.parametrize("kind", [QuotePanel, WhatIfPanel])
def test_a_window_opened_again_or_made_while_a_client_looks_on_tells_nothing_of_the_office(
    kind: type[QuotePanel | WhatIfPanel], session: QtSession, qtbot: QtBot
) -> None:
    again = kind(session)
    qtbot.addWidget(again)
    again.show()
    again.close()
    session.let_client_look(True)
    again.show()
    made = kind(session)
    qtbot.addWidget(made)
    made.show()
    for panel in (again, made):
        qtbot.waitUntil(lambda panel=panel: not getattr(panel, "busy", False))  # type: ignore[misc]
        told = told_by(panel)
        assert [word for word in ("25 %", "mark-up", "Net", "argin", "ommission") if word in told] == []
