"""Booking in a session: kept at once, apart from the trip's history, shared with who books beside one."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.digest import digest
from lacet.service.gathering import assessed
from lacet.service.issuing import issue_quote, issued_quote
from lacet.service.session import Session
from lacet.store import FileBusy, StaleRevision, open_project
from lacet.store.errors import FileReadOnly
from lacet.trip import edits
from lacet.trip.bookings import (
    NO_BOOKINGS,
    Act,
    BookedMeanwhile,
    Booking,
    add,
    add_all,
    cancel,
    change,
    with_state,
)
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding
from lacet.trip.library import Rate, Tariff
from lacet.trip.money import Money
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service, Unit
from tests.service.test_saving import Held, note
from tests.small_library import write_small_project

TODAY = date(2026, 11, 25)
BIRCH = Booking(
    id="", service=Service.LODGING, supplier="birch-house", detail="double",
    from_day=date(2027, 5, 8), to_day=date(2027, 5, 10), state=BookingState.CONFIRMED,
)  # fmt: skip
CEDAR = replace(BIRCH, supplier="cedar-inn", from_day=date(2027, 5, 10), to_day=date(2027, 5, 11))


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("template") / "small.lacet"
    write_small_project(path)
    return path


@pytest.fixture
def open_here(template: Path, tmp_path: Path) -> Iterator[Callable[..., Session]]:
    """Sessions of several programs on one file, as many as are asked for."""
    path = Path(shutil.copy(template, tmp_path))
    with ExitStack() as stack:

        def opened(by: str = "anna", saver: Any = None) -> Session:
            project = stack.enter_context(open_project(path))
            session = Session(project, today=lambda: TODAY, saver=saver, by=by)
            session.open_trip("trip")
            return session

        yield opened


@pytest.fixture
def session(open_here: Callable[..., Session]) -> Session:
    return open_here()


def asks(booking: Booking) -> Act:
    return lambda held: add(held, booking)


def suppliers(session: Session) -> list[str]:
    return [each.supplier for each in session.need_open().bookings]


def kept(session: Session) -> list[str]:
    with session.project.reading() as unit:
        return [each.supplier for each in unit.bookings.of("trip")]


def told(session: Session) -> list[Finding]:
    return [each for each in session.need_open().assessment.findings if each.check == "bookings_kept"]


def test_undo_of_the_trip_undoes_no_booking_and_the_finding_says_what_no_longer_fits(
    open_here: Callable[..., Session],
) -> None:
    session = open_here()
    session.apply(lambda trip: edits.propose(trip, "v1"), "propose")
    for says in ("one", "two", "three", "four"):
        session.apply(note("d1", says), says)
    assert session.book(asks(BIRCH), "ask Birch House")
    assert session.book(asks(CEDAR), "ask Cedar Inn")
    session.apply(lambda trip: edits.set_start(trip, date(2027, 5, 15)), "a week later")
    unfit = [str(each.says) for each in told(session) if "isn't needed" in str(each.says)]
    assert unfit == [
        "Birch House was asked for 8 May, but isn't needed. Cancel it.",
        "Cedar Inn was asked for 10 May, but isn't needed. Cancel it.",
    ]
    for _ in range(6):
        session.undo()
    assert session.need_open().trip.proposed is None
    assert suppliers(session) == kept(session) == ["birch-house", "cedar-inn"]
    for _ in range(6):
        session.redo()
    assert suppliers(session) == ["birch-house", "cedar-inn"]
    again = open_here()
    assert suppliers(again) == ["birch-house", "cedar-inn"]


def test_an_act_is_no_step_of_the_trip_and_has_a_trace_of_its_own(session: Session) -> None:
    revision, position = session.need_open().revision, session.need_open().position
    session.book(asks(BIRCH), "ask Birch House")
    session.cancel("k1")
    assert (session.need_open().revision, session.need_open().position) == (revision, position)
    first, second = session.booking_history()
    assert (first.by, str(first.says), first.before) == ("anna", "ask Birch House", None)
    assert (second.by, str(second.says), second.before) == ("anna", "cancel Birch House", first.after)
    assert second.after == replace(BIRCH, id="k1", state=BookingState.CANCELLED)
    with pytest.raises(LacetError, match="no booking 'k7'"):
        session.cancel("k7")


def test_a_proved_remedy_books_and_another_changes_the_trip(session: Session) -> None:
    session.apply(lambda trip: edits.propose(trip, "v1"), "propose")
    revision = session.need_open().revision
    (finding, *_) = told(session)
    (fix,) = session.fixes_of(finding)
    shown = session.try_out(fix.edit, fix.act)
    assert shown is not None
    assert len(shown.bookings) > len(session.need_open().bookings) == 0
    assert session.take(fix)
    assert session.need_open().revision == revision
    assert [each.made_for for each in session.need_open().bookings] == [("n1", "n2")]
    assert finding.subject not in [each.subject for each in told(session)]


def test_what_does_nothing_is_no_act(session: Session) -> None:
    assert not session.book(lambda held: held, "nothing")
    assert session.booking_history() == ()


def test_it_is_shown_at_once_and_acknowledged_when_it_is_kept(open_here: Callable[..., Session]) -> None:
    held = Held()
    session = open_here(saver=held)
    done: list[object] = []
    session.saved.connect(done.append)
    session.book(asks(BIRCH), "ask Birch House")
    assert (suppliers(session), kept(session), done, session.has_unsaved) == (["birch-house"], [], [], True)
    held.step()
    assert (kept(session), len(done), session.has_unsaved) == (["birch-house"], 1, False)


def test_what_cannot_be_kept_now_waits_and_is_not_done_twice(open_here: Callable[..., Session]) -> None:
    held = Held()
    session = open_here(saver=held)
    held.busy = True
    session.book(asks(BIRCH), "ask Birch House")
    held.step()
    assert isinstance(session.failure, FileBusy)
    held.busy = False
    session.try_saving_again()
    # The commit is done, and its answer lost.
    errand, answer = held.errands.popleft()
    errand()
    answer(None, FileBusy("Somebody writes."))
    session.try_saving_again()
    held.wait()
    assert kept(session) == suppliers(session) == ["birch-house"]
    assert len(session.booking_history()) == 1


def test_a_project_that_may_only_be_read_books_nothing(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(session.project, "read_only", True)
    with pytest.raises(FileReadOnly):
        session.book(asks(BIRCH), "ask")
    assert suppliers(session) == []


def test_bookings_of_others_appear_by_themselves(open_here: Callable[..., Session]) -> None:
    mine, theirs = open_here("anna"), open_here("bert")
    theirs.book(asks(BIRCH), "ask")
    assert mine.follow() == ("bookings",)
    assert suppliers(mine) == ["birch-house"]
    assert mine.follow() == ()
    theirs.cancel("k1")
    assert mine.follow() == ("bookings",)
    assert [each.by for each in mine.booking_history()] == ["bert", "bert"]


def test_two_who_book_at_once_lose_nothing(open_here: Callable[..., Session]) -> None:
    mine, theirs = open_here("anna"), open_here("bert")
    theirs.book(asks(CEDAR), "ask")
    mine.book(asks(BIRCH), "ask")
    assert suppliers(mine) == kept(mine) == ["cedar-inn", "birch-house"]
    theirs.follow()
    assert suppliers(theirs) == ["cedar-inn", "birch-house"]


@pytest.mark.parametrize("late", [False, True], ids=["at once", "on its way"])
def test_the_second_who_asks_for_the_same_is_told_and_sees_the_first(
    open_here: Callable[..., Session], late: bool
) -> None:
    held = Held() if late else None
    mine, theirs = open_here("anna", held), open_here("bert")
    why: list[LacetError] = []
    mine.failed.connect(why.append)
    theirs.book(asks(replace(BIRCH, quantity=2)), "ask")
    if held is None:
        with pytest.raises(BookedMeanwhile, match="Somebody else"):
            mine.book(asks(BIRCH), "ask")
    else:
        mine.book(asks(BIRCH), "ask")
        held.wait()
        assert isinstance(why[0], BookedMeanwhile)
    assert [each.quantity for each in mine.need_open().bookings] == [2]
    assert not mine.has_unsaved
    assert [each.by for each in mine.booking_history()] == ["bert"]


def test_booking_waits_for_no_clash_of_edits_and_outlives_its_end(open_here: Callable[..., Session]) -> None:
    mine, theirs = open_here("anna"), open_here("bert")
    theirs.apply(note("d1", "theirs"), "note")
    with pytest.raises(StaleRevision):
        mine.apply(note("d1", "mine"), "note")
    assert mine.book(asks(BIRCH), "ask")
    assert kept(mine) == ["birch-house"]
    assert isinstance(mine.failure, StaleRevision)
    mine.take_theirs()
    assert suppliers(mine) == ["birch-house"]
    assert mine.need_open().variant.days[0].note == "theirs"


def test_what_was_booked_goes_on_when_edits_before_it_are_given_up(
    open_here: Callable[..., Session],
) -> None:
    held = Held()
    mine, theirs = open_here("anna", held), open_here("bert")
    theirs.apply(note("d1", "theirs"), "note")
    mine.apply(note("d1", "mine"), "note")
    mine.book(asks(BIRCH), "ask")
    held.step()
    assert isinstance(mine.failure, StaleRevision)
    mine.take_theirs()
    held.wait()
    assert kept(mine) == suppliers(mine) == ["birch-house"]


def test_acts_that_wait_follow_the_ids_that_the_file_gives(open_here: Callable[..., Session]) -> None:
    held = Held()
    mine, theirs = open_here("anna", held), open_here("bert")
    theirs.book(asks(replace(BIRCH, service=Service.RESTAURANT, supplier="net-loft")), "ask")
    mine.book(asks(BIRCH), "ask")
    later = replace(BIRCH, from_day=date(2027, 5, 9), to_day=date(2027, 5, 11))
    mine.book(asks(later), "another room")
    mine.book(lambda now: cancel(now, "k1"), "cancel the first")
    held.step()
    assert [each.id for each in mine.need_open().bookings] == ["k2", "k3"], "k1 is theirs by now"
    mine.book(lambda now: with_state(now, "k3", BookingState.OPTION), "hold the other")
    held.wait()
    assert [(each.id, each.supplier, each.state.value) for each in mine.need_open().bookings] == [
        ("k1", "net-loft", "confirmed"), ("k2", "birch-house", "cancelled"), ("k3", "birch-house", "option")
    ]  # fmt: skip
    assert mine.failure is None


SERVICES = st.sampled_from((BIRCH, CEDAR, replace(BIRCH, service=Service.RESTAURANT, supplier="net-loft")))
WHAT = st.lists(SERVICES, max_size=3, unique_by=lambda each: each.supplier)


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(mine=WHAT, theirs=WHAT)
def test_bookings_of_two_people_are_those_of_one_order_or_the_second_is_told(
    template: Path, tmp_path_factory: pytest.TempPathFactory, mine: list[Booking], theirs: list[Booking]
) -> None:
    first = {each.supplier for each in theirs}
    path = Path(shutil.copy(template, tmp_path_factory.mktemp("two")))
    with open_project(path) as one, open_project(path) as other:
        anna, bert = (Session(each, today=lambda: TODAY, by="x") for each in (one, other))
        for each in (anna, bert):
            each.open_trip("trip")
        bert.book(lambda held: add_all(held, theirs), "ask")
        try:
            anna.book(lambda held: add_all(held, mine), "ask")
        except BookedMeanwhile:
            assert not first.isdisjoint(each.supplier for each in mine)
            assert kept(anna) == suppliers(anna) == [each.supplier for each in theirs]
        else:
            assert first.isdisjoint(each.supplier for each in mine)
            assert kept(anna) == [each.supplier for each in (*theirs, *mine)]


def test_nothing_that_was_booked_goes_into_a_copy(session: Session) -> None:
    session.book(asks(BIRCH), "ask")
    trip = session.need_open().trip
    with session.project.unit_of_work() as unit:
        unit.trips.save(edits.as_standard(trip, "v1", "standard", "Standard"), 0, "standard")
        unit.trips.save(replace(trip, id="copy"), 0, "copy")
        unit.commit()
    with session.project.reading() as unit:
        assert unit.bookings.of("standard") == unit.bookings.of("copy") == NO_BOOKINGS
    session.apply(lambda it: edits.copy_variant(it, "v1", "B"), "copy")
    assert suppliers(session) == ["birch-house"]


def test_a_quote_keeps_the_bookings_it_was_issued_with(session: Session) -> None:
    session.book(asks(BIRCH), "ask")
    double = Rate(unit=Unit.ROOM_NIGHT, amount=Money(Decimal(90), "EUR"))
    with session.project.unit_of_work() as unit:
        unit.library.add_version(
            Tariff(id="birch", name="Birch", service=Service.LODGING, subject_id="birch-house",
                   rates=(double,), valid_from=TODAY, valid_to=date(2027, 12, 31))
        )  # fmt: skip
        unit.commit()
    before = assessed(session.project, "trip", "A", TODAY)
    number = issue_quote(session.project, before)
    session.cancel("k1")
    now = assessed(session.project, "trip", "A", TODAY)
    assert digest(now.inputs) != digest(before.inputs)
    issued = issued_quote(session.project, now, number)
    assert issued.inputs.bookings == before.inputs.bookings
    assert digest(issued.inputs) == digest(before.inputs)


def test_a_booking_of_another_trip_takes_rooms_here(open_here: Callable[..., Session]) -> None:
    mine, theirs = open_here("anna"), open_here("bert")
    theirs.add_trip(replace(theirs.need_open().trip, id="other", name="Other"))
    theirs.book(asks(replace(BIRCH, quantity=7)), "ask")
    assert mine.follow() == ("bookings",)
    assert mine.commitments.count(Service.LODGING, "birch-house", "double", date(2027, 5, 8)) == 7
    theirs.book(lambda held: change(held, replace(held.held[0], quantity=6)), "one less")
    theirs.book(lambda held: cancel(held, "k1"), "cancel")
    mine.follow()
    assert mine.commitments.taken == {}


def test_who_is_gone_from_the_trip_is_still_booked_and_told(session: Session) -> None:
    def without(trip: Trip) -> Trip:
        return edits.remove_traveller(trip, "t2")

    session.book(asks(replace(BIRCH, travellers=("t2",))), "ask")
    session.apply(without, "t2 stays at home")
    assert suppliers(session) == ["birch-house"]
    assert "Birch House was asked on 8 May for a guest who no longer travels. Cancel it." in [
        str(each.says) for each in told(session)
    ]
