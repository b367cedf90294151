"""The stage desk: map, profile and fields move together; edits are steps; saving reaches the library."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QDoubleSpinBox,
    QLineEdit,
    QMessageBox,
    QTableWidget,
    QWidget,
)
from pytestqt.qtbot import QtBot

from lacet.service.shown import Selection
from lacet.tracks.drawn import Drawn
from lacet.tracks.track import Track
from lacet.trip.library import Stage
from lacet.trip.words import Footing, PointKind, Surface, Way
from lacet.window.library.desk import LibraryDesk
from lacet.window.qt_session import QtSession
from lacet.window.stage_desk.choosing import StageChooser, selected_stage
from lacet.window.stage_desk.desk import StageDesk, open_desk


@pytest.fixture
def desk(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Iterator[StageDesk]:
    """The desk on the climb of 9 km; leaving drops what wasn't saved."""
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton.Discard)
    made = open_desk(session, "climb")
    assert made is not None
    qtbot.addWidget(made)
    yield made
    made._shading.wait()


def kept(session: QtSession, stage_id: str) -> Stage:
    stage = session.session.project.catalogue().latest(Stage, stage_id)
    assert stage is not None
    return stage


def move_over(desk: StageDesk, at: QPointF, widget: QWidget) -> None:
    none, button = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.NoButton
    event = QMouseEvent(QEvent.Type.MouseMove, at, at, button, button, none)
    QApplication.sendEvent(widget, event)


def test_hovering_one_marks_the_other(desk: StageDesk) -> None:
    heard: list[object] = []
    desk.cursor_.hovered.connect(heard.append)
    move_over(desk, desk.map.to_pixel(desk.map.line[750]), desk.map)
    assert heard[-1] == pytest.approx(4_500.0, abs=60)
    assert desk.profile._hover == heard[-1]
    move_over(desk, QPointF(desk.profile.x_of(3_000.0), 60.0), desk.profile)
    assert desk.map._hover == pytest.approx((44.2 + 3_000 / 111_120, -24.6), abs=1e-3)
    move_over(desk, QPointF(2.0, 2.0), desk.map)
    assert heard[-1] is None


def test_keys_move_the_cursor_and_choose_a_stretch(desk: StageDesk, qtbot: QtBot) -> None:
    desk.profile.setFocus()
    for _ in range(10):
        qtbot.keyClick(desk.profile, Qt.Key.Key_Right)
    assert desk.shape.at.value() == pytest.approx(0.9, abs=0.02)
    for _ in range(5):
        qtbot.keyClick(desk.profile, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert (desk.shape.begin.value(), desk.shape.end.value()) == pytest.approx((0.9, 1.35), abs=0.02)
    qtbot.keyClick(desk.profile, Qt.Key.Key_End)
    assert desk.shape.at.value() == pytest.approx(9.0, abs=0.02)
    assert "At 9" in desk.profile.accessibleDescription()


def test_points_and_directions_are_dropped_at_the_cursor_and_undone(
    desk: StageDesk, session: QtSession
) -> None:
    desk.cursor_.move(2_000.0)
    desk.along.kind.setCurrentText("taxi pick-up")
    desk.along.name.setText("Bridge")
    desk.along.add_point.click()
    desk.along.says.setText("Left at the chapel")
    desk.along.add_cue.click()
    stage = desk.work.top.drawn.stage
    assert [(p.along_m, p.kind, p.name) for p in stage.points] == [(2_000.0, PointKind.TAXI_PICKUP, "Bridge")]
    assert [cue.says for cue in stage.cues] == ["Left at the chapel"]
    desk.undo()
    assert desk.work.top.drawn.stage.cues == ()
    desk.redo()
    desk.along.table.selectRow(0)
    desk.along.remove.click()
    assert desk.work.top.drawn.stage.points == ()
    assert kept(session, "climb").points == ()


def test_an_empty_direction_is_refused_in_a_sentence(desk: StageDesk) -> None:
    desk.along.add_cue.click()
    assert "A direction says something" in desk.sentence.text()


def test_a_stretch_gets_a_surface_for_one_way_only(desk: StageDesk, session: QtSession) -> None:
    desk.ground.way.setCurrentIndex(desk.ground.way.findData("walking"))
    assert not desk.ground.set_surface.isEnabled()
    desk.cursor_.stretch(1_000.0, 2_500.0)
    desk.ground.surface.setCurrentText("loose gravel")
    desk.ground.set_surface.click()
    footing = desk.ground.whole["footing"][1]
    footing.setCurrentText("rough")
    footing.activated.emit(footing.currentIndex())
    assert desk.save()
    walking, cycling = kept(session, "climb").on(Way.WALKING), kept(session, "climb").on(Way.CYCLING)
    assert walking is not None
    assert cycling is not None
    assert [(s.from_m, s.to_m, s.surface) for s in walking.surfaces] == [
        (1_000.0, 2_500.0, Surface.LOOSE_GRAVEL)
    ]
    assert (walking.footing, cycling.footing, cycling.surfaces) == (Footing.ROUGH, Footing.EVEN, ())


def test_a_way_the_stage_is_not_for_is_unticked(desk: StageDesk) -> None:
    desk.ground.meant.click()
    assert [way.way for way in desk.work.top.drawn.stage.ways] == [Way.CYCLING]
    assert not desk.ground.whole["grade"][1].isEnabled()
    desk.ground.meant.click()
    assert len(desk.work.top.drawn.stage.ways) == 2


def test_a_cut_shows_two_stages_and_saves_them(desk: StageDesk, session: QtSession, qtbot: QtBot) -> None:
    desk.cursor_.move(4_000.0)
    desk.shape.cut.click()
    assert "name the place" in desk.sentence.text()
    desk.shape.place.setText("The ford")
    desk.shape.cut.click()
    assert desk.chooser.count() == 2
    assert "The ford" in desk.told.text()
    assert desk.retire.isVisible()
    desk.retire.setChecked(True)
    with qtbot.waitSignal(session.library_changed):
        assert desk.save()
    names = {stage.name for stage in session.session.catalogue.current(Stage)}
    assert names == {"Over the hill: Alder to The ford", "Over the hill: The ford to Birch", "The long lane"}


def test_trim_turn_join_and_rename_from_the_forms(desk: StageDesk) -> None:
    desk.shape.join.click()
    assert "Alder – Cedar" in desk.told.text()
    desk.undo()
    desk.shape.turn.click()
    assert "Birch – Alder" in desk.told.text()
    desk.undo()
    desk.cursor_.stretch(1_000.0, 9_000.0)
    desk.shape.trim.click()
    assert desk.cursor_.length_m == pytest.approx(8_000.0, abs=10)
    desk.name.setText("Upper hill")
    desk.name.editingFinished.emit()
    assert desk.windowTitle().startswith("Upper hill *")


def test_heights_tell_before_and_after(desk: StageDesk) -> None:
    desk.heights.anew.click()
    assert "no elevation raster" in desk.sentence.text()
    assert desk.heights.told.text() == "Every height is known."
    desk.edit(flat, "flatten")
    assert desk.heights.told.text() == "Before: ↑ 300 m, ↓ 0 m\nAfter: ↑ 0 m, ↓ 0 m"


def flat(drawn: Drawn) -> Drawn:
    """The same line at one height."""
    line = drawn.track
    level = np.full(len(line), 50.0)
    return Drawn(drawn.stage, Track(line.latitude_deg, line.longitude_deg, level, line.segment_start))


def test_a_stage_without_a_line_is_told_and_no_desk_opens(session: QtSession, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.refused) as told:
        assert open_desk(session, "gone") is None
    assert "where the stage 'gone' runs" in told.args[0]


def test_every_field_has_a_name_for_those_who_hear_it(desk: StageDesk) -> None:
    for kind in (QComboBox, QDoubleSpinBox, QTableWidget):
        for each in desk.findChildren(kind):
            assert each.accessibleName(), each
    for line in desk.findChildren(QLineEdit):
        assert line.accessibleName() or isinstance(line.parent(), QDoubleSpinBox | QComboBox), line


def test_the_chooser_begins_with_the_selected_leg_and_refuses_what_is_no_stage(
    session: QtSession, qtbot: QtBot
) -> None:
    session.select(Selection(day=0))
    assert selected_stage(session) == "climb"
    chooser = StageChooser(session.session.catalogue.current(Stage), "lane")
    qtbot.addWidget(chooser)
    assert chooser.answer() == "lane"
    chooser.box.setEditText("nowhere")
    with pytest.raises(ValueError, match="no stage called 'nowhere'"):
        chooser.answer()


def test_the_library_desk_leads_to_the_chosen_stages_line(session: QtSession, qtbot: QtBot) -> None:
    library = LibraryDesk(session)
    qtbot.addWidget(library)
    opened: list[StageDesk | None] = []
    session.stage_desk_asked.connect(lambda stage, parent: opened.append(open_desk(session, stage, parent)))
    library.show()
    page = library.show_kind("stages")
    assert not page.line.isEnabled()
    page.list.table.selectRow(0)
    page.line.click()
    (desk,) = opened
    assert desk is not None
    assert desk.work.top.drawn.stage.id == page.list.model.id_at(0)
    desk.close()
    desk._shading.wait()
    assert not library.show_kind("places").line.isVisible()
