"""Trips go in whole and come out equal; revisions refuse lost updates; history goes back and forth."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import orjson
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.store import Project, StaleRevision, delta, open_project
from lacet.store.errors import CannotBeKept, DamagedFile, NothingToUndo, UnknownTrip
from lacet.trip.trip import Trip
from tests.store.things import CONTACTS, GUESTS, guests_trip, raw
from tests.trip.strategies import trips

# A unit left without commit leaves nothing behind, so the examples of one test may share a file.
MANY = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


@MANY
@given(trips())
def test_any_trip_comes_back_equal(project: Project, trip: Trip) -> None:
    with project.unit_of_work() as unit:
        assert unit.trips.save(trip, 0, "new") == 1
        assert unit.trips.load(trip.id) == (trip, 1)


@MANY
@given(st.lists(trips(), min_size=1, max_size=5))
def test_every_revision_keeps_the_trip_it_had(project: Project, values: list[Trip]) -> None:
    with project.unit_of_work() as unit:
        kept: dict[int, Trip] = {}
        revision = 0
        for trip in values:
            revision = unit.trips.save(trip, revision, "edit")
            kept[revision] = trip
        assert {number: unit.trips.load_revision("trip", number) for number in kept} == kept


def test_the_text_of_a_trip_is_what_sql_says_it_is(project: Project, path: Path) -> None:
    rows = raw(path, "SELECT revision, name, start, accepted, variants FROM trips")
    assert rows == [(1, f"{GUESTS[0]}, May", "2027-05-03", None, f'[["v1","A for {GUESTS[3]}",1]]')]
    ((body,),) = raw(path, "SELECT body FROM revisions")
    plain = orjson.loads(delta.unpack(body))
    assert plain["variants"][0]["days"][0]["nights"][0]["lodging"] == {"id": "weir"}


def test_what_sql_wrote_is_what_the_store_reads(project: Project, path: Path) -> None:
    raw(path, "UPDATE travellers SET age = 7 WHERE id = 't2'")
    raw(path, "UPDATE trips SET agent = 'Sea Breeze' WHERE id = 'may'")
    with project.reading() as unit:
        guest = unit.trips.load("may")[0].party.traveller("t2")
        assert guest is not None
        assert guest.age == 7
        assert unit.trips.rows()[0].agent == "Sea Breeze"


def test_no_text_of_a_guest_stands_in_a_revision(project: Project, path: Path) -> None:
    plain_trip = replace(guests_trip("plain"), name="May", note="", variants=())
    with project.unit_of_work() as unit:
        unit.trips.save(plain_trip, 0, "new")
        unit.commit()
    ((body,),) = raw(path, "SELECT body FROM revisions WHERE trip_id = 'plain'")
    text = delta.unpack(body).decode()
    assert not [word for word in (*GUESTS, *CONTACTS, "milk", "Vantreese", "171.5") if word in text]
    assert "quillon" in text  # the id alone


def test_without_commit_nothing_is_kept(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip("other"), 0, "new")
    with project.reading() as unit:
        assert [row.id for row in unit.trips.rows()] == ["may"]


def test_an_error_undoes_what_was_done_before_it(project: Project) -> None:
    with pytest.raises(StaleRevision), project.unit_of_work() as unit:
        unit.trips.save(guests_trip("other"), unit.trips.save(guests_trip("other"), 0, "new") + 1, "again")
    with project.unit_of_work() as unit:
        assert [row.id for row in unit.trips.rows()] == ["may"]


def test_a_stale_save_names_both_revisions_and_changes_nothing(project: Project) -> None:
    mine = replace(guests_trip(), note="mine")
    with project.unit_of_work() as unit:
        unit.trips.save(replace(guests_trip(), note="theirs"), 1, "theirs")
        unit.commit()
    with (
        pytest.raises(StaleRevision, match="revision 1, stored is revision 2") as refused,
        project.unit_of_work() as unit,
    ):
        unit.trips.save(mine, 1, "mine")
    assert (refused.value.trip_id, refused.value.expected, refused.value.found) == ("may", 1, 2)
    with project.reading() as unit:
        assert unit.trips.load("may")[0].note == "theirs"


def test_a_new_trip_does_not_take_the_id_of_another(project: Project) -> None:
    with pytest.raises(StaleRevision), project.unit_of_work() as unit:
        unit.trips.save(guests_trip(), 0, "new")


def test_saving_the_same_trip_makes_no_revision(project: Project) -> None:
    with project.unit_of_work() as unit:
        assert unit.trips.save(guests_trip(), 1, "nothing") == 1
        assert len(unit.trips.history("may")) == 1


def test_undo_and_redo_survive_closing_and_name_the_edit(path: Path) -> None:
    values = [replace(guests_trip(), note=f"note {number}") for number in range(4)]
    with open_project(path) as project, project.unit_of_work() as unit:
        for number, trip in enumerate(values, start=1):
            unit.trips.save(trip, number, f"edit {number}")
        unit.commit()
    with open_project(path) as project, project.unit_of_work() as unit:
        assert unit.trips.position("may") == (5, "edit 4", None)
        assert unit.trips.undo("may", 5) == (values[2], 6)
        assert unit.trips.undo("may", 6) == (values[1], 7)
        unit.commit()
    with open_project(path) as project, project.unit_of_work() as unit:
        assert unit.trips.position("may") == (7, "edit 2", "edit 3")
        assert unit.trips.redo("may", 7) == (values[2], 8)
        assert unit.trips.position("may") == (8, "edit 3", "edit 4")


def test_an_edit_after_undo_leaves_the_way_forward_unlisted_but_kept(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(replace(guests_trip(), note="one"), 1, "one")
        unit.trips.undo("may", 2)
        unit.trips.save(replace(guests_trip(), note="two"), 3, "two")
        with pytest.raises(NothingToUndo, match="redo"):
            unit.trips.redo("may", 4)
        assert unit.trips.undo("may", 4)[0] == guests_trip()
        assert unit.trips.load_revision("may", 2).note == "one"


def test_the_first_value_cannot_be_undone(project: Project) -> None:
    with pytest.raises(NothingToUndo, match="nothing to undo"), project.unit_of_work() as unit:
        unit.trips.undo("may", 1)


@MANY
@given(st.lists(st.sampled_from(["edit", "undo", "redo"]), max_size=40))
def test_undo_and_redo_walk_like_a_list_of_past_values(project: Project, gestures: list[str]) -> None:
    with project.unit_of_work() as unit:
        past, future = [guests_trip()], list[Trip]()
        revision = 1
        for number, gesture in enumerate(gestures):
            if gesture == "edit":
                past, future = [*past, replace(guests_trip(), note=f"edit {number}")], []
                revision = unit.trips.save(past[-1], revision, f"edit {number}")
            elif gesture == "undo" and len(past) > 1:
                past, future = past[:-1], [past[-1], *future]
                assert unit.trips.undo("may", revision) == (past[-1], revision + 1)
                revision += 1
            elif gesture == "redo" and future:
                past, future = [*past, future[0]], future[1:]
                assert unit.trips.redo("may", revision) == (past[-1], revision + 1)
                revision += 1
            assert unit.trips.load("may") == (past[-1], revision)
            position = unit.trips.position("may")
            assert (position.undo_says is not None, position.redo_says is not None) == (
                len(past) > 1,
                bool(future),
            )


def test_long_histories_stay_readable_and_small(path: Path) -> None:
    with open_project(path) as project, project.unit_of_work() as unit:
        for number in range(1, 101):
            unit.trips.save(replace(guests_trip(), note=f"note {number}"), number, "note")
        unit.commit()
    # Opened anew, nothing is remembered: every text comes out of its chain.
    with open_project(path) as project, project.reading() as unit:
        assert all(unit.trips.load_revision("may", n + 1).note == f"note {n}" for n in range(1, 101))
    ((depth, total),) = raw(path, "SELECT max(depth), sum(length(body)) FROM revisions")
    assert depth == 31
    assert total / 101 < 300


def test_a_damaged_revision_is_told_and_the_others_stay_readable(path: Path) -> None:
    with open_project(path) as project, project.unit_of_work() as unit:
        unit.trips.save(replace(guests_trip(), note="two"), 1, "two")
        unit.commit()
    raw(path, "UPDATE revisions SET body = substr(body, 1, length(body) - 10) WHERE revision = 2")
    with open_project(path) as project, project.reading() as unit:
        with pytest.raises(DamagedFile, match="Revision 2"):
            unit.trips.load("may")
        assert unit.trips.load_revision("may", 1) == guests_trip()


def test_guests_are_kept_as_they_were_at_each_revision(project: Project) -> None:
    older = guests_trip()
    party = replace(older.party, travellers=older.party.travellers[:2], name="Two of them")
    with project.unit_of_work() as unit:
        unit.trips.save(replace(older, party=party), 1, "two stay at home")
        assert len(unit.trips.load("may")[0].party.travellers) == 2
        assert unit.trips.load_revision("may", 1) == older


def test_the_history_tells_when_and_what(project: Project) -> None:
    at = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
    with project.unit_of_work() as unit:
        unit.trips.save(replace(guests_trip(), note="two"), 1, "a word", at)
        unit.trips.undo("may", 2, at)
        told = [(row.revision, row.content, row.saved_at, row.says) for row in unit.trips.history("may")[1:]]
    assert told == [(2, 2, at, "a word"), (3, 1, at, "undo a word")]


def test_a_list_shows_trips_without_reading_them(project: Project) -> None:
    with project.reading() as unit:
        (row,) = unit.trips.rows()
    assert (row.id, row.revision, row.party, row.start) == ("may", 1, "The Vantreese party", date(2027, 5, 3))
    assert [(variant.id, variant.days) for variant in row.variants] == [("v1", 1)]


def test_a_removed_trip_takes_everything_of_its_own_along(project: Project, path: Path) -> None:
    with project.unit_of_work() as unit:
        unit.trips.remove("may", 1)
        unit.commit()
    for table in ("trips", "revisions", "travellers", "parties", "bookings", "booking_steps", "uses"):
        assert raw(path, f"SELECT count(*) FROM {table}") == [(0,)], table


def test_unknown_trips_and_revisions_are_refused_in_a_sentence(project: Project) -> None:
    with project.reading() as unit:
        with pytest.raises(UnknownTrip, match="holds no trip 'june'"):
            unit.trips.load("june")
        with pytest.raises(UnknownTrip, match="no revision 9"):
            unit.trips.load_revision("may", 9)


def test_half_a_character_is_refused_in_a_sentence(project: Project) -> None:
    with pytest.raises(CannotBeKept, match="half a character"), project.unit_of_work() as unit:
        unit.trips.save(replace(guests_trip(), note="\ud83d"), 1, "paste")


def test_one_file_holds_everything_after_closing() -> None:
    with TemporaryDirectory() as folder:
        with open_project(Path(folder) / "new.lacet", create=True) as project, project.unit_of_work() as unit:
            unit.trips.save(guests_trip(), 0, "new")
            unit.commit()
        assert [file.name for file in Path(folder).iterdir()] == ["new.lacet"]
