"""The whole pack of a variant, as the command line and the window write it.

`prepare_pack` makes everything in memory and tells what is lacking; a person may look at it
before `write_pack` puts it where it was asked for.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from lacet.documents.material.safety import NO_NUMBER, SET_IT
from lacet.documents.material.telling import Telling
from lacet.documents.pack.calendar import write_calendar
from lacet.documents.pack.companions import companions
from lacet.documents.pack.gpx import day_files, trip_file
from lacet.documents.pack.papers import count, sheets
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS, Theme
from lacet.tracks.raster import ElevationRaster
from lacet.trip.edits import letter
from lacet.trip.region import Region

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class PreparedPack:
    """A pack, not written yet. `lacks` are sentences for the office: texts and signs that are missing."""

    title: str
    files: Mapping[str, bytes]
    lacks: tuple[str, ...]


def prepare_pack(
    telling: Telling,
    *,
    paper: Paper = Paper.A4,
    theme: Theme = OURS,
    rasters: tuple[ElevationRaster, ...] = (),
    progress: Progress | None = None,
) -> PreparedPack:
    """Return GPX files for each day and the trip, calendars, route notes for each leg, and the card.

    Guests who part have files of their own for those days, and a calendar of their own beside everybody's.

    Parameters
    ----------
    rasters
        Give maps their relief; without them the ground is plain.
    progress
        Told how many sheets are made, and of how many.
    """
    trip, variant = telling.trip, telling.variant
    files = _for_phones(telling)
    lacks = [*_lacks_of_region(telling.catalogue.region)]
    whole = count(telling)
    for number, sheet in enumerate(sheets(telling, paper, theme, rasters), start=1):
        if sheet.name:
            files[sheet.name] = sheet.content
        lacks += sheet.lacks
        if progress is not None:
            progress(number, whole)
    title = f"{trip.name} {letter(trip, variant.id)} {variant.name}"
    return PreparedPack(title=title, files=files, lacks=tuple(dict.fromkeys(lacks)))


def _for_phones(telling: Telling) -> dict[str, bytes]:
    say = telling.speech.say
    files = {each.name: each.content for each in (*day_files(telling), trip_file(telling))}
    if telling.catalogue.region.zone is None:
        return files
    everybodys = say("calendar")
    files[f"{everybodys}.ics"] = write_calendar(telling)
    for group in companions(telling.trip.party, telling.figures.days):
        if group.letter:
            whose = say("calendar group {letter}", letter=group.letter)
            files[f"{whose}.ics"] = write_calendar(telling, group.travellers)
    return files


def _lacks_of_region(region: Region) -> Iterator[str]:
    """What guests go without while nobody has said how the region reckons."""
    if region.zone is None:
        yield f"No calendar and no sunset: the time zone isn't set. {SET_IT}"
    if not region.emergency_numbers:
        yield NO_NUMBER
