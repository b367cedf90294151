"""The session: edits are saved, assessed and told once; undo survives closing; previews leave no trace."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, time
from pathlib import Path

import pytest

from lacet.digest import digest
from lacet.service.keeper import Keeper
from lacet.service.session import NothingOpen, Session
from lacet.service.shown import Opened
from lacet.store import FileBusy, Project, StaleRevision, open_project
from lacet.trip import edits
from lacet.trip.bookings import Booking, add
from lacet.trip.kept import Kept
from lacet.trip.library import Lodging
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service
from lacet.wording import Wording
from tests.small_library import small_trip, walk, write_small_project

TODAY = date(2026, 11, 25)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[Project]:
    write_small_project(tmp_path / "small.lacet")
    with open_project(tmp_path / "small.lacet") as opened:
        yield opened


@pytest.fixture
def session(project: Project) -> Session:
    opened = Session(project, today=lambda: TODAY)
    opened.open_trip("trip")
    return opened


def test_an_edit_is_kept_assessed_and_told_once(session: Session) -> None:
    told: list[Opened] = []
    session.changed.connect(told.append)
    assert session.apply(lambda trip: edits.set_departs(trip, "v1", "d1", time(8, 0)), "set out at 8")
    assert not session.apply(lambda trip: edits.set_departs(trip, "v1", "d1", time(8, 0)), "set out at 8")
    assert len(told) == 1
    group = told[0].assessment.figures.days[0].group
    assert group is not None
    assert group.departs_s == 8 * 3600


def test_undo_and_redo_survive_closing(session: Session, project: Project) -> None:
    session.apply(lambda trip: edits.set_departs(trip, "v1", "d1", time(8, 0)), "set out at 8")
    again = Session(project, today=lambda: TODAY)
    again.open_trip("trip")
    assert again.opened is not None
    assert again.opened.position.undo_says == "set out at 8"
    again.undo()
    assert again.opened.trip == small_trip()
    again.redo()
    assert again.opened.trip.variants[0].days[0].departs == time(8, 0)


def test_a_preview_changes_nothing_that_is_kept(session: Session) -> None:
    shown: list[object] = []
    session.previewed.connect(shown.append)
    before = session.opened
    session.start_preview(lambda trip: edits.place_item(trip, "v1", "d2", walk("", backward=True)))
    session.stop_preview()
    session.stop_preview()
    assert session.opened == before
    assert len(shown) == 2
    assert shown[-1] is None


def test_two_sessions_never_lose_an_update(session: Session, project: Project) -> None:
    other = Session(project, today=lambda: TODAY)
    other.open_trip("trip")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "mine"), "note")
    with pytest.raises(StaleRevision):
        other.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "theirs"), "note")
    with project.reading() as unit:
        assert unit.trips.load("trip")[0].variants[0].days[0].note == "mine"


def test_a_gesture_without_a_trip_is_refused_in_a_sentence(project: Project) -> None:
    with pytest.raises(NothingOpen, match="choose one"):
        Session(project).undo()


def theirs_of(project: Project) -> Iterator[Session]:
    """A session of another program on the same file."""
    with open_project(project.path) as other:
        opened = Session(other, today=lambda: TODAY)
        opened.open_trip("trip")
        yield opened


@pytest.fixture
def elsewhere(session: Session, project: Project) -> Iterator[Session]:
    """Another program's session, opened after ours."""
    yield from theirs_of(project)


def fill_the_quay_house(other: Session) -> None:
    """Another trip whose confirmed booking takes rooms on our dates."""
    booking = Booking(
        id="b1",
        service=Service.LODGING,
        supplier="quay-house",
        from_day=date(2027, 5, 4),
        to_day=date(2027, 5, 5),
        quantity=99,
        detail="double",
        state=BookingState.CONFIRMED,
    )
    other.add_trip(replace(small_trip(), id="full", name="Full"))
    other.book(lambda held: add(held, booking), "ask the Quay House")


def test_what_others_booked_is_known_without_opening_the_trip_again(
    session: Session, elsewhere: Session
) -> None:
    fill_the_quay_house(elsewhere)
    assert session.follow() == ("bookings",)
    assert session.commitments.count(Service.LODGING, "quay-house", "double", date(2027, 5, 4)) == 99
    assert session.follow() == ()


def test_an_edit_is_assessed_by_what_others_booked_meanwhile(session: Session, elsewhere: Session) -> None:
    fill_the_quay_house(elsewhere)
    session.apply(my_note, "note")
    assert session.commitments.count(Service.LODGING, "quay-house", "double", date(2027, 5, 4)) == 99


def test_what_others_changed_in_the_open_trip_appears_by_itself(session: Session, elsewhere: Session) -> None:
    elsewhere.apply(my_note, "note")
    assert session.follow() == ("this trip",)
    assert session.opened is not None
    assert session.opened.trip.variants[0].days[0].note == "mine"
    assert session.opened.position.undo_says == "note"


def test_house_rules_changed_elsewhere_are_assessed_by(session: Session, elsewhere: Session) -> None:
    elsewhere.keep_rules(replace(elsewhere.rules, walking_limit_m=12_000.0))
    told: list[object] = []
    session.library_changed.connect(told.append)
    assert session.follow() == ("the library",)
    assert session.rules.walking_limit_m == 12_000.0
    assert len(told) == 1


def test_what_cannot_be_read_just_now_is_taken_the_next_time(
    session: Session, elsewhere: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    elsewhere.apply(my_note, "note")

    def busy() -> None:
        raise FileBusy("Somebody writes.")

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(session, "_take_changes", busy)
        assert session.follow() == ()
    assert session.follow() == ("this trip",)


def test_the_digest_changes_with_the_variant_and_not_with_another(session: Session) -> None:
    here = session.opened
    assert here is not None
    before = digest(session.inputs(here.trip, "v1"))
    copied = edits.copy_variant(here.trip, "v1", "Another")
    assert digest(session.inputs(copied, "v1")) == before
    moved = edits.set_stops(here.trip, "v1", "d1", 1800.0)
    assert digest(session.inputs(moved, "v1")) != before


def test_edits_of_different_days_by_two_people_both_stay(session: Session, project: Project) -> None:
    other = Session(project, today=lambda: TODAY)
    other.open_trip("trip")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d2", "theirs"), "their note")
    assert other.apply(my_note, "my note")
    here = other.opened
    assert here is not None
    assert [day.note for day in here.variant.days[:2]] == ["mine", "theirs"]
    with project.reading() as unit:
        assert unit.trips.load("trip") == (here.trip, here.revision)
        assert [row.says for row in unit.trips.history("trip")][-2:] == ["their note", "my note"]


def test_undo_takes_back_ones_own_part_of_two_peoples_changes(session: Session, project: Project) -> None:
    other = Session(project, today=lambda: TODAY)
    other.open_trip("trip")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d2", "theirs"), "their note")
    other.apply(my_note, "my note")
    other.undo()
    here = other.opened
    assert here is not None
    assert [day.note for day in here.variant.days[:2]] == ["", "theirs"]


def lost_race(session: Session, project: Project) -> Session:
    """Another session whose edit came too late."""
    other = Session(project, today=lambda: TODAY)
    other.open_trip("trip")
    session.apply(lambda trip: edits.set_day_note(trip, "v1", "d1", "theirs"), "note")
    with pytest.raises(StaleRevision):
        other.apply(my_note, "note")
    return other


def my_note(trip: Trip) -> Trip:
    return edits.set_day_note(trip, "v1", "d1", "mine")


def test_after_a_lost_race_mine_lives_on_as_a_variant(session: Session, project: Project) -> None:
    other = lost_race(session, project)
    other.keep_mine()
    here = other.opened
    assert here is not None
    assert [variant.days[0].note for variant in here.trip.variants] == ["theirs", "mine"]
    assert here.variant.name == "As asked (mine)"


def test_after_a_lost_race_theirs_can_be_taken(session: Session, project: Project) -> None:
    other = lost_race(session, project)
    other.take_theirs()
    here = other.opened
    assert here is not None
    assert here.variant.days[0].note == "theirs"
    assert other.apply(my_note, "note")


def test_only_who_began_a_preview_ends_it(session: Session) -> None:
    """A list the mouse has left hears of it when the drag over the sheet has begun."""
    shelf, sheet = object(), object()
    session.start_preview(lambda trip: edits.place_item(trip, "v1", "d2", walk("", backward=True)), shelf)
    session.start_preview(lambda trip: edits.place_item(trip, "v1", "d3", walk("", backward=True)), sheet)
    held = session.preview
    session.stop_preview(shelf)
    assert session.preview is held
    session.stop_preview(sheet)
    assert session.preview is None


def test_what_was_worked_out_is_forgotten_with_the_project(tmp_path: Path) -> None:
    write_small_project(tmp_path / "small.lacet")
    with open_project(tmp_path / "small.lacet") as project:
        session = Session(project)
        session.open_trip("trip")
        asked: list[int] = []
        kept: Kept[int] = Kept(9)

        def work_out() -> int:
            asked.append(1)
            return len(asked)

        for _ in range(2):
            kept.get(session.catalogue, (), "figure", work_out)
        assert len(asked) == 1
        session.close()
        kept.get(session.catalogue, (), "figure", work_out)
        assert len(asked) == 2


def test_other_units_are_told_anew_and_the_same_are_not(session: Session) -> None:
    told: list[Opened] = []
    session.changed.connect(told.append)
    session.speak(Wording())
    assert told == []
    session.speak(Wording(imperial=True))
    assert session.wording == Wording(imperial=True)
    assert len(told) == 1


def test_a_newer_version_reaches_the_open_trip_in_view_and_another_in_the_file_alone(
    session: Session,
) -> None:
    keeper, opened = Keeper(session), session.need_open()
    with session.project.unit_of_work() as unit:
        unit.trips.save(replace(opened.trip, id="other"), 0, "new")
        house = unit.library.latest(Lodging, "birch-house")
        assert house is not None
        newer = unit.library.add_version(replace(house, telephone="1234"))
        unit.commit()
    assert {(each.trip_id, each.version) for each in keeper.behind(newer)} == {("trip", 1), ("other", 1)}
    keeper.take_newer("other", Lodging, "birch-house", 2)
    assert session.need_open().trip == opened.trip
    keeper.take_newer("trip", Lodging, "birch-house", 2)
    shown = session.need_open()
    assert {night.lodging.version for day in shown.variant.days[:2] for night in day.nights} == {2}
    assert shown.position.undo_says == "take a newer version from the library"
    assert keeper.behind(newer) == ()
