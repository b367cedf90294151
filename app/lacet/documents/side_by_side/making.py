"""A comparison as a file of the form its name asks for."""

from collections.abc import Sequence
from datetime import datetime

from lacet.compare.comparison import Comparison
from lacet.documents.side_by_side.gather import gather
from lacet.documents.side_by_side.html import write_html
from lacet.documents.side_by_side.pdf import write_pdf
from lacet.documents.side_by_side.values import ENDINGS
from lacet.documents.side_by_side.workbook import comparison_workbook
from lacet.tracks.raster import ElevationRaster
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.trip import Trip

__all__ = ["ENDINGS", "UnknownForm", "comparison_file"]


class UnknownForm(LacetError):
    """A comparison was asked for in a form nobody can write."""


def comparison_file(
    found: Comparison,
    trip: Trip,
    catalogue: Catalogue,
    ending: str,
    *,
    made_at: datetime,
    for_client: bool = False,
    rasters: Sequence[ElevationRaster] = (),
) -> bytes:
    """The comparison as a workbook, a web page or a PDF.

    Parameters
    ----------
    ending
        One of `ENDINGS`, in any case of letters.
    made_at
        When it is made, aware; a PDF says so in its metadata.
    for_client
        Without margins.
    rasters
        Heights for the ground of the map.

    Raises
    ------
    UnknownForm
        When the ending is none of them.
    """
    form = ending.lower()
    if form not in ENDINGS:
        raise UnknownForm(
            "A comparison is written as {ENDINGS}, not as '{ending}'.",
            ENDINGS=" or ".join(ENDINGS),
            ending=ending,
        )
    told = gather(found, trip, catalogue, for_client=for_client, rasters=rasters)
    if form == ".xlsx":
        return comparison_workbook(found, told, catalogue.office.name or "Lacet")
    return write_html(told) if form == ".html" else write_pdf(told, made_at)
