"""From a comparison to the words and figures of its document."""

from collections.abc import Sequence

from lacet.compare.comparison import Comparison, Side
from lacet.compare.differences import DROPPED, Difference, day_words
from lacet.compare.figures import FigureRow
from lacet.compare.saying import BETTER, WORSE, difference_text, value_text
from lacet.documents.drawing.scene import Manner
from lacet.documents.foot import foot
from lacet.documents.material.cleaning import cleaned
from lacet.documents.side_by_side.overlay import overlaid
from lacet.documents.side_by_side.route_map import routes_on_one_map
from lacet.documents.side_by_side.values import Cell, Column, DayCell, Figure, SideBySide
from lacet.language import begun
from lacet.tracks.raster import ElevationRaster
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits import letter
from lacet.trip.trip import Trip
from lacet.wording import ENGLISH, Wording

OFFICE_ONLY = "Office copy: holds margins. Not for clients."
LINED_UP = (
    "Days are lined up by where you are, so that days with the same stages and places stand side by side."
)
_STATES = {True: "works", False: "does not work yet", None: "not proved"}


def gather(
    found: Comparison,
    trip: Trip,
    catalogue: Catalogue,
    *,
    for_client: bool,
    rasters: Sequence[ElevationRaster] = (),
    wording: Wording = ENGLISH,
) -> SideBySide:
    """All that a document about a comparison says.

    Parameters
    ----------
    for_client
        Leaves out what no client may see, whatever rows the comparison has.
    rasters
        Heights for the ground of the map; without, it is plain.
    """
    rows = tuple(row for row in found.rows if not (for_client and row.for_office))
    columns = tuple(_column(trip, found, index, for_client) for index in range(len(found.sides)))
    variants = tuple(side.assessment.figures for side in found.sides)
    letters = tuple(each.letter for each in columns)
    notes = (LINED_UP, foot(catalogue.region))
    told = SideBySide(
        title=trip.name,
        as_of=wording.day(found.sides[0].assessment.as_of, "d MMMM yyyy"),
        base=columns[found.base].letter,
        columns=columns,
        figures=tuple(_figure(row, found, wording) for row in rows),
        days=tuple(_day_row(found, row, catalogue, wording) for row in found.lined_up),
        whole=tuple(_whole(found, index) for index in range(len(found.sides))),
        notes=notes,
        office=OFFICE_ONLY if any(row.for_office for row in rows) else "",
        profile=overlaid(variants, letters),
        map=routes_on_one_map(variants, letters, catalogue, Manner(rasters=rasters)),
    )
    return cleaned(told)


def _column(trip: Trip, found: Comparison, index: int, for_client: bool) -> Column:
    side = found.sides[index]
    return Column(
        letter=side.letter or letter(trip, side.variant.id),
        name=side.variant.name,
        is_base=index == found.base,
        state="" if for_client else _STATES[side.assessment.works],
    )


def _figure(row: FigureRow, found: Comparison, wording: Wording) -> Figure:
    return Figure(
        name=row.name, cells=tuple(_cell(row, index, found, wording) for index in range(len(found.sides)))
    )


def _cell(row: FigureRow, index: int, found: Comparison, wording: Wording) -> Cell:
    change = difference_text(row, index, found.base, wording)
    better = row.better(index, found.base)
    return Cell(
        value=value_text(row, index, wording),
        change=change.rstrip(f" {BETTER}{WORSE}"),
        verdict="" if better is None else "better" if better else "worse",
    )


def _day_row(
    found: Comparison, row: tuple[int | None, ...], catalogue: Catalogue, wording: Wording
) -> tuple[DayCell, ...]:
    base = row[found.base]
    return tuple(
        _left_out(found, index, base) if day is None else _day(found, index, day, catalogue, wording)
        for index, day in enumerate(row)
    )


def _day(found: Comparison, index: int, day: int, catalogue: Catalogue, wording: Wording) -> DayCell:
    side: Side = found.sides[index]
    figures = side.assessment.figures.days[day]
    told = (each for each in _of(found, index) if each.kind != DROPPED and each.day == day + 1)
    return DayCell(
        number=day + 1,
        date=wording.day(figures.on),
        says=begun(day_words(side.variant.days[day], figures, catalogue)),
        differences=tuple(each.says for each in told),
    )


def _left_out(found: Comparison, index: int, base_day: int | None) -> DayCell:
    """What a variant leaves out is told under the day of the base it stands beside."""
    dropped = (each for each in _of(found, index) if each.kind == DROPPED)
    says = tuple(each.says for each in dropped if base_day is not None and each.day == base_day + 1)
    return DayCell(number=None, date="", says="", differences=says)


def _whole(found: Comparison, index: int) -> tuple[str, ...]:
    return tuple(each.says for each in _of(found, index) if each.day is None)


def _of(found: Comparison, index: int) -> tuple[Difference, ...]:
    return tuple(each for each in found.differences if each.side == index)
