"""A comparison in words and figures, ready to be set: every writer pours the same values."""

from dataclasses import dataclass

from lacet.documents.material.values import Drawn

ENDINGS = (".xlsx", ".html", ".pdf")
"""Forms a comparison can be written in, by the ending of the file's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A variant: its letter, its name, and whether the others are held against it."""

    letter: str
    name: str
    is_base: bool
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A figure of one variant, its difference to the base ('' = none), and 'better', 'worse' or ''."""

    value: str
    change: str
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One row of the table of figures."""

    name: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayCell:
    """A variant's day beside those of the others, with its differences to the base in sentences.

    `number` None = the variant has no day there; the differences then tell what it leaves out.
    """

    number: int | None
    date: str
    says: str
    differences: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBySide:
    """All of it.

    Attributes
    ----------
    days
        Rows of days that stand beside each other, each with a cell for every variant.
    whole
        Differences of the whole trip, by variant.
    notes
        Lines for the foot of the document.
    office
        Words that mark a copy no client may see; empty on one for clients.
    """

    title: str
    as_of: str
    base: str
    columns: tuple[Column, ...]
    figures: tuple[Figure, ...]
    days: tuple[tuple[DayCell, ...], ...]
    whole: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    profile: Drawn
    map: Drawn | None = None
    office: str = ""

    @property
    def has_whole(self) -> bool:
        """Whether anything differs of the whole trip."""
        return any(self.whole)
