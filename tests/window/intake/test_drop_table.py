"""Files on the drop table: read off the window's thread, corrected in cells, taken in all at once."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QComboBox, QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.library import Place, Stage
from lacet.trip.words import PointKind, Way
from lacet.window.app import open_window
from lacet.window.drops import FileDrops
from lacet.window.intake import desk as subject
from lacet.window.intake.desk import DropTable, in_phases, phases_of
from lacet.window.intake.track_model import FROM, NAME, TO, TOLD, WAY, TrackModel
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession
from lacet.window.work import CalledOff
from tests.small_library import BASE, METRES_PER_DEGREE, line


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A line of the library, one that goes on from its end, a file that can't be read, a sheet of places."""
    made = tmp_path / "in"
    made.mkdir()
    spring = Waypoint(BASE[0] + 40_000 / METRES_PER_DEGREE, BASE[1], name="Top spring")
    bench = Waypoint(BASE[0] + 41_000 / METRES_PER_DEGREE, BASE[1], name="Bench")
    write(made / "a.gpx", GpxLine("Climb", "", "track", line(0.0, 9_000.0, 0.0, 300.0)))
    write(made / "b.gpx", GpxLine("Onward", "", "track", line(39_000.0, 5_000.0, 0.0, 90.0)), spring, bench)
    (made / "c.gpx").write_text("<gpx><trk>")
    (made / "places.csv").write_text(f"id,name,latitude,longitude\nelm,Elm,{BASE[0] + 1},{BASE[1]}\n")
    return made


def write(path: Path, gpx_line: GpxLine, *marks: Waypoint) -> None:
    path.write_bytes(write_gpx(GpxDocument(name=path.stem, lines=(gpx_line,), waypoints=marks)))


@pytest.fixture
def table(session: QtSession, qtbot: QtBot) -> Iterator[DropTable]:
    made = DropTable(session)
    qtbot.addWidget(made)
    made.show()
    yield made
    made.work.wait()


def brought(table: DropTable, qtbot: QtBot, *named: Path) -> TrackModel:
    """The model after these were read."""
    table.bring(named)
    qtbot.waitUntil(lambda: not table.work.busy)
    return table.model


def taken(table: DropTable, qtbot: QtBot) -> None:
    table.take_in()
    qtbot.waitUntil(lambda: not table.work.busy)


def kept(session: QtSession, kind: Any) -> dict[str, Any]:
    return {item.id: item for item in session.session.project.catalogue().current(kind)}


def test_a_folder_is_told_line_by_line_and_file_by_file(
    table: DropTable, folder: Path, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    model = brought(table, qtbot, folder)
    qtmodeltester.check(model)
    for shown in (table.problems, table.changes, table.refusals):
        qtmodeltester.check(shown)
    assert [each.take for each in model.proposals] == [False, True]
    assert "like the library's Over the hill" in model.index(0, TOLD).data()
    assert model.index(1, FROM).data() == "Cedar"
    assert model.index(1, TO).data() == "End of Onward (new)"
    assert table.refusals.rows[0][0].startswith("c.gpx, line 1")
    assert table.changes.rows == (("new", "place", "Elm", ""),)
    assert "1 of 2 lines become stages; 1 new place; 1 rows" in table.sentence.text()


def test_cells_correct_and_what_is_ticked_is_kept(
    table: DropTable, folder: Path, session: QtSession, qtbot: QtBot
) -> None:
    model = brought(table, qtbot, folder)
    for column, text in ((NAME, "To the light"), (TO, "The light"), (WAY, "on foot")):
        assert model.setData(model.index(1, column), text)
    with qtbot.waitSignal(session.library_changed):
        taken(table, qtbot)
    stage = kept(session, Stage)["onward"]
    assert (stage.name, [each.way for each in stage.ways]) == ("To the light", [Way.WALKING])
    assert [(point.kind, point.name) for point in stage.points] == [(PointKind.WATER, "Top spring")]
    assert {"elm", "end-of-onward"} < set(kept(session, Place))
    assert kept(session, Place)["end-of-onward"].name == "The light"
    assert model.rowCount() == 0
    assert "3 new" in table.sentence.text()


def test_an_empty_name_is_refused_in_a_sentence(table: DropTable, folder: Path, qtbot: QtBot) -> None:
    model = brought(table, qtbot, folder)
    assert not model.setData(model.index(1, NAME), "  ")
    assert "needs a name" in table.sentence.text()
    assert model.proposals[1].name == "Onward"


def test_nothing_is_kept_before_the_person_says_so_nor_with_nothing_ticked(
    table: DropTable, folder: Path, session: QtSession, qtbot: QtBot
) -> None:
    before = set(kept(session, Stage))
    brought(table, qtbot, folder / "b.gpx")
    table.table.selectRow(0)
    table._toggle()
    assert not table.take.isEnabled()
    assert set(kept(session, Stage)) == before


def test_a_mark_is_taken_by_its_tick_with_another_kind(table: DropTable, folder: Path, qtbot: QtBot) -> None:
    model = brought(table, qtbot, folder / "b.gpx")
    table.table.selectRow(0)
    item, kind = table.points.item(1, 0), table.points.cellWidget(1, 1)
    assert item is not None
    assert isinstance(kind, QComboBox)
    item.setCheckState(Qt.CheckState.Checked)
    kind.setCurrentText("shelter")
    assert [(p.kind, p.name) for p in model.proposals[0].points] == [
        (PointKind.WATER, "Top spring"),
        (PointKind.SHELTER, "Bench"),
    ]


def test_the_places_nearest_to_the_end_are_offered_first(
    table: DropTable, folder: Path, qtbot: QtBot
) -> None:
    model = brought(table, qtbot, folder / "b.gpx")
    index = model.index(0, FROM)
    table.table.setCurrentIndex(index)
    table.table.edit(index)
    (box,) = table.table.viewport().findChildren(QComboBox)
    assert [box.itemText(number) for number in range(box.count())][:2] == ["Cedar", "End of Onward"]


def test_sheets_with_problems_keep_nothing_of_theirs(
    table: DropTable, folder: Path, session: QtSession, qtbot: QtBot
) -> None:
    (folder / "places.csv").write_text("id,name,latitude,longitude\nelm,Elm,x,y\n")
    brought(table, qtbot, folder)
    assert {(row[2], row[3]) for row in table.problems.rows} == {("2", "latitude"), ("2", "longitude")}
    assert "nothing of the sheets is taken" in table.sentence.text()
    taken(table, qtbot)
    assert "elm" not in kept(session, Place)
    assert "onward" in kept(session, Stage)


def test_files_that_bring_nothing_say_why(table: DropTable, qtbot: QtBot, tmp_path: Path) -> None:
    marks, empty = tmp_path / "marks.gpx", tmp_path / "empty"
    write(marks, GpxLine("", "", "track", line(0.0, 0.0, 0.0, 0.0)), Waypoint(*BASE, name="Top spring"))
    marks.write_text(marks.read_text().replace("<trk>", "<old>").replace("</trk>", "</old>"))
    empty.mkdir()
    (empty / "readme.txt").write_text("hello")
    brought(table, qtbot, marks)
    assert "Nothing to import. marks.gpx: no line in it, only one mark" in table.sentence.text()
    assert table.tabs.isTabVisible(3)
    assert "no line in it" in table.refusals.rows[0][0]
    assert not table.take.isEnabled()
    table.clear()
    assert table.sentence.text().startswith("Drop GPX files")
    brought(table, qtbot, empty)
    assert "Nothing to import: 'empty' holds no GPX file" in table.sentence.text()


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Event:
    """Reading and keeping begin only when this is set, however fast the machine is."""
    go = Event()
    for name in ("look_at", "take_in"):
        real = getattr(subject, name)

        def when_let(*given: Any, _real: Any = real, **named: Any) -> Any:
            assert go.wait(10.0)
            return _real(*given, **named)

        monkeypatch.setattr(subject, name, when_let)
    return go


def test_calling_off_leaves_nothing_and_a_missing_file_is_told(
    table: DropTable, folder: Path, session: QtSession, qtbot: QtBot, held: Event
) -> None:
    before = session.session.project.catalogue().items[Stage].keys()
    table.bring([folder])
    table.work.call_off()
    held.set()
    qtbot.waitUntil(lambda: not table.work.busy)
    assert table.sentence.text() == "Called off; nothing was changed."
    assert table.model.rowCount() == 0
    assert session.session.project.catalogue().items[Stage].keys() == before
    brought(table, qtbot, folder / "gone.gpx")
    assert "no such file" in table.sentence.text()


def test_taking_in_that_is_called_off_leaves_nothing_and_the_table_as_it_was(
    table: DropTable, folder: Path, session: QtSession, qtbot: QtBot, held: Event
) -> None:
    before = set(kept(session, Stage)), set(kept(session, Place))
    held.set()
    model = brought(table, qtbot, folder)
    held.clear()
    table.take_in()
    table.work.call_off()
    held.set()
    qtbot.waitUntil(lambda: not table.work.busy)
    assert table.sentence.text() == "Called off; nothing was changed."
    assert (set(kept(session, Stage)), set(kept(session, Place))) == before
    assert model.rowCount() == 2
    assert table.take.isEnabled()


def test_split_recordings_come_apart_by_a_tick(table: DropTable, tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / "ridge.gpx"
    lines = (
        GpxLine("Ridge 1", "", "track", line(50_000.0, 3_000.0, 0.0, 10.0)),
        GpxLine("Ridge 2", "", "track", line(53_000.0, 3_000.0, 10.0, 20.0)),
    )
    path.write_bytes(write_gpx(GpxDocument(name="ridge", lines=lines)))
    model = brought(table, qtbot, path)
    assert "from 2 parts (Ridge 1, Ridge 2)" in model.index(0, TOLD).data()
    table.merge.setChecked(False)
    qtbot.waitUntil(lambda: not table.work.busy)
    assert model.rowCount() == 2


def test_several_counts_become_one_that_never_falls() -> None:
    steps: list[int] = []
    tell = in_phases(lambda done, _: steps.append(done), phases_of([Path("a.gpx"), Path("b.csv")]))
    for phase_of in (2, 10, 5, 5):
        for done in range(phase_of):
            tell("file", done, phase_of)
    assert steps == sorted(steps)
    assert 0 <= steps[0] <= steps[-1] <= 1_000


def test_a_step_that_raises_ends_it() -> None:
    def off(_: int, __: int) -> None:
        raise CalledOff("Called off.")

    with pytest.raises(CalledOff):
        in_phases(off, 2)("file", 0, 1)


@pytest.mark.parametrize(("names", "accepted"), [(("a.gpx", "x.png"), True), (("x.png",), False)])
def test_a_drop_with_something_readable_is_taken(
    tmp_path: Path, qtbot: QtBot, names: tuple[str, ...], accepted: bool
) -> None:
    target, seen = QWidget(), list[Path]()
    qtbot.addWidget(target)
    FileDrops(target, seen.extend)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / name)) for name in names])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(5, 5), copy, data, left, none)
    enter.ignore()
    QApplication.sendEvent(target, enter)
    assert enter.isAccepted() is accepted
    if accepted:
        QApplication.sendEvent(target, QDropEvent(QPointF(5, 5), copy, data, left, none))
    assert seen == ([tmp_path / "a.gpx"] if accepted else [])


def test_files_dropped_on_the_main_window_open_the_table_unless_a_client_looks(
    folder: Path, session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Offscreen there is nothing a window could be raised above, and Qt warns.
    monkeypatch.setattr(DropTable, "raise_", lambda _: None)
    window = MainWindow(session, open_window)
    qtbot.addWidget(window)
    session.let_client_look(True)
    drop_on(window, folder / "b.gpx")
    assert window.drop_table is None
    assert "first end" in window.header.sentence.text()
    session.let_client_look(False)
    drop_on(window, folder / "b.gpx")
    (table,) = window.findChildren(DropTable)
    qtbot.waitUntil(lambda: not table.work.busy)
    assert [each.name for each in table.model.proposals] == ["Onward"]
    table.work.wait()
    table.close()


def drop_on(window: QWidget, path: Path) -> None:
    """Drag a file in and let it go."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(5, 5), copy, data, left, none))
    QApplication.sendEvent(window, QDropEvent(QPointF(5, 5), copy, data, left, none))
