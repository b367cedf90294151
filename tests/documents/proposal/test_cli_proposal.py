"""The proposal from the command line, as a person gets it."""

from pathlib import Path

import pytest

from lacet.cli import main
from lacet.demo import write_demo
from lacet.store import open_project


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_demo(tmp_path_factory.mktemp("demo"))


def run(demo: Path, out: Path, *more: str, variant: str = "A") -> int:
    return main(["proposal", str(demo), "1", variant, "--out", str(out), "--as-of", "2026-11-25", *more])


def test_a_proposal_is_written_and_kept_as_it_was_sent(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(demo, tmp_path / "out") == 0
    told = capsys.readouterr().out.splitlines()
    page = Path(told[0])
    assert page.name == "Coast to crater A Proposal 1.html"
    assert any("Whether a helmet comes with the bike" in line for line in told)
    assert any("no legal advice" in line for line in told)
    paper = Path(told[1])
    assert paper == page.with_suffix(".pdf")
    assert paper.read_bytes().startswith(b"%PDF-")
    with open_project(demo) as project, project.reading() as unit:
        rows = [row for row in unit.documents.rows() if row.media_type == "text/html"]
        [row] = rows
        [printed] = [each for each in unit.documents.rows() if each.media_type == "application/pdf"]
        assert unit.documents.payload(printed.number) == paper.read_bytes()
        assert (row.kind, row.revision) == ("proposal", 1)
        assert unit.documents.payload(row.number) == page.read_bytes()
        assert "Alder" not in row.figures
    # A second time nothing is overwritten, nothing more is kept, and a sentence says so.
    assert run(demo, tmp_path / "out") == 1
    assert "is there already" in capsys.readouterr().err
    with open_project(demo) as project, project.reading() as unit:
        assert len([row for row in unit.documents.rows() if row.media_type == "text/html"]) == 1


def test_open_stops_are_told_and_only_a_draft_is_made_which_nobody_keeps(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with open_project(demo) as project, project.reading() as unit:
        before = len(unit.documents.rows())
    assert run(demo, tmp_path / "out", variant="B") == 1
    assert "can't be proposed yet" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
    assert run(demo, tmp_path / "out", "--draft", variant="B") == 0
    assert "Draft" in capsys.readouterr().out
    with open_project(demo) as project, project.reading() as unit:
        assert len(unit.documents.rows()) == before


def test_language_and_units_are_the_readers(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(demo, tmp_path / "de", "--language", "de", "--draft") == 0
    [page] = (tmp_path / "de").glob("*.html")
    assert page.name == "Coast to crater A Angebot 1 Entwurf.html"
    assert 'lang="de"' in page.read_text(encoding="utf-8")
    assert run(demo, tmp_path / "us", "--language", "en-US", "--units", "imperial", "--draft") == 0
    [page] = (tmp_path / "us").glob("*.html")
    assert "\u00a0mi<" in page.read_text(encoding="utf-8")
    assert run(demo, tmp_path / "xx", "--language", "xx") == 1
    assert "can't be written in 'xx'" in capsys.readouterr().err
    assert not (tmp_path / "xx").exists()


def test_a_date_is_taken_as_today(demo: Path, tmp_path: Path) -> None:
    assert run(demo, tmp_path, "--draft") == 0
    [page] = tmp_path.glob("*.html")
    assert "Price valid until 9 December 2026." in page.read_text(encoding="utf-8")
