"""Reads sheets, all or nothing: `read_sheets` gives items only when every cell of every sheet is sound.

A sheet's kind is told by its name: `places.csv`, or a sheet called places in a workbook. Nothing is kept
here; `plan.changes` says what the items would change in a library.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from lacet.intake.build import Builder
from lacet.intake.kinds import KINDS, kind_called, part_number
from lacet.intake.plan import keep_known_lines
from lacet.intake.problems import SheetProblem
from lacet.intake.rows import TableReader
from lacet.intake.stage_tracks import find_files, read_tracks
from lacet.intake.table import SheetRefused, Table
from lacet.intake.table_csv import csv_table
from lacet.intake.table_xlsx import xlsx_tables
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import LibraryItem

CSV_ENDINGS = frozenset({".csv", ".tsv", ".txt"})
WORKBOOK_ENDINGS = frozenset({".xlsx", ".xlsm"})
OTHER_SPREADSHEETS = frozenset({".xls", ".xlsb", ".ods", ".numbers"})

ABOUT_SHEET = "about"
"""The sheet of our templates that explains the others."""

EMPTY = Catalogue()

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done and how many there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsRead:
    """What sheets hold. With a problem that stops, `items` and `tracks` are empty.

    `tracks` holds, by stage id, the lines that are new or differ from the library's; such a stage's
    `track_id` is not set yet. `track_files` are the files that stages named, found or not.
    """

    items: tuple[LibraryItem, ...] = ()
    tracks: Mapping[str, Track]
    track_files: frozenset[Path] = frozenset()
    problems: tuple[SheetProblem, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether nothing can be taken in."""
        return any(problem.stops for problem in self.problems)


def is_sheet(path: Path) -> bool:
    """Whether a file is one that `read_sheets` takes (or tells how to save)."""
    return path.suffix.casefold() in CSV_ENDINGS | WORKBOOK_ENDINGS | OTHER_SPREADSHEETS


def is_sheet_in_folder(path: Path) -> bool:
    """Whether a file found in a folder is meant: no notes, nothing hidden, no lock of an open workbook."""
    wanted = is_sheet(path) and path.suffix.casefold() != ".txt"
    return wanted and not path.name.startswith((".", "~$"))


def read_sheets(
    paths: Sequence[Path], catalogue: Catalogue = EMPTY, progress: Progress | None = None
) -> SheetsRead:
    """Read sheets together, so that they may refer to each other.

    Parameters
    ----------
    paths
        CSV files and workbooks.
    catalogue
        The library they are meant for: what a sheet has no column for stays as it is there.
    """
    builder = Builder(catalogue)
    problems: list[SheetProblem] = []
    folder_of: dict[str, Path] = {}
    # Parts of a long sheet in their order, whatever order the names were given in.
    for number, path in enumerate(sorted(paths, key=lambda each: part_number(each.stem))):
        if progress is not None:
            progress(path.name, number, len(paths))
        for table in _tables(path, problems):
            folder_of[table.file] = path.parent
            _take(table, builder, problems)
    items = builder.items()
    problems += builder.problems
    stages = builder.rows.get("stages", {})
    found = find_files(stages, folder_of)
    tracks: dict[str, Track] = {}
    if not any(problem.stops for problem in problems):
        tracks, track_problems = read_tracks(stages, found, catalogue, progress)
        problems += track_problems
    files = frozenset(found.values())
    if any(problem.stops for problem in problems):
        return SheetsRead(tracks={}, track_files=files, problems=tuple(problems))
    items = keep_known_lines(items, tracks, catalogue)
    return SheetsRead(items=items, tracks=tracks, track_files=files, problems=tuple(problems))


def _tables(path: Path, problems: list[SheetProblem]) -> Iterator[Table]:
    ending = path.suffix.casefold()
    try:
        if ending in CSV_ENDINGS:
            yield csv_table(path)
        elif ending in WORKBOOK_ENDINGS:
            yield from xlsx_tables(path)
        else:
            raise SheetRefused(
                "{name} is of a kind that isn't read; save it as .xlsx or .csv.", name=path.name
            )
    except SheetRefused as refusal:
        problems.append(SheetProblem(file=path.name, says=str(refusal)))


def _take(table: Table, builder: Builder, problems: list[SheetProblem]) -> None:
    kind = kind_called(table.name)
    if kind is None:
        problems += [] if table.name == ABOUT_SHEET else [_unknown_kind(table)]
        return
    builder.begin(kind)
    reader = TableReader(table, kind)
    try:
        for row in reader.rows():
            builder.add(row)
    except SheetRefused as refusal:
        problems.append(SheetProblem(file=table.file, sheet=table.sheet, says=str(refusal)))
    problems += reader.problems


def _unknown_kind(table: Table) -> SheetProblem:
    """A sheet of notes in a workbook is passed over; a file must say what it holds."""
    names = ", ".join(kind.name for kind in KINDS)
    called = f"'{table.name}' tells none of the kinds {names}"
    if table.sheet:
        return SheetProblem(file=table.file, sheet=table.sheet, says=f"{called}; passed over.", stops=False)
    return SheetProblem(file=table.file, says=f"{called}; name the file after what it holds.")
