"""Other ways to spend a day: the editor, their figures beside the plan, their sign on sheet and map."""

from dataclasses import replace
from datetime import time

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from lacet.service.map_scene import scene
from lacet.service.other_ways import WaysDesk
from lacet.trip import edits
from lacet.trip.trip import Alternative, Leg
from lacet.trip.words import Reason
from lacet.window.dialogs.day import DayDialog
from lacet.window.dialogs.other_ways import OtherWayDialog, OtherWaysEditor
from lacet.window.qt_session import QtSession
from lacet.window.sheet.panel import SheetPanel
from tests.small_library import walk

NEW = Alternative(id="", reason=Reason.WET_WEATHER, items=(), says="along the lane")
HORIZONTAL, TIP, SPOKEN = (
    Qt.Orientation.Horizontal,
    Qt.ItemDataRole.ToolTipRole,
    Qt.ItemDataRole.AccessibleTextRole,
)


def with_other(session: QtSession, day: str = "d3") -> None:
    """The third day, by bike, may be walked back to where it began instead."""
    other = replace(NEW, items=(walk("", backward=True),))
    session.apply(lambda trip: edits.set_alternatives(trip, "v1", day, (other,)), "another way")


def test_steps_continue_from_where_the_cards_so_far_lead(session: QtSession) -> None:
    desk = WaysDesk(session.session, 2)
    start = desk.stand_after(())
    first = desk.steps(())
    assert first
    assert all(session.session.catalogue.place_name(start or "") in step.title for step in first)
    after = desk.stand_after((first[0].item,))
    assert after != start
    assert {step.title for step in desk.steps((first[0].item,))} != {step.title for step in first}


def test_another_way_is_put_together_and_told_beside_the_plan(qtbot: QtBot, session: QtSession) -> None:
    dialog = OtherWayDialog(WaysDesk(session.session, 2), NEW)
    qtbot.addWidget(dialog)
    with pytest.raises(ValueError, match="at least one card"):
        dialog.answer()
    dialog.take_next()
    made = dialog.answer()
    assert [type(item) for item in made.items] == [Leg]
    assert (made.reason, made.says) == (Reason.WET_WEATHER, "along the lane")
    tried, plan = dialog.figures.text().split("\n")
    assert "km" in tried
    assert plan.startswith("as planned ")
    assert plan.removeprefix("as planned ") != tried
    dialog.take_out()
    assert dialog.items == []


def test_begin_as_planned_copies_the_cards_and_leaves_the_plan_alone(
    qtbot: QtBot, session: QtSession
) -> None:
    desk = WaysDesk(session.session, 2)
    dialog = OtherWayDialog(desk, NEW)
    qtbot.addWidget(dialog)
    dialog.take_planned()
    made = dialog.answer()
    assert [replace(item, id="") for item in desk.planned.items] == list(made.items)
    session.apply(lambda trip: edits.set_alternatives(trip, "v1", "d3", (made,)), "another way")
    ids = [item.id for item in (*desk.planned.items, *desk.planned.alternatives[0].items)]
    assert len(set(ids)) == len(ids)


def test_the_day_editor_adds_changes_and_takes_out_in_one_edit(
    qtbot: QtBot, session: QtSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_other(session)
    dialog = DayDialog(WaysDesk(session.session, 2), time(9, 30))
    qtbot.addWidget(dialog)
    editor = dialog.ways
    assert editor.table.rowCount() == 2
    editor.table.setCurrentCell(1, 0)
    changed = replace(editor.others[0], says="by the mill")
    monkeypatch.setattr(OtherWayDialog, "ask", lambda *_: changed)
    editor.edit()
    answer = dialog.answer()
    session.apply(lambda trip: answer.edit(trip, "v1", "d3"), "edit day 3")
    assert session.opened is not None
    day = session.opened.variant.days[2]
    assert [other.says for other in day.alternatives] == ["by the mill"]
    assert session.opened.position.undo_says == "edit day 3"
    session.undo()
    assert session.opened.variant.days[2].alternatives[0].says == "along the lane"


def test_only_an_alternative_can_be_changed_or_taken_out(qtbot: QtBot, session: QtSession) -> None:
    with_other(session)
    editor = OtherWaysEditor(WaysDesk(session.session, 2))
    qtbot.addWidget(editor)
    editor.table.setCurrentCell(0, 0)
    assert not editor.takes_out.isEnabled()
    editor.table.setCurrentCell(1, 0)
    editor.take_out()
    assert editor.others == ()


def test_a_day_with_another_way_carries_a_sign_and_says_its_figures(qtbot: QtBot, session: QtSession) -> None:
    sheet = SheetPanel(session)
    qtbot.addWidget(sheet)
    with_other(session)
    assert sheet.view.days.signs == ("", "", "◇")
    assert "1 other way" in sheet.model.headerData(2, HORIZONTAL, SPOKEN)
    tip = sheet.model.headerData(2, HORIZONTAL, TIP)
    assert tip.startswith("In wet weather: along the lane")
    assert " km" in tip
    assert sheet.model.headerData(0, HORIZONTAL, TIP) is None


def test_the_map_draws_another_way_once_and_not_over_the_plan(session: QtSession) -> None:
    with_other(session)
    shown = session.opened
    assert shown is not None
    drawn = scene(shown, session.session.catalogue, None)
    (other,) = drawn.others
    assert (other.day, other.way, other.name) == (2, "walking", "Day 3, In wet weather: along the lane")
    assert other.line in drawn.lines
    planned = shown.variant.days[2].items
    same = replace(NEW, items=planned)
    session.apply(lambda trip: edits.set_alternatives(trip, "v1", "d3", (same,)), "the same again")
    assert session.opened is not None
    assert scene(session.opened, session.session.catalogue, None).others == ()
