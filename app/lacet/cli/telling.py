"""How the command line says things: tables, figures, progress."""

import re
import sys
from argparse import Namespace
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

import orjson
from rich.console import Console
from rich.progress import Progress
from rich.table import Table
from rich.text import Text

from lacet.language import Language, in_english
from lacet.trip.printable import clean_plain
from lacet.wording import ENGLISH

kilometres = ENGLISH.length
metres = ENGLISH.height
hours = ENGLISH.duration
share = ENGLISH.share


# Controls, halves of letters and turns of the reading direction: to a terminal they may be commands.
_COMMANDS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\u202a-\u202e\u2066-\u2069]")


def print_json(value: Any) -> None:
    """Plain data on standard output, UTF-8, without signs that a terminal would obey."""
    plain = clean_plain(value)
    sys.stdout.buffer.write(orjson.dumps(plain, option=orjson.OPT_INDENT_2 | orjson.OPT_APPEND_NEWLINE))
    sys.stdout.buffer.flush()


def print_table(
    title: str, heads: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = ()
) -> None:
    """A table; columns in `right` are figures. Text from files is never read as markup.

    A file or a pipe gets plain lines, however long: laying out 100 000 rows for a screen takes a minute.
    """
    if not sys.stdout.isatty():
        _print_lines(title, [[harmless(cell) for cell in row] for row in (heads, *rows)], right)
        return
    table = Table(
        title=Text(harmless(title)), title_justify="left", box=None, pad_edge=False, header_style="bold"
    )
    for index, head in enumerate(heads):
        table.add_column(Text(harmless(head)), justify="right" if index in right else "left", overflow="fold")
    for row in rows:
        table.add_row(*(Text(harmless(cell)) for cell in row))
    Console().print(table)


def _print_lines(title: str, rows: Sequence[Sequence[str]], right: Sequence[int]) -> None:
    """Columns under each other, two blanks between them; a row takes one line whatever is in it."""
    flat = [[" ".join(cell.split("\n")) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*flat, strict=True)]
    if title:
        print(harmless(title))
    for row in flat:
        told = [f"{cell:{'>' if n in right else '<'}{widths[n]}}" for n, cell in enumerate(row)]
        print("  ".join(told).rstrip())


def say(text: str) -> None:
    """One line of plain text."""
    print(harmless(text))


def harmless(text: str) -> str:
    """A text from a file with nothing in it that a terminal would do instead of show."""
    return _COMMANDS.sub(" ", text)


@contextmanager
def progress(says: str) -> Iterator[Progress]:
    """A bar on standard error for work that may take longer than a second."""
    console = Console(stderr=True)
    # Elsewhere than on a screen a bar would leave an empty line before the sentence of a refusal.
    with Progress(console=console, transient=True, disable=not console.is_terminal) as bar:
        bar.add_task(says, total=None)
        yield bar


def speech_of(arguments: Namespace) -> Language:
    """The language and units that were asked for; plain English waits for no catalogue."""
    imperial = arguments.units == "imperial"
    if arguments.language == "en":
        return in_english(replace(ENGLISH, imperial=imperial))
    from lacet.documents.language import language

    return language(arguments.language, imperial=imperial)


def verdict(works: bool | None) -> str:
    return {True: "works", False: "does not work", None: "not proved"}[works]
