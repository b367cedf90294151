"""What names guests elsewhere is found unpacked and word by word, told, and changed only when asked to."""

import os
import sqlite3
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import orjson
import pytest

from lacet.store import Project
from lacet.store.forget import Forgotten
from lacet.store.known_by import KnownBy
from lacet.store.mentions import strings_in
from lacet.store.pictures import Picture
from lacet.store.written import delete_files
from lacet.trip.catalogue import Office
from lacet.trip.edits import as_standard
from lacet.trip.library import Lodging
from lacet.trip.party import Limits, Need, Party, Traveller, Wishes
from lacet.trip.plain import to_plain
from lacet.trip.texts import Holds, marks_of
from lacet.trip.trip import Day, Note, Trip, Variant
from lacet.trip.words import NeedLevel
from tests.store.test_forget import inflated
from tests.store.things import house

ISSUED = datetime(2026, 11, 25, 9, tzinfo=UTC)


def trip_of(guest: str, trip_id: str, name: str, party: str = "", **more: Any) -> Trip:
    guests = (Traveller(id="t1", name=guest),) if guest else ()
    return Trip(id=trip_id, name=name, party=Party(name=party, travellers=guests), **more)


def noted(trip_id: str, *notes: str, **more: Any) -> Trip:
    """A trip of nobody with note cards."""
    cards = tuple(Note(id=f"i{n}", says=says) for n, says in enumerate(notes, start=1))
    days = (Day(id="d1", items=cards),)
    return Trip(id=trip_id, name=trip_id.title(), variants=(Variant(id="v1", name="A", days=days),), **more)


def keep(project: Project, *trips: Trip) -> None:
    with project.unit_of_work() as unit:
        for trip in trips:
            unit.trips.save(trip, 0, "new")
        unit.commit()


def notes_of(project: Project, trip_id: str) -> list[str]:
    with project.reading() as unit:
        trip, _ = unit.trips.load(trip_id)
    return [item.says for item in trip.variants[0].days[0].items if isinstance(item, Note)]


def everything(project: Project) -> str:
    """All the project's files as bytes, and all its bodies unpacked, in small letters."""
    files = [file for file in project.path.parent.glob("**/*") if file.is_file()]
    bodies = [body for file in files if file.suffix == ".lacet" for body in inflated(file)]
    return b"\n".join((*(file.read_bytes() for file in files), *bodies)).decode(errors="replace").casefold()


def told(done: Forgotten) -> list[tuple[str, str, bool]]:
    return [(each.where.split(", ", 1)[1], each.says, each.sure) for each in done.mentions]


@pytest.mark.parametrize(
    ("guest", "party", "trip_id"),
    [
        ("", "Quillfeather", "quillfeather-in-may"),
        ("Bo Li", "", "bo-li-in-may"),
        ("May Oye", "", "may-in-june"),
    ],
)
def test_an_id_made_of_a_name_goes_from_the_row_the_body_and_whatever_was_begun_from_it(
    project: Project, guest: str, party: str, trip_id: str
) -> None:
    begun = trip_of("", "later", "Later", started_from=trip_id)
    keep(project, trip_of(guest, trip_id, "In May", party), begun)
    done = project.forget_party(trip_id, 1)
    with project.reading() as unit:
        assert unit.trips.load(done.trip_id)[0].id == done.trip_id
        assert unit.trips.load("later")[0].started_from == done.trip_id
        assert unit.trips.load("later")[1] == 1
    assert trip_id not in everything(project)


def test_a_trip_that_followed_is_kept_again_as_it_was_without_a_new_revision(project: Project) -> None:
    keep(
        project,
        trip_of("", "quill-may", "May", "Quill"),
        trip_of("Oye", "later", "x", started_from="quill-may"),
    )
    project.forget_party("quill-may", 1)
    with project.unit_of_work() as unit:
        trip, revision = unit.trips.load("later")
        assert unit.trips.save(trip, revision, "nothing") == revision


def test_what_is_said_elsewhere_is_told_with_its_place_and_stays(project: Project) -> None:
    note = "Ms Quillfeather again, m.q@guests.example"
    keep(project, trip_of("Marigold Quillfeather", "trip-1", "May"), noted("june", note, "a quill, feathers"))
    with project.unit_of_work() as unit:
        unit.library.add_version(house("weir", note="Ms QUILLFEATHER likes room 4"))
        unit.commit()
    done = project.forget_party("trip-1", 1)
    assert told(done) == [
        ("library, lodging 'Weir' (weir), version 2", "Ms QUILLFEATHER likes room 4", True),
        ("trip 'June' (june)", "Ms Quillfeather again, m.q@guests.examp", True),
    ]
    assert notes_of(project, "june") == [note, "a quill, feathers"]


def test_asked_to_it_takes_their_names_out_of_every_revision_of_other_trips(project: Project) -> None:
    guest = Traveller(
        id="t1", name="Märit Quillfeather", email="m.q@guests.example", telephone="+44 20 7946 0999"
    )
    keep(project, Trip(id="trip-1", name="May", party=Party(travellers=(guest,))))
    number = "ring 020 / +44 (0)20 or 44 2079 460 999"
    first = noted("june", "Marit Quillfeather's sister", number, "m.q@guests.example")
    keep(project, first)
    with project.unit_of_work() as unit:
        unit.trips.save(replace(first, note="as QUILLFEATHER"), 1, "note for Quillfeather")
        unit.trips.undo("june", 2)
        unit.commit()
    done = project.forget_party("trip-1", 1)
    assert project.redact(done.known) == ("June",)
    assert notes_of(project, "june") == ["[erased]'s sister", "ring 020 / +44 (0)20 or [erased]", "[erased]"]
    with project.reading() as unit:
        assert unit.trips.load_revision("june", 2).note == "as [erased]"
        says = [row.says for row in unit.trips.history("june")]
    assert says[1:] == ["note for [erased]", "undo note for [erased]"]
    assert "quillfeather" not in everything(project)
    project.check()


def test_a_standard_trip_saved_from_theirs_is_searched_like_any(project: Project) -> None:
    theirs = replace(noted("trip-1", "for Quillfeather"), party=Party(name="Quillfeather"))
    keep(project, theirs, as_standard(theirs, "v1", "trip-2", "Quillfeather's way"))
    (mention, *_) = project.forget_party("trip-1", 1).mentions
    assert "trip 'Quillfeather's way' (trip-2)" in mention.where


def test_a_short_or_everyday_name_counts_as_a_whole_word_and_as_doubtful_alone(project: Project) -> None:
    keep(
        project, trip_of("Bo Li", "trip-1", "x"), noted("june", "Bo Li", "bo was here", "a bold line", "boli")
    )
    done = project.forget_party("trip-1", 1)
    assert [(says, sure) for _, says, sure in told(done)] == [("Bo Li", True), ("bo was here", False)]
    project.redact(done.known)
    assert notes_of(project, "june") == ["[erased]", "bo was here", "a bold line", "boli"]


def test_a_name_that_a_place_has_too_is_doubtful() -> None:
    known = KnownBy(frozenset({"Ada Weir"}), elsewhere=frozenset({"weir"}))
    assert known.spans("Weir: Ada Weir") == [(0, 4, False), (6, 14, True)]
    assert known.spans("in may, A. W., the weird way") == []


@pytest.mark.parametrize("text", ['{"note":"\\nQuillfeather"}', "<b>Quill&#102;eather</b>", "Quillfeather"])
def test_texts_are_read_without_the_signs_of_their_form(text: str) -> None:
    known = KnownBy(frozenset({"Quillfeather"}))
    assert any(known.spans(each) for each in strings_in(text))


def filled(kind: type, words: Iterator[str]) -> dict[str, Any]:
    """A word of its own for every text of a guest or a party that isn't a term or an id."""
    return {name: next(words) for name, mark in marks_of(kind).items() if mark is Holds.CLIENT}


def test_no_word_of_any_field_of_guest_or_party_is_left_anywhere(project: Project) -> None:
    words = (f"zyxo{chr(97 + n // 26)}{chr(97 + n % 26)}q" for n in range(99))
    need = Need(kind="milk", level=NeedLevel.MUST, **filled(Need, words))
    guest = Traveller(id="t1", age=61, height_cm=171.0, needs=(need,), **filled(Traveller, words))
    wishes = Wishes(**filled(Wishes, words) | {"likes": (next(words),)})
    party = Party(travellers=(guest,), wishes=wishes, **filled(Party, words))
    used = sorted(set(_words_of(to_plain(party))))
    marks = [mark for kind in (Need, Traveller, Party, Wishes) for mark in marks_of(kind).values()]
    assert len(used) == marks.count(Holds.CLIENT)
    variants = noted("x", *used).variants
    trip = Trip(id="trip-1", name=f"May {used[0]}", party=party, variants=variants, note=used[1])
    keep(project, trip)
    with project.unit_of_work() as unit:
        payload = orjson.dumps(used)
        unit.documents.freeze("quote", "trip-1", "v1", 1, payload, issued_at=ISSUED, digest="d",
                              media_type="application/json")  # fmt: skip
        unit.trips.save(replace(trip, agent=used[2]), 1, f"edit {used[3]}")
        unit.commit()
    project.backup(project.path.with_name("stick.lacet"))
    assert all(word in everything(project) for word in used)
    done = project.forget_party("trip-1", 2)
    assert (done.mentions, done.left) == ((), ())
    held = everything(project)
    assert [word for word in used if word in held] == []


def _words_of(data: Any) -> Iterator[str]:
    if isinstance(data, str) and data.startswith("zyxo"):
        yield data
    elif isinstance(data, dict):
        for part in data.values():
            yield from _words_of(part)
    elif isinstance(data, list):
        for part in data:
            yield from _words_of(part)


def test_every_kind_of_value_of_a_party_is_among_those_tried() -> None:
    tried = {Need, Traveller, Wishes, Party}
    with_texts = {kind for kind in (Party, Traveller, Need, Limits, Wishes) if any(
        mark is Holds.CLIENT for mark in marks_of(kind).values())}  # fmt: skip
    assert with_texts == tried
    assert {type(getattr(Party(), field.name)) for field in fields(Party)} - {str, tuple} == {Wishes}
    assert is_dataclass(Limits)


def test_files_that_left_the_project_are_told_and_no_name_stays_in_the_list(
    project: Project, tmp_path: Path
) -> None:
    keep(project, trip_of("Marigold Quillfeather", "trip-1", "May"))
    sent, gone = tmp_path / "out" / "Quillfeather.lacet", tmp_path / "gone.xlsx"
    sent.parent.mkdir()
    project.export_trip("trip-1", sent)
    with project.noting_written("workbook", "trip-1", [gone]):
        pass
    done = project.forget_party("trip-1", 1)
    assert {(each.path, each.kind, each.there) for each in done.written} == {
        (sent, "trip", True), (gone, "workbook", False),
    }  # fmt: skip
    assert done.mentions == ()
    again = project.forget_party("trip-1", done.revision)
    kept = {(each.path.name, each.kind) for each in again.written}
    assert kept == {("erased-trip-1-1", "trip"), ("gone.xlsx", "workbook")}
    assert "quillfeather" not in str(again.written).casefold()


def test_what_could_not_be_read_is_told(project: Project) -> None:
    keep(project, trip_of("Marigold Quillfeather", "trip-1", "May"), noted("june"))
    with project.unit_of_work() as unit:
        unit.documents.freeze("proposal", "june", "v1", 1, b"%PDF-1.7 ...", issued_at=ISSUED, digest="d",
                              media_type="application/pdf")  # fmt: skip
        unit.commit()
    assert project.forget_party("trip-1", 1).unread == ("mine.lacet, document 1 of 'June' is a PDF",)


@pytest.mark.skipif(sys.platform != "linux", reason="names are text elsewhere")
def test_files_of_a_name_that_is_no_text_are_remembered_and_found(project: Project, tmp_path: Path) -> None:
    keep(project, trip_of("Marigold Quillfeather", "trip-1", "May"))
    sent = tmp_path / os.fsdecode(b"of \xff.xlsx")
    sent.write_bytes(b"")
    with project.noting_written("workbook", "trip-1", [sent, tmp_path / r"\xff"]):
        pass
    done = project.forget_party("trip-1", 1)
    assert {(each.path, each.there) for each in done.written} >= {(sent, True)}


def test_names_go_from_notes_of_library_settings_and_pictures_in_every_version_when_asked(
    project: Project,
) -> None:
    keep(project, trip_of("Marigold Quillfeather", "trip-1", "May"))
    picture = Picture(payload=b"x", media_type="image/png", width=1, height=1, alt="Marigold Quillfeather")
    with project.unit_of_work() as unit:
        for number in (1, 2):
            unit.library.add_version(house("inn", note=f"Marigold Quillfeather likes room {number}"))
        unit.settings.save(Office(name="Ours", texts=(("terms", "As with Marigold Quillfeather"),)))
        unit.pictures.keep(picture)
        unit.commit()
    done = project.forget_party("trip-1", 1)
    assert {(where.split(",")[0], sure) for where, _, sure in told(done)} == {
        ("library", True), ("settings", True),
    }  # fmt: skip
    before = project.catalogue()
    changed = project.redact(done.known)
    assert changed == ("lodging 'Inn'", "settings, Office", "the words of a picture")
    assert "quillfeather" not in everything(project)
    after = project.catalogue()
    assert after is not before
    assert [each.note for each in after.items[Lodging]["inn"].values()] == [
        "[erased] likes room 1", "[erased] likes room 2",
    ]  # fmt: skip
    with project.reading() as unit:
        assert [row.id for row in unit.library.item_rows(Lodging, "likes room")] == ["inn"]
        assert unit.library.item_rows(Lodging, "quillfeather") == []
        assert unit.settings.office().texts == (("terms", "As with [erased]"),)
    project.check()
    assert project.redact(done.known) == ()
    with project.unit_of_work() as unit, pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        unit.plain.execute("UPDATE items SET body = '{}'")


def test_what_things_are_called_is_told_and_stays(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_version(house("inn", name="Weir"))
        unit.commit()
    keep(project, trip_of("Marigold Weir", "trip-1", "May"))
    done = project.forget_party("trip-1", 1)
    assert project.redact(done.known) == ()
    assert project.catalogue().items[Lodging]["inn"][1].name == "Weir"


def test_files_are_deleted_when_asked_links_are_not_followed_and_what_stays_is_told(tmp_path: Path) -> None:
    pack, file, link, aim = (tmp_path / name for name in ("pack", "file", "link", "aim"))
    pack.mkdir()
    (pack / "notes.pdf").write_bytes(b"")
    file.write_bytes(b"")
    aim.mkdir()
    (aim / "mine").write_bytes(b"")
    link.symlink_to(aim)
    assert delete_files([pack, file, link, tmp_path / "gone"]) == ()
    assert [each.name for each in tmp_path.iterdir() if each.suffix != ".lacet"] == ["aim"]
    assert (aim / "mine").exists()
    (said,) = delete_files([aim / "mine" / "below"])
    assert "could not be deleted" in said
