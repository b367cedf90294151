"""`lacet export` and `lacet template`: a library as sheets, and empty sheets to fill in."""

import argparse

from lacet.cli.telling import progress, say
from lacet.intake.write import write_csv_folder, write_template
from lacet.service.opening import project_at
from lacet.store import SHEETS


def export(arguments: argparse.Namespace) -> None:
    """Write the library into a folder: a CSV file for each kind, the stages' lines as GPX."""
    with (
        project_at(arguments.project) as project,
        progress("Writing"),
        project.noting_written(SHEETS, None, [arguments.sheets]),
    ):
        written = write_csv_folder(project.catalogue(), arguments.sheets)
    say(f"{len(written)} files written to {arguments.sheets}")


def template(arguments: argparse.Namespace) -> None:
    """Write an empty workbook that says what goes where."""
    say(str(write_template(arguments.file)))
