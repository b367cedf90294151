"""The pack from the window: made with its progress, told what it lacks, saved whole and once."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from lacet.window.pack import PackDialog
from lacet.window.qt_session import QtSession


@pytest.fixture
def dialog(session: QtSession, qtbot: QtBot) -> Iterator[PackDialog]:
    made = PackDialog(session)
    with qtbot.waitSignal(made.made, timeout=20_000):
        made.show()
    yield made
    made.close()
    made.deleteLater()


def save(dialog: PackDialog, qtbot: QtBot, folder: Path) -> bool:
    with qtbot.waitSignal(dialog.saved, timeout=20_000) as told:
        dialog.save_in(folder)
    return bool(told.args[0])


def test_a_pack_is_saved_once_and_a_second_one_is_refused_in_a_sentence(
    dialog: PackDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    assert save(dialog, qtbot, out)
    (folder,) = (each for each in out.iterdir() if each.is_dir())
    assert {each.suffix for each in folder.iterdir()} == {".gpx", ".ics", ".pdf"}
    assert sorted(each.name for each in folder.iterdir()) == [
        dialog.files.item(row).text() for row in range(dialog.files.count())
    ]
    assert dialog.show_folder.isVisible()
    assert not save(dialog, qtbot, out)
    assert "is there already" in dialog.says.text()


def test_what_the_library_lacks_is_told_before_it_is_saved(dialog: PackDialog) -> None:
    assert dialog.lacking.item(0).text().startswith("Nobody has written directions for ")
    assert dialog.save.isEnabled()
    assert not dialog.bar.isVisible()


def test_another_language_makes_it_anew(dialog: PackDialog, qtbot: QtBot) -> None:
    with qtbot.waitSignal(dialog.made, timeout=20_000):
        dialog.choices.language.setCurrentIndex(dialog.choices.language.findData("de"))
    assert dialog.prepared is not None
    assert dialog.choices.speech.tag == "de"
