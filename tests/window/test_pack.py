"""The pack from the window."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from lacet.window.pack import write_pack
from lacet.window.qt_session import QtSession


def test_a_pack_is_written_once_and_a_second_one_is_refused_in_a_sentence(
    session: QtSession, qtbot: QtBot, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    with qtbot.waitSignal(session.kept):
        assert write_pack(session, out)
    (folder,) = (each for each in out.iterdir() if each.is_dir())
    assert {each.suffix for each in folder.iterdir()} == {".gpx", ".ics"}
    with qtbot.waitSignal(session.refused) as refused:
        assert not write_pack(session, out)
    assert "is there already" in refused.args[0]
