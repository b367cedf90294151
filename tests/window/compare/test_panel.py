"""Side by side: follows every edit, takes days from one variant into another, hides what is the office's."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from lacet.compare.lines import variant_line
from lacet.service.taking import MIME, TakenDays, days_of, taken_from
from lacet.trip import edits
from lacet.trip.drop import PayloadRefused
from lacet.trip.money import Money
from lacet.window.compare.accept import AcceptDialog
from lacet.window.compare.panel import ComparePanel
from lacet.window.qt_session import QtSession


def copy(session: QtSession) -> list[str]:
    """Copy the open variant; the ids of all."""
    here = session.opened
    assert here is not None
    assert session.apply(lambda trip: edits.copy_variant(trip, here.variant_id), "copy")
    after = session.opened
    assert after is not None
    return [variant.id for variant in after.trip.variants]


def test_side_by_side_follows_one_edit_after_another(session: QtSession, qtbot: QtBot) -> None:
    """The boxes of the edit before are deleted for good between edits, as an event loop does."""
    shown = copy(session)
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    assert panel.chosen() == shown
    for _ in range(3):
        copy(session)
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        assert panel.chosen() == shown, "what the person chose stays chosen, each once"


def test_other_variants_are_assessed_again_under_other_house_rules(session: QtSession, qtbot: QtBot) -> None:
    copy(session)
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    opened = session.opened
    assert opened is not None
    other = next(each for each in opened.trip.variants if each.id != opened.variant_id)
    before = panel.assessed.of(opened, other)
    assert panel.assessed.of(opened, other) is before
    inner = session.session
    inner.keep_rules(replace(inner.rules, walking_limit_m=1_000.0))
    assert session.opened is not None
    after = panel.assessed.of(session.opened, other)
    assert len(after.findings) > len(before.findings)


def test_a_profile_is_broken_where_guests_are_driven(session: QtSession) -> None:
    """Up to Birch on foot, and on from Alder: nothing was climbed down in between."""
    opened = session.opened
    assert opened is not None
    whole = variant_line(opened.assessment.figures)
    first, last = opened.trip.variants[0].days[0], opened.trip.variants[0].days[-1]
    assert not np.isnan(whole.height_m).any()
    again = replace(first.items[0], id="again")
    assert session.apply(lambda trip: edits.place_item(trip, opened.variant_id, last.id, again), "again")
    broken = variant_line(session.session.opened.assessment.figures)  # type: ignore[union-attr]  # it is open
    assert np.isnan(broken.height_m).sum() == 1
    assert not np.isnan(broken.height_m[-1])


@pytest.fixture
def beside(session: QtSession, qtbot: QtBot) -> ComparePanel:
    """The trip and a copy of it, as v1 and v2, beside each other."""
    copy(session)
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    return panel


def variant_days(session: QtSession, index: int) -> list[list[str]]:
    opened = session.opened
    assert opened is not None
    return [[type(item).__name__ for item in day.items] for day in opened.trip.variants[index].days]


def spot(panel: ComparePanel, line: int, side: int, *, edge: bool = False) -> QPoint:
    box = panel.days.visualRect(panel.days.model().index(line, side))
    return QPoint(box.center().x(), box.top() + 2 if edge else box.center().y())


def drop(panel: ComparePanel, taken: TakenDays, at: QPoint) -> bool:
    data = QMimeData()
    data.setData(MIME, taken.to_bytes())
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(at, Qt.DropAction.CopyAction, data, buttons, keys)
    panel.days.dragEnterEvent(enter)
    assert enter.isAccepted()
    panel.days.dragMoveEvent(QDragMoveEvent(at, Qt.DropAction.CopyAction, data, buttons, keys))
    event = QDropEvent(QPointF(at), Qt.DropAction.CopyAction, data, buttons, keys)
    event.ignore()
    panel.days.dropEvent(event)
    return event.isAccepted()


def taken(panel: ComparePanel, side: int, *lines: int) -> TakenDays:
    assert panel.found is not None
    found = days_of(panel.found, side, lines)
    assert found is not None
    return found


def test_a_day_dropped_on_another_takes_its_place(
    beside: ComparePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(beside):
        beside.show()
    assert session.apply(lambda trip: edits.remove_item(trip, "v2", "i2"), "empty the second day")
    assert variant_days(session, 1) == [["Leg"], [], ["Leg"]]
    assert drop(beside, taken(beside, 0, 1), spot(beside, 1, 1))
    assert variant_days(session, 1) == [["Leg"], ["Rest"], ["Leg"]]
    assert session.undo()
    assert variant_days(session, 1) == [["Leg"], [], ["Leg"]]


def test_a_run_of_days_dropped_between_two_is_put_in(
    beside: ComparePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(beside):
        beside.show()
    assert drop(beside, taken(beside, 0, 1, 2), spot(beside, 0, 1, edge=True))
    assert variant_days(session, 1) == [["Rest"], ["Leg"], ["Leg"], ["Rest"], ["Leg"]]


def test_a_day_held_over_a_column_shows_what_it_would_become_and_leaves_no_trace(
    beside: ComparePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(beside):
        beside.show()
    before = session.opened
    data = QMimeData()
    data.setData(MIME, taken(beside, 0, 0).to_bytes())
    at = spot(beside, 1, 1, edge=True)
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    beside.days.dragMoveEvent(QDragMoveEvent(at, Qt.DropAction.CopyAction, data, buttons, keys))
    assert [item.text() for item in beside.figures.findItems("4", Qt.MatchFlag.MatchExactly)]
    beside.days.dragLeaveEvent(QDragLeaveEvent())
    assert not beside.figures.findItems("4", Qt.MatchFlag.MatchExactly)
    assert session.opened is before


def test_a_day_let_go_on_its_own_variant_changes_nothing(
    beside: ComparePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(beside):
        beside.show()
    assert not drop(beside, taken(beside, 0, 0), spot(beside, 2, 0))
    assert variant_days(session, 0) == [["Leg"], ["Rest"], ["Leg"]]


def test_variants_keep_their_buttons_through_edits_and_new_ones_get_theirs(
    beside: ComparePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(beside):
        beside.show()
    before = list(beside.chips)
    assert session.apply(lambda trip: edits.propose(trip, "v2"), "propose")
    assert beside.chips == before
    assert beside.chips[1].text() == "B  B  ·  proposed"
    copy(session)
    assert len(beside.chips) == 3
    qtbot.waitUntil(lambda: all(chip.isVisible() and chip.width() > 30 for chip in beside.chips))
    assert len({chip.geometry().left() for chip in beside.chips}) == 3


def test_strange_data_is_no_run_of_days() -> None:
    for data in (b"", b"[]", b'{"variant": "v1", "days": [], "lines": []}', b'{"variant": 1}'):
        with pytest.raises(PayloadRefused):
            taken_from(data)


def test_days_are_taken_by_keyboard(
    beside: ComparePanel, session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A menu can't pop up without a screen; what stands in it is the same."""
    monkeypatch.setattr(QMenu, "popup", lambda menu, at: None)
    with qtbot.waitExposed(beside):
        beside.show()
    beside.days.setCurrentCell(1, 0)
    says = [each.says for each in beside.days.choices(0, (1,))]
    assert says == ["take a day into B, in place of day 2", "take a day into B, as day 2"]
    qtbot.keyClick(beside.days, Qt.Key.Key_Return)
    menu = beside.days.findChild(QMenu)
    assert menu is not None
    menu.actions()[1].trigger()
    assert variant_days(session, 1) == [["Leg"], ["Rest"], ["Rest"], ["Leg"]]


def test_one_variant_is_proposed_and_one_accepted_with_its_price(
    beside: ComparePanel, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    beside.base.setCurrentIndex(1)
    beside.propose()
    assert session.opened is not None
    assert session.opened.trip.proposed == "v2"
    monkeypatch.setattr(AcceptDialog, "said_yes", lambda dialog: dialog.price.setText("1200.50") or True)
    beside.accept_or_withdraw()
    accepted = session.opened.trip.accepted
    assert accepted is not None
    assert accepted.variant == "v2"
    assert accepted.price == Money(Decimal("1200.50"), session.opened.assessment.quote.currency)
    beside.accept_or_withdraw()
    assert session.opened.trip.accepted is None


def test_an_edit_of_one_variant_assesses_no_other_again(beside: ComparePanel, session: QtSession) -> None:
    opened = session.opened
    assert opened is not None
    other = opened.trip.variants[1]
    before = beside.assessed.of(opened, other)
    assert session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "early"), "note")
    assert session.opened is not None
    assert beside.assessed.of(session.opened, session.opened.trip.variants[1]) is before


def test_margins_go_while_a_client_looks_on_from_the_saved_page_too(
    beside: ComparePanel, session: QtSession, qtbot: QtBot, tmp_path: Path
) -> None:
    def names() -> list[str]:
        heads = (beside.figures.verticalHeaderItem(row) for row in range(beside.figures.rowCount()))
        return [head.text() for head in heads]

    assert "Margin" in names()
    session.let_client_look(True)
    assert "Margin" not in names()
    assert "Price per person" in names()
    with qtbot.waitSignal(beside.saved) as told:
        beside.save_as(tmp_path / "beside.html", for_client=False)
    assert told.args == [True]
    assert "Margin" not in (tmp_path / "beside.html").read_text("utf-8")


def test_a_folder_that_refuses_is_told_in_a_sentence(
    beside: ComparePanel, qtbot: QtBot, tmp_path: Path
) -> None:
    with qtbot.waitSignal(beside.saved) as told:
        beside.save_as(tmp_path / "nowhere" / "beside.html", for_client=True)
    assert told.args == [False]
    assert "beside.html can't be written" in beside.sentence.text()


def test_no_more_than_four_stand_side_by_side(beside: ComparePanel, session: QtSession) -> None:
    for _ in range(3):
        copy(session)
    for variant in ("v3", "v4", "v5"):
        beside.choose(variant, True)
    assert beside.chosen() == ["v1", "v2", "v3", "v4"]
    assert beside.sentence.text().startswith("No more than 4")
    beside.choose("v1", False)
    beside.choose("v5", True)
    assert beside.chosen() == ["v2", "v3", "v4", "v5"]


def test_under_the_mouse_every_variant_says_day_and_height(beside: ComparePanel) -> None:
    assert beside.plot.words_at(4.5) == "4.5 km:  A day 1, 170 m  ·  B day 1, 170 m"
    assert beside.plot.words_at(400.0) == ""
