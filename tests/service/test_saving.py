"""Saves on their way: nothing said to be saved is lost, nothing is said too soon, what fails waits."""

import shutil
import tempfile
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from threading import Event, get_ident
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacet.service.outbox import Waiting
from lacet.service.saver import Answer, Worker
from lacet.service.session import Session
from lacet.store import FileBusy, Project, StaleRevision, open_project
from lacet.store.errors import CannotBeKept, FileGone
from lacet.trip import edits
from lacet.trip.errors import LacetError
from lacet.trip.trip import Trip
from tests.small_library import write_small_project

TODAY = date(2026, 11, 25)


class Held:
    """A saver that does an errand when the test says so."""

    def __init__(self) -> None:
        self.errands: deque[tuple[Callable[[], Any], Answer]] = deque()
        self.busy = False

    def run(self, errand: Callable[[], Any], answer: Answer) -> None:
        self.errands.append((errand, answer))

    def step(self) -> None:
        if self.errands:
            errand, answer = self.errands.popleft()
            if self.busy:
                answer(None, FileBusy("Somebody writes."))
                return
            try:
                done = errand()
            except LacetError as error:
                answer(None, error)
            else:
                answer(done, None)

    def wait(self) -> None:
        while self.errands:
            self.step()

    def close(self) -> None:
        self.wait()


@contextmanager
def opened(path: Path, saver: Any = None) -> Iterator[Session]:
    with open_project(path) as project:
        session = Session(project, today=lambda: TODAY, saver=saver)
        session.open_trip("trip")
        yield session


def note(day: str, says: str) -> Callable[[Trip], Trip]:
    return lambda trip: edits.set_day_note(trip, "v1", day, says)


def kept(project: Project) -> Trip:
    with project.reading() as unit:
        return unit.trips.load("trip")[0]


def history(project: Project) -> list[str]:
    with project.reading() as unit:
        return [row.says for row in unit.trips.history("trip")]


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("template") / "small.lacet"
    write_small_project(path)
    return path


@pytest.fixture
def path(tmp_path: Path, template: Path) -> Path:
    return Path(shutil.copy(template, tmp_path))


@pytest.fixture
def held() -> Held:
    return Held()


@pytest.fixture
def session(path: Path, held: Held) -> Iterator[Session]:
    with opened(path, held) as made:
        yield made


def test_an_edit_is_seen_at_once_and_saved_later(session: Session, held: Held) -> None:
    before = kept(session.project)
    told: list[Waiting] = []
    session.saved.connect(told.append)
    session.apply(note("d1", "mine"), "note")
    assert session.opened is not None
    assert session.opened.variant.days[0].note == "mine"
    assert session.opened.position.undo_says == "note"
    assert (kept(session.project), told, session.has_unsaved) == (before, [], True)
    held.wait()
    assert kept(session.project) == session.opened.trip
    assert session.opened.revision == 2
    assert (len(told), session.has_unsaved) == (1, False)


def test_saved_is_said_of_the_last_of_several_edits(session: Session, held: Held) -> None:
    told: list[Waiting] = []
    session.saved.connect(told.append)
    for says in ("one", "two", "three"):
        session.apply(note("d1", says), says)
    held.step()
    held.step()
    assert told == []
    held.step()
    assert len(told) == 1
    assert history(session.project)[-3:] == ["one", "two", "three"]


def test_an_undo_right_after_an_edit_takes_back_that_edit(session: Session, held: Held) -> None:
    session.apply(note("d1", "one"), "one")
    session.apply(note("d1", "two"), "two")
    session.undo()
    # What comes after an undo is made of what it leads to.
    session.apply(note("d2", "after"), "after")
    held.wait()
    assert session.opened is not None
    assert [day.note for day in session.opened.variant.days[:2]] == ["one", "after"]
    assert kept(session.project) == session.opened.trip


def test_what_cannot_be_saved_waits_and_is_saved_in_order_later(session: Session, held: Held) -> None:
    failed: list[LacetError] = []
    session.failed.connect(failed.append)
    held.busy = True
    session.apply(note("d1", "one"), "one")
    session.apply(note("d1", "two"), "two")
    held.step()
    assert len(failed) == 1
    assert session.failure is failed[0]
    held.busy = False
    session.try_saving_again()
    held.wait()
    assert not session.has_unsaved
    assert history(session.project)[-2:] == ["one", "two"]


def test_a_clash_keeps_all_that_was_done_behind_it(path: Path, session: Session, held: Held) -> None:
    session.apply(note("d1", "mine"), "one")
    session.apply(note("d2", "mine, too"), "two")
    with opened(path) as other:
        other.apply(note("d1", "theirs"), "theirs")
    failed: list[LacetError] = []
    session.failed.connect(failed.append)
    held.wait()
    assert isinstance(failed[0], StaleRevision)
    with pytest.raises(StaleRevision):
        session.finish_saving()
    session.keep_mine()
    held.wait()
    here = kept(session.project)
    assert [[day.note for day in variant.days[:2]] for variant in here.variants] == [
        ["theirs", ""], ["mine", "mine, too"],
    ]  # fmt: skip
    assert not session.has_unsaved


def test_what_somebody_else_saved_meanwhile_joins_what_is_on_its_way(
    path: Path, session: Session, held: Held
) -> None:
    session.apply(note("d1", "mine"), "mine")
    with opened(path) as other:
        other.apply(note("d2", "theirs"), "theirs")
    assert session.follow() == ()
    held.wait()
    assert session.opened is not None
    assert [day.note for day in session.opened.variant.days[:2]] == ["mine", "theirs"]
    assert kept(session.project) == session.opened.trip


def test_closing_waits_for_what_is_on_its_way(path: Path, held: Held) -> None:
    project = open_project(path)
    session = Session(project, today=lambda: TODAY, saver=held)
    session.open_trip("trip")
    session.apply(note("d1", "mine"), "mine")
    session.close()
    with open_project(path) as again:
        assert kept(again).variants[0].days[0].note == "mine"


def test_an_error_nobody_foresaw_is_told_and_the_edit_waits(
    session: Session, held: Held, monkeypatch: pytest.MonkeyPatch
) -> None:
    reported: list[type[BaseException]] = []
    monkeypatch.setattr("sys.excepthook", lambda kind, *_: reported.append(kind))
    session.apply(note("d1", "mine"), "mine")
    _, answer = held.errands.popleft()
    answer(None, ZeroDivisionError())
    assert reported == [ZeroDivisionError]
    assert "unexpected" in str(session.failure)
    session.try_saving_again()
    held.wait()
    assert kept(session.project).variants[0].days[0].note == "mine"


STEPS = st.lists(
    st.sampled_from(["mine", "theirs", "save", "save", "undo", "redo", "busy", "free", "finish", "follow"]),
    max_size=25,
)


@settings(max_examples=40)
@given(steps=STEPS)
def test_whatever_happens_nothing_said_to_be_saved_is_lost(template: Path, steps: list[str]) -> None:
    """I edit the first day and they the second, so that the two never clash."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(shutil.copy(template, folder))
        held = Held()
        with opened(path, held) as session, opened(path) as other:
            saved: list[str] = []
            # At the moment in which it is said the file holds it.
            session.saved.connect(lambda _: saved.append(history(session.project)[-1]))
            mine = []
            for number, step in enumerate(steps):
                if step == "save":
                    held.step()
                else:
                    mine.append(do(step, number, session, other, held))
            held.busy = False
            session.finish_saving()
            session.follow()
            assert session.opened is not None
            assert kept(session.project) == session.opened.trip
            told = history(session.project)
            edits_made = [each for each in mine if each]
            assert [each for each in told if each.startswith("mine")] == edits_made
            assert set(saved) <= set(told)


def do(step: str, number: int, session: Session, other: Session, held: Held) -> str:
    """One step of a random day; returns the name of an edit that was made."""
    if step in ("busy", "free"):
        held.busy = step == "busy"
    try:
        if step == "mine" and session.apply(note("d1", f"{number}"), f"mine {number}"):
            return f"mine {number}"
        if step == "theirs":
            other.follow()
            other.apply(note("d2", f"{number}"), f"theirs {number}")
        if step in ("undo", "redo", "follow"):
            getattr(session, step)()
        if step == "finish":
            session.finish_saving()
    except LacetError:
        # An edit that can't be saved at the moment is made all the same, behind an undo it isn't.
        assert session.opened is not None
        return f"mine {number}" if session.opened.position.undo_says == f"mine {number}" else ""
    return ""


def test_the_worker_saves_in_order_on_a_thread_of_its_own(path: Path) -> None:
    arrived = Event()
    worker = Worker(arrived.set)
    project = open_project(path)
    session = Session(project, today=lambda: TODAY, saver=worker)
    session.open_trip("trip")
    answered: list[int] = []
    session.saved.connect(lambda _: answered.append(get_ident()))
    for number in range(30):
        session.apply(note("d1", f"{number}"), f"{number}")
    assert arrived.wait(10)
    session.finish_saving()
    # Answers are given on the thread that asks for them.
    assert set(answered) == {get_ident()}
    assert history(project)[-30:] == [f"{number}" for number in range(30)]
    session.undo()
    session.finish_saving()
    assert kept(project).variants[0].days[0].note == "28"
    session.close()


def test_what_no_file_can_keep_is_refused_before_it_stops_what_comes_after(
    session: Session, held: Held
) -> None:
    before = session.opened
    with pytest.raises(CannotBeKept):
        session.apply(note("d1", "half \ud83d"), "note")
    assert session.opened is before
    session.apply(note("d1", "whole"), "whole")
    held.wait()
    assert kept(session.project).variants[0].days[0].note == "whole"


def test_an_edit_whose_commit_was_done_and_not_answered_is_no_clash(session: Session, held: Held) -> None:
    session.apply(note("d1", "mine"), "one")
    errand, answer = held.errands.popleft()
    errand()
    answer(None, FileGone("Gone right after the commit."))
    session.try_saving_again()
    held.wait()
    assert not session.has_unsaved
    assert history(session.project)[-1:] == ["one"]


def test_after_a_clash_nothing_of_mine_is_given_up(path: Path, session: Session, held: Held) -> None:
    session.apply(lambda trip: edits.copy_variant(trip, "v1", "B"), "copy")
    held.wait()
    assert session.opened is not None
    copy = session.opened.trip.variants[1].id
    session.apply(note("d1", "mine"), "one")
    session.apply(lambda trip: edits.set_day_note(trip, copy, "d2", "in the copy"), "two")
    session.apply(lambda trip: edits.set_agent(trip, "Agency"), "agent")
    with opened(path) as other:
        other.apply(note("d1", "theirs"), "theirs")
    held.wait()
    assert session.keep_mine() == ()
    held.wait()
    here = kept(session.project)
    assert [[day.note for day in variant.days[:2]] for variant in here.variants] == [
        ["theirs", ""], ["", "in the copy"], ["mine", ""],
    ]  # fmt: skip
    assert here.agent == "Agency"


def test_what_no_variant_can_hold_is_theirs_and_named(path: Path, session: Session, held: Held) -> None:
    session.apply(lambda trip: edits.set_agent(trip, "Mine"), "agent")
    with opened(path) as other:
        other.apply(lambda trip: edits.set_agent(trip, "Theirs"), "theirs")
    held.wait()
    assert session.keep_mine() == ("agent",)
    held.wait()
    assert kept(session.project).agent == "Theirs"
    assert not session.has_unsaved
