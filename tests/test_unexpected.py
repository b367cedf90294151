"""Errors nobody foresaw: a report without personal data, one sentence, and the program goes on."""

import argparse
import stat
import threading
from pathlib import Path

import pytest

from lacet import cli
from lacet.unexpected import REPORT_BYTES, SENTENCE, Unexpected, report_folder, write_report


def failing(secret: str) -> None:
    raise KeyError(f"no guest {secret}")


def failing_again(secret: str) -> None:
    try:
        failing(secret)
    except KeyError as cause:
        raise ValueError(secret) from cause


def fault(secret: str = "Nell Alder") -> Exception:
    with pytest.raises(ValueError, match=secret) as caught:
        failing_again(secret)
    return caught.value


@pytest.fixture
def told() -> list[str]:
    return []


def test_a_report_names_the_way_through_the_code_and_nobody(tmp_path: Path, told: list[str]) -> None:
    Unexpected(told.append, tmp_path).take(fault())
    text = (tmp_path / "reports.log").read_text()
    assert "builtins.ValueError" in text
    assert "builtins.KeyError" in text
    assert "test_unexpected.py" in text
    assert "failing" in text
    assert "Nell" not in text
    assert str(Path.home()) not in text
    assert told == [SENTENCE]


def test_only_its_owner_may_read_a_report(tmp_path: Path, told: list[str]) -> None:
    Unexpected(told.append, tmp_path).take(fault())
    assert stat.S_IMODE((tmp_path / "reports.log").stat().st_mode) == 0o600


def test_the_same_error_is_told_once(tmp_path: Path, told: list[str]) -> None:
    unexpected = Unexpected(told.append, tmp_path)
    for secret in ("Nell", "Tom"):
        unexpected.take(fault(secret))
    assert len(told) == 1


def test_a_folder_that_takes_no_report_is_no_second_error(tmp_path: Path, told: list[str]) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    Unexpected(told.append, blocked / "below").take(fault())
    assert len(told) == 1
    assert "report" not in told[0]


def test_old_reports_make_room(tmp_path: Path) -> None:
    for _ in range(8):
        write_report(tmp_path, "x" * (REPORT_BYTES // 2))
    assert sum(each.stat().st_size for each in tmp_path.iterdir()) < 5 * REPORT_BYTES


def test_an_error_in_a_thread_is_caught(
    tmp_path: Path, told: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(threading, "excepthook", Unexpected(told.append, tmp_path)._from_thread)
    thread = threading.Thread(target=failing, args=("Nell",))
    thread.start()
    thread.join()
    assert told == [SENTENCE]


def test_a_command_that_breaks_says_one_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    parser = argparse.ArgumentParser()
    parser.set_defaults(run=lambda _: failing("Nell"))
    monkeypatch.setattr(cli, "make_parser", lambda: parser)
    assert cli.main([]) == cli.UNFORESEEN
    said = capsys.readouterr().err
    assert said.startswith(f"lacet: {SENTENCE}")
    assert "Traceback" not in said
    assert (report_folder() / "reports.log").exists()
