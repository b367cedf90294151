"""The whole pack of a variant, as the command line and the window write it."""

from datetime import datetime
from pathlib import Path

from lacet.assess import Assessment
from lacet.documents.pack.calendar import write_calendar
from lacet.documents.pack.gpx import Making, day_files, trip_file
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
    """Write GPX files for each day and the trip, and calendars; return the folder, a zip beside it.

    Guests who part have files of their own for those days, and a calendar of their own beside everybody's.

    Raises
    ------
    PackRefused
        When the pack is there already or the disk refuses; then nothing is left behind.
    """
    making = Making(
        trip=trip, variant=variant, days=assessment.figures.days, catalogue=catalogue,
        revision=revision, made_at=made_at,
    )  # fmt: skip
    files = {each.name: each.content for each in (*day_files(making), trip_file(making))}
    files["calendar.ics"] = write_calendar(trip, variant, catalogue, revision, made_at)
    for group in making.groups:
        if group.letter:
            files[f"calendar group {group.letter}.ics"] = write_calendar(
                trip, variant, catalogue, revision, made_at, group.travellers
            )
    return write_pack(files, out, f"{trip.name} {letter(trip, variant.id)} {variant.name}")
