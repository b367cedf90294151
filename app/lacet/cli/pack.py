"""`lacet pack`: what travels with the guests, as files for the phone."""

import argparse
from datetime import UTC, date, datetime

from lacet.assess import assess
from lacet.cli.choosing import project_at
from lacet.cli.telling import say
from lacet.cli.trips import chosen
from lacet.documents.pack.calendar import write_calendar
from lacet.documents.pack.gpx import day_files, trip_file
from lacet.documents.pack.writing import write_pack
from lacet.trip.edits import letter


def pack(arguments: argparse.Namespace) -> None:
    """Write a GPX file for each day, one for the whole trip, and the calendar, as a folder and a zip."""
    today = date.today()
    with project_at(arguments.project) as project:
        trip, variant = chosen(project, arguments.trip, arguments.variant)
        with project.reading() as unit:
            _, revision = unit.trips.load(trip.id)
            commitments = unit.commitments(trip.id, today)
        catalogue, rules = project.catalogue(), project.house_rules()
    found = assess(trip, variant, catalogue, rules, commitments, as_of=today)
    days = found.figures.days
    files = {each.name: each.content for each in day_files(trip, variant, days, catalogue)}
    whole = trip_file(trip, variant, days, catalogue)
    files[whole.name] = whole.content
    files["calendar.ics"] = write_calendar(trip, variant, catalogue, int(revision), datetime.now(UTC))
    title = f"{trip.name} {letter(trip, variant.id)} {variant.name}"
    say(str(write_pack(files, arguments.directory, title)))
    if not found.works:
        say("This variant isn't proved: see 'lacet assess' before the files leave the house.")
