"""How the command line says things: tables, figures, progress."""

import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import orjson
from rich.console import Console
from rich.progress import Progress
from rich.table import Table
from rich.text import Text

from lacet.trip.printable import clean_plain
from lacet.wording import ENGLISH

kilometres = ENGLISH.length
metres = ENGLISH.height
hours = ENGLISH.duration
share = ENGLISH.share


PIPE_WIDTH = 160
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
    """A table; columns in `right` are figures. Text from files is never read as markup."""
    table = Table(
        title=Text(harmless(title)), title_justify="left", box=None, pad_edge=False, header_style="bold"
    )
    for index, head in enumerate(heads):
        table.add_column(Text(harmless(head)), justify="right" if index in right else "left", overflow="fold")
    for row in rows:
        table.add_row(*(Text(harmless(cell)) for cell in row))
    # A file or a pipe has no width of its own; a table is easier read unbroken.
    Console(width=None if sys.stdout.isatty() else PIPE_WIDTH).print(table)


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


def verdict(works: bool | None) -> str:
    return {True: "works", False: "does not work", None: "not proved"}[works]
