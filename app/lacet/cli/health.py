"""`lacet health`: what is missing or doubtful in a library."""

import argparse
from dataclasses import asdict
from datetime import date

from lacet.cli.telling import print_json, print_table, progress, say
from lacet.intake.health import health as look_over
from lacet.service.opening import project_at


def health(arguments: argparse.Namespace) -> None:
    """Tell every doubt, by kind and id."""
    with project_at(arguments.project) as project, progress("Looking over the library"):
        found = look_over(project.catalogue(), arguments.as_of or date.today())
    if arguments.json:
        print_json([asdict(doubt) for doubt in found])
        return
    if not found:
        say("Nothing is missing or doubtful.")
        return
    heads = ("Kind", "Id", "About", "")
    print_table(f"{len(found)} to look after", heads, ((d.kind, d.id, d.what, d.says) for d in found))
