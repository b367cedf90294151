"""The shelf: what it offers, what its filters leave out, and how it takes cards back."""

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt
from PySide6.QtGui import QDropEvent
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.service.ranking import ShelfStage, continuing
from lacet.service.shown import Selection
from lacet.trip.drop import ItemPayload, to_json
from lacet.trip.library import Stage
from lacet.window.carrying import MIME
from lacet.window.qt_session import QtSession
from lacet.window.shelf import panel
from lacet.window.shelf.panel import ShelfPanel


@pytest.fixture
def shelf(session: QtSession, qtbot: QtBot) -> ShelfPanel:
    made = ShelfPanel(session)
    qtbot.addWidget(made)
    session.select(Selection(day=0, row="CARD"))
    made.refresh()
    return made


def titles(shelf: ShelfPanel) -> list[str]:
    return [entry.text for entry in shelf.model.entries if entry.kind == "stage"]


def test_the_shelf_offers_what_continues_from_where_the_day_ends(
    shelf: ShelfPanel, qtmodeltester: ModelTester
) -> None:
    """Day 1 ends at Birch: back down the hill, or on by the lane, each on foot and by bike."""
    qtmodeltester.check(shelf.model)
    assert sorted(set(titles(shelf))) == ["Birch → Alder", "Birch → Cedar"]
    assert len(titles(shelf)) == 4


def test_a_way_that_is_switched_off_is_left_out(shelf: ShelfPanel) -> None:
    shelf.by_bike.click()
    assert len(titles(shelf)) == 2


def test_filters_leave_out_what_is_too_long_and_say_so(shelf: ShelfPanel) -> None:
    shelf.filters.lengths.actions()[2].trigger()
    assert shelf.filters.text() == "Filter (1)"
    assert set(titles(shelf)) == {"Birch → Alder"}


def test_only_what_works_that_day_leaves_out_a_walk_that_is_too_far(shelf: ShelfPanel) -> None:
    """30 km on foot is more than the house's limit by more than a quarter."""
    shelf.filters.works.setChecked(True)
    on_foot = [entry for entry in shelf.model.entries if entry.stage and entry.stage.way.value == "walking"]
    assert [entry.text for entry in on_foot] == ["Birch → Alder"]


def test_words_find_stages_by_place(shelf: ShelfPanel, qtbot: QtBot) -> None:
    shelf.finder.setText("ced")
    qtbot.waitUntil(lambda: set(titles(shelf)) == {"Birch → Cedar"})


def test_picking_a_night_turns_the_shelf_to_lodgings(shelf: ShelfPanel, session: QtSession) -> None:
    session.select(Selection(day=0, row="NIGHT"))
    assert [entry.text for entry in shelf.model.entries] == ["Birch House"]
    assert shelf.filters.isHidden()
    session.select(Selection(day=1, row="DINNER"))
    assert [entry.text for entry in shelf.model.entries] == ["Net Loft", "Own choice"]


def test_pressing_an_offer_takes_it(shelf: ShelfPanel, session: QtSession) -> None:
    session.select(Selection(day=1, row="DINNER"))
    shelf.list.activated.emit(shelf.model.index(0))
    opened = session.opened
    assert opened is not None
    (meal,) = opened.variant.days[1].meals
    assert meal.restaurant is not None
    assert meal.restaurant.id == "net-loft"


def test_a_card_let_go_over_the_shelf_is_taken_out(shelf: ShelfPanel, session: QtSession) -> None:
    data = QMimeData()
    data.setData(MIME, to_json(ItemPayload("i2")).encode())
    event = QDropEvent(
        QPointF(10, 10),
        Qt.DropAction.MoveAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    shelf.list.dropEvent(event)
    opened = session.opened
    assert opened is not None
    assert opened.variant.days[1].items == ()


def test_the_library_is_asked_again_only_when_what_is_offered_may_be_other(
    shelf: ShelfPanel, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str | None] = []

    def counted(*given: Any) -> list[ShelfStage]:
        asked.append(given[2])
        return continuing(*given)

    monkeypatch.setattr(panel, "continuing", counted)
    session.apply(lambda trip: replace(trip, name="Another name"), "rename")
    assert asked == []
    session.select(Selection(day=2))
    assert asked == ["cedar"]
    inner = session.session
    with inner.project.unit_of_work() as unit:
        unit.library.retire(Stage, "lane")
        unit.commit()
    inner.reload_library()
    assert asked == ["cedar", "cedar"]
