"""The bookings of a trip beside it: what becomes of them is written down, and undo leaves them alone."""

from datetime import date

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from lacet.trip import bookings, edits
from lacet.trip.bookings import Booking
from lacet.trip.words import BookingState, Service
from lacet.window.bookings import NOTHING, BookingsPanel
from lacet.window.qt_session import QtSession
from lacet.window.settle_panel import FixButton, SettlePanel

BIRCH = Booking(
    id="",
    service=Service.LODGING,
    supplier="birch-house",
    detail="double",
    from_day=date(2027, 5, 8),
    to_day=date(2027, 5, 10),
    state=BookingState.OPTION,
    option_until=date(2027, 1, 7),
)


@pytest.fixture
def panel(session: QtSession, qtbot: QtBot) -> BookingsPanel:
    made = BookingsPanel(session)
    qtbot.addWidget(made)
    made.show()
    return made


def shown(panel: BookingsPanel) -> list[list[str]]:
    cells = [
        [panel.table.item(row, column) for column in range(panel.table.columnCount())]
        for row in range(panel.table.rowCount())
    ]
    return [[cell.text() if cell else "" for cell in row] for row in cells]


def acts(panel: BookingsPanel) -> list[str]:
    return [panel.history.item(row).text() for row in range(panel.history.count())]


def press(panel: BookingsPanel, text: str) -> None:
    next(each for each in panel.findChildren(QPushButton) if each.text() == text).click()


def test_a_booking_is_told_answered_and_taken_out(session: QtSession, panel: BookingsPanel) -> None:
    assert (shown(panel), acts(panel)) == ([], [NOTHING])
    assert not any(button.isEnabled() for button in panel.buttons)
    assert session.book(lambda held: bookings.add(held, BIRCH), "ask Birch House")
    assert shown(panel) == [
        ["Birch House", "1 × rooms, double", "Sat 8 May to Mon 10 May", "option until Thu 7 Jan"]
    ]
    press(panel, "Confirmed")
    assert shown(panel)[0][-1] == "confirmed"
    assert acts(panel)[0].endswith(": Birch House confirmed, was option")
    session.undo()
    assert shown(panel)[0][-1] == "confirmed", "nothing of the trip was edited"
    press(panel, "Cancelled")
    assert shown(panel)[0][-1] == "cancelled"
    press(panel, "Take out")
    assert shown(panel) == []
    assert [line.partition(": ")[2] for line in acts(panel)] == [
        "Birch House taken out",
        "Birch House cancelled, was confirmed",
        "Birch House confirmed, was option",
        "Birch House written down as option",
    ]


def test_the_remedy_of_a_finding_books_and_undo_takes_back_the_edit_before(
    session: QtSession, panel: BookingsPanel, qtbot: QtBot
) -> None:
    session.apply(lambda trip: edits.propose(trip, "v1"), "propose")
    inner = session.session
    findings = inner.need_open().assessment.findings
    (fix, *_) = inner.fixes_of(next(each for each in findings if each.code == "unasked"))
    settle = SettlePanel(session)
    qtbot.addWidget(settle)
    button = FixButton(session, fix)
    qtbot.addWidget(button)
    button.click()
    assert [row[-1] for row in shown(panel)] == ["requested"]
    session.undo()
    assert inner.need_open().trip.proposed is None
    assert [row[-1] for row in shown(panel)] == ["requested"]
