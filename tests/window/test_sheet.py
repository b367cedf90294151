"""The sheet: its model, its geometry, drops delivered to the widget, the keyboard."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.service.sheet.table import Column, RowKind
from lacet.trip import edits
from lacet.trip.drop import CardPayload, DayPayload, ItemPayload, Payload, StagePayload, to_json
from lacet.trip.trip import Leg
from lacet.trip.words import Way
from lacet.window.carrying import MIME
from lacet.window.qt_session import QtSession
from lacet.window.sheet.geometry import SheetGeometry, column_widths, geometry_of
from lacet.window.sheet.panel import SheetPanel
from lacet.window.sheet.profile import round_heights
from lacet.wording import Wording

COPY_OR_MOVE = Qt.DropAction.MoveAction
LEFT, NO_KEYS = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
CLIMB = StagePayload("climb", 1, Way.WALKING, "alder", "birch")


@pytest.fixture
def panel(session: QtSession, qtbot: QtBot) -> SheetPanel:
    made = SheetPanel(session)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    with qtbot.waitExposed(made):
        made.show()
    return made


def mime(payload: Payload | str) -> QMimeData:
    data = QMimeData()
    data.setData(MIME, (payload if isinstance(payload, str) else to_json(payload)).encode())
    return data


def enter(panel: SheetPanel, data: QMimeData, at: QPoint) -> QDragEnterEvent:
    event = QDragEnterEvent(at, COPY_OR_MOVE, data, LEFT, NO_KEYS)
    panel.view.dragEnterEvent(event)
    return event


def move(panel: SheetPanel, data: QMimeData, at: QPoint) -> None:
    panel.view.dragMoveEvent(QDragMoveEvent(at, COPY_OR_MOVE, data, LEFT, NO_KEYS))


def let_go(panel: SheetPanel, data: QMimeData, at: QPoint) -> None:
    panel.view.dropEvent(QDropEvent(QPointF(at), COPY_OR_MOVE, data, LEFT, NO_KEYS))


def day_middle(panel: SheetPanel, day: int) -> QPoint:
    edges = panel.view.geometry_of_days().edges
    return QPoint(int((edges[day] + edges[day + 1]) / 2), 70)


def gap(panel: SheetPanel, at: int) -> QPoint:
    return QPoint(int(panel.view.geometry_of_days().edges[at]) - 2, 20)


def cards(session: QtSession) -> list[list[str]]:
    opened = session.opened
    assert opened is not None
    return [
        [item.stage.id if isinstance(item, Leg) else type(item).__name__ for item in day.items]
        for day in opened.variant.days
    ]


def test_the_model_keeps_the_rules_of_qt(
    panel: SheetPanel, session: QtSession, qtmodeltester: ModelTester
) -> None:
    qtmodeltester.check(panel.model)
    session.apply(lambda trip: edits.insert_day(trip, "v1", 1), "day")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "x"), "note")
    session.undo()


def test_every_cell_says_its_day_and_row(panel: SheetPanel) -> None:
    said = panel.model.data(panel.model.index(0, 0), Qt.ItemDataRole.AccessibleTextRole)
    assert said.startswith("Day 1 Sat 8 May, Stages: Alder → Birch")
    assert "on foot" in said


def test_a_stage_dropped_between_days_becomes_a_day(panel: SheetPanel, session: QtSession) -> None:
    data, at = mime(CLIMB), gap(panel, 1)
    assert enter(panel, data, at).isAccepted()
    move(panel, data, at)
    let_go(panel, data, at)
    assert cards(session) == [["climb"], ["climb"], ["Rest"], ["lane"]]


def test_the_drag_shows_what_the_day_would_become_and_leaves_no_trace(
    panel: SheetPanel, session: QtSession
) -> None:
    before, totals = cards(session), panel.totals.text()
    data = mime(CLIMB)
    enter(panel, data, gap(panel, 3))
    move(panel, data, gap(panel, 3))
    assert panel.model.columnCount() == 4
    assert panel.totals.text() != totals
    panel.view.dragLeaveEvent(QDragLeaveEvent())
    assert panel.model.columnCount() == 3
    assert panel.totals.text() == totals
    assert cards(session) == before


def test_a_drag_called_off_over_the_sheet_leaves_no_trace(panel: SheetPanel, session: QtSession) -> None:
    """Neither a drop nor a leaving is told then: only the one who began it knows that it is over."""
    before, totals = session.opened, panel.totals.text()
    enter(panel, mime(CLIMB), day_middle(panel, 1))
    move(panel, mime(CLIMB), day_middle(panel, 1))
    assert panel.totals.text() != totals
    session.drag_ended.emit()
    assert panel.totals.text() == totals
    assert session.session.preview is None
    assert session.opened == before
    session.drag_ended.emit()
    assert session.opened == before


def test_a_stage_on_a_day_with_a_card_makes_a_mixed_day(panel: SheetPanel, session: QtSession) -> None:
    data, at = mime(CLIMB), day_middle(panel, 0)
    enter(panel, data, at)
    let_go(panel, data, at)
    assert cards(session)[0] == ["climb", "climb"]


def test_a_card_goes_to_another_day_and_a_day_head_reorders(panel: SheetPanel, session: QtSession) -> None:
    data = mime(ItemPayload("i1"))
    enter(panel, data, day_middle(panel, 2))
    let_go(panel, data, day_middle(panel, 2))
    assert cards(session) == [[], ["Rest"], ["climb", "lane"]] or cards(session) == [
        [],
        ["Rest"],
        ["lane", "climb"],
    ]
    data = mime(DayPayload("d3"))
    enter(panel, data, gap(panel, 1))
    let_go(panel, data, QPoint(2, 20))
    assert cards(session)[0] != []


@pytest.mark.parametrize("text", ["{}", "not json", '{"kind": "stage"}'])
def test_what_is_not_ours_never_reaches_the_drop(panel: SheetPanel, session: QtSession, text: str) -> None:
    before = cards(session)
    data = mime(text)
    assert not enter(panel, data, gap(panel, 1)).isAccepted()
    let_go(panel, data, gap(panel, 1))
    assert cards(session) == before


def test_a_drop_without_meaning_says_why(panel: SheetPanel, session: QtSession, qtbot: QtBot) -> None:
    data = mime(ItemPayload("gone"))
    enter(panel, data, day_middle(panel, 0))
    with qtbot.waitSignal(session.refused) as told:
        let_go(panel, data, day_middle(panel, 0))
    assert told.args is not None
    assert "gone" in told.args[0]


def test_the_keyboard_picks_up_moves_and_drops(panel: SheetPanel, session: QtSession, qtbot: QtBot) -> None:
    panel.view.setCurrentIndex(panel.model.index(0, 0))
    qtbot.keyClick(panel.view, Qt.Key.Key_Space)
    assert panel.carry.active
    assert "Enter drops" in panel.hover_text.text()
    for _ in range(3):
        qtbot.keyClick(panel.view, Qt.Key.Key_Right)
    qtbot.keyClick(panel.view, Qt.Key.Key_Return)
    assert cards(session) == [[], ["Rest"], ["climb"], ["lane"]]


def test_escape_puts_back_what_the_keyboard_holds(
    panel: SheetPanel, session: QtSession, qtbot: QtBot
) -> None:
    before = cards(session)
    session.picked_up.emit(CardPayload("rest"), "Rest day")
    qtbot.keyClick(panel.view, Qt.Key.Key_Left)
    assert panel.model.columnCount() == 4
    qtbot.keyClick(panel.view, Qt.Key.Key_Escape)
    assert panel.model.columnCount() == 3
    assert cards(session) == before


def test_delete_takes_a_card_out(panel: SheetPanel, session: QtSession, qtbot: QtBot) -> None:
    panel.view.setCurrentIndex(panel.model.index(0, 1))
    qtbot.keyClick(panel.view, Qt.Key.Key_Delete)
    assert cards(session) == [["climb"], [], ["lane"]]


def test_pulling_the_edge_of_a_stay_adds_and_drops_a_night(
    panel: SheetPanel, session: QtSession, qtbot: QtBot
) -> None:
    view, edge = panel.view, panel.view.stay_edge(1)
    width = view.width_of_day
    for nights, count in ((1, 4), (-1, 3)):
        edge = view.stay_edge(1)
        qtbot.mousePress(view.viewport(), LEFT, pos=edge)
        qtbot.mouseMove(view.viewport(), edge + QPoint(nights * width // 2, 0))
        qtbot.mouseMove(view.viewport(), edge + QPoint(nights * width, 0))
        qtbot.mouseRelease(view.viewport(), LEFT, pos=edge + QPoint(nights * width, 0))
        width = view.width_of_day
        assert panel.model.columnCount() == count
    assert cards(session) == [["climb"], ["Rest"], ["lane"]]


def test_a_parted_day_takes_a_column_for_each_half(panel: SheetPanel, session: QtSession) -> None:
    session.apply(lambda trip: edits.set_item_travellers(trip, "v1", "i1", ("t1",)), "part")
    table = panel.model.table
    assert table is not None
    assert [(column.day, column.group, column.groups) for column in table.columns][:2] == [
        (0, 0, 2),
        (0, 1, 2),
    ]
    assert table.cells[table.row_of(RowKind.DISTANCE), 1].text == ""


@given(st.lists(st.integers(1, 4), min_size=1, max_size=20), st.integers(40, 900))
def test_halves_add_up_to_their_day(groups: list[int], day_width: int) -> None:
    columns = tuple(Column(day, group, count) for day, count in enumerate(groups) for group in range(count))
    assert sum(column_widths(columns, day_width)) == day_width * len(groups)


@given(st.integers(1, 20), st.integers(60, 400), st.floats(-50, 9000))
def test_every_x_is_a_day_or_a_gap(days: int, width: int, x: float) -> None:
    columns = tuple(Column(day, 0, 1) for day in range(days))
    geometry: SheetGeometry = geometry_of(columns, width)
    here = geometry.gap_at(x)
    assert here is None or 0 <= here <= days
    assert here is not None or geometry.day_at(x) is not None


@pytest.mark.parametrize(
    ("lowest", "highest", "imperial", "said"),
    [
        (0.0, 640.0, False, ["200 m", "400 m", "600 m"]),
        (0.0, 120.0, False, ["50 m", "100 m"]),
        (-20.0, 90.0, False, ["50 m"]),
        (0.0, 700.0, True, ["1000 ft", "2000 ft"]),
    ],
)
def test_the_profile_names_round_heights_in_the_unit_spoken(
    lowest: float, highest: float, imperial: bool, said: list[str]
) -> None:
    found = round_heights(lowest, highest, Wording(imperial=imperial))
    assert [text for _, text in found] == said
    assert all(lowest < height <= highest for height, _ in found)


def test_rows_and_cards_grow_with_the_text_a_person_has_set(panel: SheetPanel) -> None:
    def heights() -> list[int]:
        table = panel.model.table
        assert table is not None
        kinds = (RowKind.CARD, RowKind.DISTANCE, RowKind.NIGHT)
        return [panel.view.rowHeight(table.row_of(kind)) for kind in kinds]

    before = heights()
    font = panel.view.font()
    font.setPointSizeF(font.pointSizeF() * 2)
    panel.view.setFont(font)
    assert all(after >= 1.8 * usual for after, usual in zip(heights(), before, strict=True))
