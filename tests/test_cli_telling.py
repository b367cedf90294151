"""Tables off a terminal: plain lines that other programs can read."""

import pytest

from lacet.cli.telling import print_table


def test_off_a_terminal_a_table_is_plain_lines_one_a_row_however_long(
    capsys: pytest.CaptureFixture[str],
) -> None:
    long = "a" * 400
    print_table("2 stages", ("Name", "Up"), [("Moor\nway", "90 m"), (long, "1 200 m\x1b[2J")], right=(1,))
    title, heads, first, second = capsys.readouterr().out.splitlines()
    assert title == "2 stages"
    assert heads.split() == ["Name", "Up"]
    assert first == f"{'Moor way':<400}  {'90 m':>11}"
    assert second == f"{long}  1 200 m [2J"


def test_a_table_without_rows_or_title_is_its_heads(capsys: pytest.CaptureFixture[str]) -> None:
    print_table("", ("Name", "Up"), [])
    assert capsys.readouterr().out == "Name  Up\n"
