"""Upkeep from the menu: copies, trips for colleagues, guest data erased; told before and after."""

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from lacet.service.library.upkeep_words import file_name
from lacet.store import open_project
from lacet.trip import edits
from lacet.trip.library import Lodging
from lacet.window.dialogs.trips import TripChooser
from lacet.window.library import dialogs, upkeep
from lacet.window.library.desk import LibraryDesk
from lacet.window.qt_session import QtSession
from tests.small_library import small_trip

Asked = list[tuple[str, str, tuple[str, ...]]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    """Questions that were asked; each is answered with yes."""
    questions: Asked = []

    def yes(title: str, does: str, _: str, consequences: tuple[str, ...], __: object) -> bool:
        questions.append((title, does, tuple(consequences)))
        return True

    monkeypatch.setattr(dialogs.SentencesDialog, "ask", yes)
    monkeypatch.setattr(TripChooser, "ask", lambda session, _: session.opened.trip.id)
    return questions


@pytest.fixture
def desk(session: QtSession, qtbot: QtBot) -> LibraryDesk:
    made = LibraryDesk(session)
    qtbot.addWidget(made)
    made.show()
    return made


def choose(monkeypatch: pytest.MonkeyPatch, path: Path) -> None:
    """What the file dialogs would answer."""
    monkeypatch.setattr(upkeep, "ask_target", lambda *_: path)
    monkeypatch.setattr(upkeep, "ask_open", lambda _: path)


def done(desk: LibraryDesk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not desk.upkeep.work.busy)


def rename_quay(session: QtSession, name: str) -> None:
    inner = session.session
    house = inner.catalogue.latest(Lodging, "quay-house")
    assert house is not None
    with inner.project.unit_of_work() as unit:
        unit.library.add_version(replace(house, name=name))
        unit.commit()
    inner.reload_library()


def test_a_backup_is_restored_after_it_was_said_what_that_does(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, asked: Asked, tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    copy = tmp_path / "kept.lacet"
    choose(monkeypatch, copy)
    desk.upkeep.back_up()
    done(desk, qtbot)
    assert "Backed up as" in desk.sentence.text()
    rename_quay(session, "Other House")
    desk.upkeep.restore()
    done(desk, qtbot)
    assert asked[0][0] == "Restore 'kept.lacet'?"
    assert session.session.catalogue.latest(Lodging, "quay-house").name == "Quay House"  # type: ignore[union-attr]  # a missing one fails as well
    assert "What was here before is in 'small" in desk.sentence.text()
    page = desk.show_kind("lodgings")
    qtbot.waitUntil(lambda: page.list.model.rows[-1].name == "Quay House")


def test_a_backup_never_writes_over_a_file(
    desk: LibraryDesk, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    there = tmp_path / "there.lacet"
    there.write_text("mine")
    choose(monkeypatch, there)
    desk.upkeep.back_up()
    done(desk, qtbot)
    assert "is there already" in desk.sentence.text()
    assert there.read_text() == "mine"


def test_compacting_tells_the_sizes(desk: LibraryDesk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not desk.health.work.busy)
    desk.upkeep.compact()
    done(desk, qtbot)
    assert "MB became" in desk.sentence.text()


def test_a_trip_goes_to_a_colleague_and_theirs_comes_in_beside_ours(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, asked: Asked, tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    sent = tmp_path / "sent.lacet"
    choose(monkeypatch, sent)
    desk.upkeep.send_trip()
    done(desk, qtbot)
    assert "with all it needs" in desk.sentence.text()
    with open_project(sent) as theirs, theirs.unit_of_work() as unit:
        trip, revision = unit.trips.load("trip")
        unit.trips.save(edits.rename_trip(trip, "Theirs"), revision, "rename")
        unit.commit()
    desk.upkeep.take_in()
    done(desk, qtbot)
    title, does, told = asked[-1]
    assert (title, does) == ("Taken in", "Open it")
    assert told[0] == "Taken in: Theirs."
    assert "The trip 'Theirs' is kept as 'trip-2'" in told[1]
    assert session.opened is not None
    assert session.opened.trip.id == "trip-2"


def test_erasing_names_what_goes_and_stays_and_what_was_read(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, asked: Asked
) -> None:
    inner = session.session
    party = small_trip().party
    guests = tuple(replace(guest, name=f"Ottoline {guest.id}") for guest in party.travellers)
    named = replace(party, name="The Ottolines", travellers=guests)
    session.apply(lambda trip: edits.set_party(trip, named), "names")
    qtbot.waitUntil(lambda: not desk.health.work.busy)
    desk.upkeep.erase_guest_data()
    done(desk, qtbot)
    before, after = asked
    assert before[:2] == ("Erase guest data of 'Test trip'?", "Erase")
    assert [says.partition(":")[0] for says in before[2]] == [
        "What goes", "What goes", "What goes", "What stays", "What is only told",
        "What can't be reached",
    ]  # fmt: skip
    assert after[2][0].startswith("Read afterwards, word by word: "), after
    assert "Ottoline" not in " ".join(after[2])
    # The party was once called 'Test', and so is the region: that may mean them, or not.
    assert after[2][1] == "Perhaps named in small.lacet, settings, Region: 'Test' – please look."
    assert b"Ottoline" not in inner.project.path.read_bytes()
    assert session.opened is not None
    assert all("Ottoline" not in guest.name for guest in session.opened.trip.party.travellers)


def test_files_that_still_lie_there_and_names_elsewhere_are_offered_to_go(
    desk: LibraryDesk, session: QtSession, qtbot: QtBot, asked: Asked, tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    inner, sent = session.session, tmp_path / "sent.lacet"
    choose(monkeypatch, sent)
    guests = tuple(replace(guest, name="Ottoline Quillfeather") for guest in small_trip().party.travellers)
    named = replace(small_trip().party, name="", travellers=guests)
    session.apply(lambda trip: edits.set_party(trip, named), "names")
    desk.upkeep.send_trip()
    done(desk, qtbot)
    house = inner.catalogue.latest(Lodging, "quay-house")
    assert house is not None
    with inner.project.unit_of_work() as unit:
        unit.library.add_version(replace(house, note="Ottoline Quillfeather likes room 4"))
        unit.commit()
    qtbot.waitUntil(lambda: not desk.health.work.busy)
    desk.upkeep.erase_guest_data()
    done(desk, qtbot)
    done(desk, qtbot)
    files, names = asked[-2:]
    assert (files[0], files[1], files[2]) == ("Files of this trip", "Delete", (str(sent),))
    assert not sent.exists()
    assert (names[0], names[1]) == ("Names elsewhere", "Take them out")
    assert "likes room 4" in names[2][0]
    kept = inner.catalogue.latest(Lodging, "quay-house")
    assert kept is not None
    assert kept.note == "[erased] likes room 4"
    assert "Names taken out of: lodging 'Quay House'" in desk.sentence.text()


def test_however_much_is_told_the_buttons_stay_on_the_screen(qtbot: QtBot) -> None:
    short, long = (
        dialogs.SentencesDialog("Erased", "Close", "Told:", [f"A sentence, number {n}"] * n) for n in (2, 200)
    )
    for each in (short, long):
        qtbot.addWidget(each)
        each.show()
    assert short.height() < 200
    assert short.told.verticalScrollBar().maximum() == 0
    assert long.height() < 600
    assert long.told.verticalScrollBar().maximum() > 1000
    bottom = long.does.mapTo(long, long.does.rect().bottomLeft()).y()
    assert bottom < long.height()


def test_one_thing_at_a_time(desk: LibraryDesk) -> None:
    desk.upkeep.work.busy = True
    desk.upkeep.compact()
    assert "still being done" in desk.sentence.text()


@pytest.mark.parametrize(
    ("name", "file"), [("May / June: 4 guests", "May June 4 guests.lacet"), ("???", "trip.lacet")]
)
def test_names_of_trips_make_names_of_files(name: str, file: str) -> None:
    assert file_name(name) == file
