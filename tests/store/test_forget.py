"""Erasing guest data leaves nobody in any byte of the file, its log, its documents or its copies."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import orjson
import pytest
from hypothesis import given, settings

from lacet.store import Project, StaleRevision, delta, lock, open_project
from lacet.store.copies import copies_folder, copy_before
from lacet.store.documents import NoSuchDocument
from lacet.store.errors import FileBusy
from lacet.store.known_by import KnownBy
from lacet.store.scrub import FORGOTTEN_NAME, without_guests
from lacet.trip.bookings import Bookings, change
from lacet.trip.party import Party, Traveller
from lacet.trip.plain import to_plain
from lacet.trip.trip import About, Trip
from tests.store.things import CONTACTS, GUESTS, guests_bookings, guests_trip, read_elsewhere
from tests.trip.strategies import trips

WORDS = [word for text in (*GUESTS, *CONTACTS) for word in text.split() if len(word) > 4]
ISSUED = datetime(2026, 11, 25, 9, tzinfo=UTC)


def files_of(project: Project) -> list[Path]:
    """Everything the program wrote: the file, what stands beside it, and its copies."""
    beside = project.path.parent.glob("**/*")
    return [file for file in beside if file.is_file()]


def inflated(path: Path) -> list[bytes]:
    """The text of every revision in a project, unpacked."""
    with closing(sqlite3.connect(path)) as connection:
        rows = connection.execute(
            "SELECT trip_id, revision, base, body FROM revisions WHERE body NOT NULL ORDER BY 1, 2"
        ).fetchall()
    texts: dict[tuple[str, int], bytes] = {}
    for trip_id, revision, base, body in rows:
        texts[trip_id, revision] = delta.unpack(body, texts.get((trip_id, base)))
    return list(texts.values())


def found(project: Project) -> list[tuple[str, str]]:
    """Words of the guests and the files they are found in, packed or not."""
    hits = []
    for file in files_of(project):
        data = file.read_bytes()
        hits += [(word, file.name) for word in WORDS if word.encode() in data]
    for file in (file for file in files_of(project) if file.suffix == ".lacet"):
        hits += [(word, file.name) for text in inflated(file) for word in WORDS if word.encode() in text]
    return hits


def live_a_little(project: Project) -> int:
    """A history with undo, a document and copies, all naming the guests; returns the revision."""
    with project.unit_of_work() as unit:
        unit.documents.freeze(
            "quote",
            "may",
            "v1",
            1,
            f"Dear {GUESTS[0]}".encode(),
            issued_at=ISSUED,
            digest="d",
            media_type="application/pdf",
            figures='{"total":"1200.00 EUR"}',
        )
        unit.commit()
    copy_before(project.path, "something")
    with project.unit_of_work() as unit:
        trip, _ = unit.trips.load("may")
        other = Traveller(id="t9", name="Zebedee Vantreese-Holm")
        party = replace(trip.party, travellers=(*trip.party.travellers, other))
        unit.trips.save(replace(trip, party=party), 1, f"add {other.name}")
        unit.trips.undo("may", 2)
        unit.trips.save(replace(trip, note=f"{GUESTS[3]} pays"), 3, "note")
        held = unit.bookings.of("may")
        named = change(
            held, replace(held.held[0], reference=f"{GUESTS[2]} rang", detail=f"{GUESTS[3]}'s room")
        )
        named = unit.bookings.put("may", held, named, f"{GUESTS[1]} moves", by=GUESTS[2])
        unit.bookings.put("may", named, change(named, held.held[0]), "back")
        unit.commit()
    project.backup(project.path.with_name("on a stick.lacet"))
    return 4


def test_the_words_are_there_before(project: Project) -> None:
    live_a_little(project)
    names = {name for _, name in found(project)}
    assert len(names) >= 3  # the file (or its log) and both copies


def test_no_byte_of_any_file_names_a_guest_afterwards(project: Project) -> None:
    done = project.forget_party("may", live_a_little(project))
    assert found(project) == []
    assert (done.left, done.mentions, done.unread) == ((), (), ())
    assert done.texts > 0
    assert {file.name for file in done.files} >= {"mine.lacet", "on a stick.lacet"}
    assert len(done.files) == 3
    project.close()
    assert found(project) == []


def test_the_trip_stays_without_its_guests(project: Project) -> None:
    before, booked = guests_trip(), guests_bookings()
    done = project.forget_party("may", live_a_little(project))
    with project.reading() as unit:
        trip, revision = unit.trips.load("may")
        assert (done.trip_id, done.revision, revision) == ("may", 5, 5)
        assert len(unit.trips.history("may")) == 1
        bare = replace(booked.held[0], reference="")
        assert unit.bookings.of("may") == Bookings((bare,))
        (step,) = unit.bookings.history("may")
        assert (step.before, step.after, step.by) == (None, bare, "")
    assert (trip.name, trip.start, trip.party.name) == (FORGOTTEN_NAME, before.start, "")
    assert [guest.id for guest in trip.party.travellers] == ["t1", "t2", "t3", "t4"]
    assert trip.party.sharing == (("t1", "t2"), ("t3", "t4"))
    assert trip.variants[0].days[0].legs()[0].travellers == ("t1", "t2")
    assert trip.variants[0].overrules[0].subject == (About("guest", "t1"), About("from", "1"))


def test_documents_lose_their_bytes_and_keep_their_figures(project: Project) -> None:
    project.forget_party("may", live_a_little(project))
    with project.reading() as unit:
        (row,) = unit.documents.rows("may")
        assert (row.figures, row.forgotten, row.issued_at) == ('{"total":"1200.00 EUR"}', True, ISSUED)
        with pytest.raises(NoSuchDocument, match="guests were forgotten"):
            unit.documents.payload(row.number)


def test_copies_stay_whole_and_openable(project: Project) -> None:
    project.forget_party("may", live_a_little(project))
    (own,) = copies_folder(project.path).iterdir()
    for copy in (own, project.path.with_name("on a stick.lacet")):
        with open_project(copy) as opened, opened.reading() as unit:
            assert unit.trips.load("may")[0].name == FORGOTTEN_NAME
            assert len(unit.library.stage_rows()) == 2
            opened.check()


def test_a_trip_whose_id_names_a_guest_gets_another(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip("vantreese-2027"), 0, "new")
        unit.bookings.place("vantreese-2027", guests_bookings(), f"ask for {GUESTS[0]}")
        unit.trips.remove("may", 1)
        unit.commit()
    done = project.forget_party("vantreese-2027", 1)
    assert "vantreese" not in done.trip_id
    with project.reading() as unit:
        assert [row.id for row in unit.trips.rows()] == [done.trip_id]
        kept = unit.trips.load(done.trip_id)[0]
        assert kept.id == done.trip_id
        assert [each.supplier for each in unit.bookings.of(done.trip_id)] == ["weir"]
    project.check()
    assert found(project) == []


def test_another_trip_of_the_same_guest_is_named(project: Project) -> None:
    with project.unit_of_work() as unit:
        again = Trip(id="june", name="June", party=Party(travellers=(Traveller(id="a", name=GUESTS[0]),)))
        unit.trips.save(again, 0, "new")
        unit.commit()
    done = project.forget_party("may", 1)
    assert any("trip 'June' (june), its guests" in each.where and each.sure for each in done.mentions)
    done = project.forget_party("june", 1)
    assert done.mentions == ()
    assert found(project) == []


def test_a_copy_that_is_gone_is_told(project: Project) -> None:
    project.backup(project.path.with_name("stick.lacet"))
    project.path.with_name("stick.lacet").unlink()
    (sentence,) = project.forget_party("may", 1).left
    assert "stick.lacet' could not be cleaned" in sentence


def test_while_another_window_reads_nothing_is_forgotten_and_that_is_told(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "PATIENCE_S", 0.0)
    with read_elsewhere(project.path), pytest.raises(FileBusy, match="another window"):
        project.forget_party("may", 1)
    with project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()
    project.forget_party("may", 1)
    assert found(project) == []


def test_forgetting_someone_elses_revision_is_refused(project: Project) -> None:
    with pytest.raises(StaleRevision):
        project.forget_party("may", 7)
    with project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()


@settings(max_examples=30)
@given(trips())
def test_any_trip_can_be_scrubbed_and_stays_a_trip(trip: Trip) -> None:
    scrubbed = without_guests(trip, KnownBy(frozenset({"Straße", "lake"})), trip.id)
    text = orjson.dumps(to_plain(scrubbed)).decode()
    assert "Straße" not in text
    assert "lake" not in text
    assert [len(variant.days) for variant in scrubbed.variants] == [len(v.days) for v in trip.variants]
    assert len(scrubbed.party.travellers) == len(trip.party.travellers)
