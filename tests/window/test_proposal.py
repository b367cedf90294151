"""The proposal from the window: previewed from its own file, told what it lacks, saved once and kept."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from lacet.trip.edits import set_party
from lacet.trip.party import NOBODY
from lacet.window.proposal import ProposalDialog, show_proposal
from lacet.window.qt_session import QtSession

QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
pytestmark = pytest.mark.qt_log_ignore("Release of profile", "GPUInfo", "Rhi", "RHI", extend=True)


@pytest.fixture
def dialog(session: QtSession, qtbot: QtBot) -> Iterator[ProposalDialog]:
    yield from opened(session, qtbot)


def opened(session: QtSession, qtbot: QtBot) -> Iterator[ProposalDialog]:
    made = ProposalDialog(session)
    made.show()
    with qtbot.waitSignal(made.page.loadFinished, timeout=20_000):
        pass
    yield made
    made.close()
    made.deleteLater()


def asked(dialog: ProposalDialog, qtbot: QtBot, script: str) -> object:
    answers: list[object] = []
    dialog.page.page().runJavaScript(script, 0, answers.append)
    qtbot.waitUntil(lambda: bool(answers), timeout=20_000)
    return answers[0]


def save(dialog: ProposalDialog, qtbot: QtBot, folder: Path) -> bool:
    with qtbot.waitSignal(dialog.saved, timeout=30_000) as told:
        dialog.save_in(folder)
    return bool(told.args[0])


def kept_files(session: QtSession) -> list[bytes]:
    with session.session.project.reading() as unit:
        rows = sorted(unit.documents.rows("trip"), key=lambda row: row.media_type, reverse=True)
        return [unit.documents.payload(row.number) for row in rows]


def test_the_page_is_shown_with_its_script_and_nothing_from_outside(
    dialog: ProposalDialog, qtbot: QtBot
) -> None:
    assert asked(dialog, qtbot, "document.querySelector('h1').textContent") == "Test trip"
    assert asked(dialog, qtbot, "document.querySelectorAll('.live').length > 0")
    assert dialog.page.gate.refused == []
    assert not dialog.busy.isVisible()


def test_what_the_office_has_not_written_is_told_before_it_is_saved(dialog: ProposalDialog) -> None:
    told = [dialog.lacking.item(row).text() for row in range(dialog.lacking.count())]
    assert any(line.startswith("(d) ") for line in told)
    assert any(line.startswith("(b) ") for line in told)


def test_it_is_saved_once_and_kept_as_it_was_sent(session: QtSession, qtbot: QtBot, tmp_path: Path) -> None:
    session.apply(lambda trip: replace(trip, name="Quiet trip"), "rename")
    inner = session.session
    assert inner.opened is not None
    for dialog in opened(session, qtbot):
        assert save(dialog, qtbot, tmp_path / "out")
        assert dialog.show_folder.isVisible()
        kept = kept_files(session)
        written = sorted((tmp_path / "out").iterdir(), key=lambda path: path.suffix)
        assert [path.suffix for path in written] == [".html", ".pdf"]
        assert kept == ([path.read_bytes() for path in written] if dialog.choices.draft.isEnabled() else [])
        assert not save(dialog, qtbot, tmp_path / "out")
        assert "is there already" in dialog.says.text()
        assert kept_files(session) == kept


def test_a_trip_that_has_no_party_is_a_draft_whatever_is_wished(session: QtSession, qtbot: QtBot) -> None:
    session.apply(lambda trip: set_party(trip, NOBODY), "nobody")
    for dialog in opened(session, qtbot):
        assert dialog.choices.draft.isChecked()
        assert not dialog.choices.draft.isEnabled()
        assert "Draft" in str(asked(dialog, qtbot, "document.querySelector('.draft').textContent"))
        assert dialog.lacking.item(0).text().startswith("Stops it: The trip has no party")


def test_another_language_makes_it_anew(dialog: ProposalDialog, qtbot: QtBot) -> None:
    with qtbot.waitSignal(dialog.page.loadFinished, timeout=20_000):
        dialog.choices.language.setCurrentIndex(dialog.choices.language.findData("de"))
    assert asked(dialog, qtbot, "document.documentElement.lang") == "de"


def test_the_last_of_several_choices_counts(dialog: ProposalDialog, qtbot: QtBot) -> None:
    dialog.choices.language.setCurrentIndex(dialog.choices.language.findData("de"))
    dialog.choices.units.setCurrentIndex(1)
    dialog.choices.language.setCurrentIndex(dialog.choices.language.findData("en"))
    qtbot.waitUntil(lambda: not dialog.work.busy and not dialog.busy.isVisible(), timeout=20_000)
    assert dialog.made is not None
    assert dialog.made.prepared.material.language == "en"
    distance = dialog.made.prepared.material.days[0].ways[0].facts[0].value
    assert distance.endswith(" mi")


def test_without_an_open_trip_there_is_nothing_to_propose(session: QtSession, qtbot: QtBot) -> None:
    session.session.opened = None
    parent = QWidget()
    qtbot.addWidget(parent)
    assert show_proposal(session, parent) is None


def test_the_look_of_an_office_is_remembered_and_a_bad_one_refused(
    session: QtSession, qtbot: QtBot, tmp_path: Path, home: Path
) -> None:
    good, bad = tmp_path / "shore.toml", tmp_path / "bad.toml"
    good.write_text('[colours]\nink = "#102030"\n')
    bad.write_text('[colours]\nink = "blue"\n')
    for dialog in opened(session, qtbot):
        with qtbot.waitSignal(dialog.page.loadFinished, timeout=20_000):
            assert dialog.choices.take_look(good)
        assert asked(dialog, qtbot, "getComputedStyle(document.body).color") == "rgb(16, 32, 48)"
        assert not dialog.choices.take_look(bad)
        assert "must be a colour" in dialog.says.text()
    for dialog in opened(session, qtbot):
        assert dialog.choices.look.whole == "shore.toml"
        with qtbot.waitSignal(dialog.page.loadFinished, timeout=20_000):
            dialog.choices.take_ours()
        assert dialog.choices.look.whole == "Lacet's own…"
