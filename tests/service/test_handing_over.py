"""What leaves the house is written, kept as it was sent and remembered: all of it, or nothing."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from lacet import passing
from lacet.digest import digest
from lacet.documents.language import language
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS
from lacet.service.gathering import Assessed, as_open, assessed
from lacet.service.handing_over import make_pack, make_proposal, save_pack, save_proposal
from lacet.service.issuing import save_quote
from lacet.service.session import Session
from lacet.service.writing import NotWritten, save_remembered, taken_back_on_failure, write_file
from lacet.store import FileLost, Project, StoreError, open_project
from tests.small_library import write_small_project

TODAY = date(2026, 11, 25)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[Project]:
    write_small_project(tmp_path / "small.lacet")
    with open_project(tmp_path / "small.lacet") as opened:
        yield opened


def it(project: Project) -> Assessed:
    return assessed(project, "trip", "A", TODAY)


def full(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the disk of the project be full whenever a file is to be remembered."""

    def refuse(*_: object) -> None:
        raise StoreError("The disk is full.")

    monkeypatch.setattr("lacet.store.project.remember_written", refuse)


def documents(project: Project) -> list[str]:
    with project.reading() as unit:
        return [row.kind for row in unit.documents.rows("trip")]


def written(project: Project) -> list[str]:
    with project.reading() as unit:
        return [path for (path,) in unit.plain.execute("SELECT path FROM copies")]


def stop() -> Any:
    raise KeyboardInterrupt


def save_workbook(project: Project, out: Path) -> None:
    save_quote(project, it(project), out / "quote.xlsx", for_client=False)


def save_draft(project: Project, out: Path) -> None:
    draft = make_proposal(project, it(project), speech=language(), theme=OURS, draft=True)
    save_proposal(project, it(project), draft, out, Paper.A4)


def save_a_pack(project: Project, out: Path) -> None:
    pack = make_pack(
        project, it(project), speech=language(), theme=OURS, paper=Paper.A4, progress=lambda *_: None
    )
    save_pack(project, "trip", pack, out)


@pytest.mark.parametrize("save", [save_workbook, save_draft, save_a_pack])
def test_a_file_that_cant_be_remembered_does_not_stay(
    project: Project, save: Callable[[Project, Path], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    full(monkeypatch)
    with pytest.raises(StoreError):
        save(project, tmp_path / "out")
    assert not (tmp_path / "out").exists()
    assert documents(project) == []


@pytest.mark.parametrize("save", [save_workbook, save_draft, save_a_pack])
def test_a_file_is_noted_before_it_is_there_and_no_more_where_it_cant_be(
    project: Project, save: Callable[[Project, Path], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    noted: list[list[str]] = []
    make = passing._made_and_held

    def stop_there(where: Path) -> tuple[Path, int | None]:
        # Whoever writes makes a passing folder first; a killed program gets no further.
        if where != out:
            return make(where)
        noted.append(written(project))
        raise KeyboardInterrupt

    monkeypatch.setattr(passing, "_made_and_held", stop_there)
    with pytest.raises(KeyboardInterrupt):
        save(project, out)
    assert noted[0]
    assert all(Path(each).is_relative_to(out) for each in noted[0])
    assert written(project) == []
    assert list(out.iterdir()) == []


def test_an_offer_is_frozen_with_its_files_or_not_at_all(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    of, out = it(project), tmp_path / "out"
    prepared = replace(make_proposal(project, of, speech=language(), theme=OURS, draft=True), draft=False)
    with monkeypatch.context() as patched:
        full(patched)
        with pytest.raises(StoreError):
            save_proposal(project, of, prepared, out, Paper.A4)
    assert (out.exists(), documents(project)) == (False, [])
    with monkeypatch.context() as patched:
        patched.setattr("lacet.service.handing_over._freeze", lambda *_: stop())
        with pytest.raises(KeyboardInterrupt):
            save_proposal(project, of, prepared, out, Paper.A4)
    assert (list(out.iterdir()), documents(project), written(project)) == ([], [], [])
    paths = save_proposal(project, of, prepared, out, Paper.A4)
    with project.reading() as unit:
        rows = unit.documents.rows("trip")
        payloads = [unit.documents.payload(row.number) for row in rows]
    assert {row.digest for row in rows} == {digest(of.inputs)}
    assert sorted(payloads) == sorted(path.read_bytes() for path in paths)


def test_what_is_open_past_midnight_is_handed_over_as_of_the_day_it_was_assessed(project: Project) -> None:
    days = [TODAY]
    session = Session(project, today=lambda: days[-1])
    session.open_trip("trip")
    assert session.opened is not None
    days.append(date(2026, 11, 26))
    of = as_open(session, session.opened)
    assert of.inputs.as_of == of.found.as_of == TODAY
    assert of == assessed(project, "trip", "A", TODAY)


def test_a_file_takes_the_place_of_another_only_where_a_person_agreed(tmp_path: Path) -> None:
    path = tmp_path / "new" / "quote.xlsx"
    write_file(path, b"first")
    with pytest.raises(NotWritten, match="is there already"):
        write_file(path, b"second")
    assert path.read_bytes() == b"first"
    write_file(path, b"second", over=True)
    assert path.read_bytes() == b"second"
    assert [each.name for each in path.parent.iterdir()] == ["quote.xlsx"]
    with pytest.raises(NotWritten, match="Choose another folder"):
        write_file(path / "below.xlsx", b"third")


def test_a_file_that_took_the_place_of_another_gives_it_back_where_it_cannot_be_remembered(
    project: Project, tmp_path: Path
) -> None:
    old, new = tmp_path / "out" / "old.xlsx", tmp_path / "out" / "new.xlsx"
    old.parent.mkdir()
    old.write_bytes(b"first")
    project.path.rename(project.path.with_name("moved.lacet"))
    for path in (old, new):
        with pytest.raises(FileLost):
            save_remembered(project, "workbook", "trip", path, b"second", over=True)
    assert old.read_bytes() == b"first"
    assert list(old.parent.iterdir()) == [old]


def test_whatever_ends_the_block_takes_files_and_folders_back(tmp_path: Path) -> None:
    folder, file = tmp_path / "pack", tmp_path / "pack.zip"
    folder.mkdir()
    (folder / "notes.pdf").write_bytes(b"1")
    file.write_bytes(b"2")
    with pytest.raises(KeyboardInterrupt), taken_back_on_failure([folder, file, tmp_path / "never written"]):
        raise KeyboardInterrupt
    assert list(tmp_path.iterdir()) == []
