"""Standard trips of the house: found, and kept from a variant."""

from lacet.service.shown import Shown
from lacet.store import Project, TripRow
from lacet.trip.edits import as_standard, fresh_trip_id
from lacet.trip.errors import LacetError
from lacet.trip.trip import Trip


def trip_rows(project: Project) -> list[TripRow]:
    """All trips of the project, standard ones among them."""
    with project.reading() as unit:
        return unit.trips.rows()


def standard_trip(project: Project, trip_id: str) -> Trip | None:
    """A standard trip; None where there is none of this id (any more)."""
    if not trip_id:
        return None
    try:
        with project.reading() as unit:
            trip, _ = unit.trips.load(trip_id)
    except LacetError:
        return None
    return trip if trip.standard else None


def keep_as_standard(project: Project, shown: Shown, name: str) -> None:
    """Keep a variant under a name as a standard trip of its own.

    Raises
    ------
    StoreError
    """
    with project.unit_of_work() as unit:
        taken = {row.id for row in unit.trips.rows()}
        standard = as_standard(shown.trip, shown.variant_id, fresh_trip_id(taken), name)
        unit.trips.save(standard, 0, "saved as a standard trip")
        unit.commit()
