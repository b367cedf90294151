"""The whole pack of a variant, as the command line and the window write it."""

from datetime import datetime
from pathlib import Path

from lacet.assess import Assessment
from lacet.documents.pack.calendar import write_calendar
from lacet.documents.pack.gpx import day_files, trip_file
from lacet.documents.pack.writing import write_pack
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant


def make_pack(
    trip: Trip,
    variant: Variant,
    assessment: Assessment,
    catalogue: Catalogue,
    out: Path,
    *,
    revision: int,
    made_at: datetime,
) -> Path:
    """Write a GPX file for each day, one for the trip, and the calendar; return the folder, a zip beside it.

    Raises
    ------
    PackRefused
        When the pack is there already or the disk refuses; then nothing is left behind.
    """
    days = assessment.figures.days
    files = {each.name: each.content for each in day_files(trip, variant, days, catalogue)}
    whole = trip_file(trip, variant, days, catalogue)
    files[whole.name] = whole.content
    files["calendar.ics"] = write_calendar(trip, variant, catalogue, revision, made_at)
    return write_pack(files, out, f"{trip.name} {letter(trip, variant.id)} {variant.name}")
