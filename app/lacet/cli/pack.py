"""`lacet pack`: what travels with the guests, as files for the phone."""

import argparse
from datetime import UTC, date, datetime

from lacet.assess import assess
from lacet.cli.choosing import chosen, project_at
from lacet.cli.telling import say
from lacet.documents.pack.making import make_pack


def pack(arguments: argparse.Namespace) -> None:
    """Write the GPX files and calendars of a variant, as a folder and a zip."""
    today = date.today()
    with project_at(arguments.project) as project:
        trip, variant, revision = chosen(project, arguments.trip, arguments.variant)
        with project.reading() as unit:
            commitments = unit.commitments(trip.id, today)
        catalogue, rules = project.catalogue(), project.house_rules()
    found = assess(trip, variant, catalogue, rules, commitments, as_of=today)
    folder = make_pack(
        trip, variant, found, catalogue, arguments.out, revision=revision, made_at=datetime.now(UTC)
    )
    say(str(folder))
    if not found.works:
        say("This variant isn't proved: see 'lacet assess' before the files leave the house.")
