"""Gathers all that an assessment rests on, read in one moment, and assesses it.

The session keeps what it gathered and follows the file from there (`session.py`); whoever needs it once asks
here.
"""

from dataclasses import dataclass, replace
from datetime import date

from lacet.assess import Assessment, assess
from lacet.compare import Side
from lacet.compare.standard import standard_side
from lacet.inputs import Inputs
from lacet.service.opening import NotFound, trip_row, variant_named
from lacet.service.session import Session
from lacet.service.shown import Opened
from lacet.store import Project
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessed:
    """A variant with all it rests on, what became of it, and the revision of the trip that this is."""

    inputs: Inputs
    revision: int
    found: Assessment

    @property
    def trip(self) -> Trip:
        return self.inputs.trip

    @property
    def variant(self) -> Variant:
        return self.inputs.variant

    @property
    def catalogue(self) -> Catalogue:
        return self.inputs.catalogue

    @property
    def rules(self) -> HouseRules:
        return self.inputs.rules


def gather(project: Project, trip: str, variant: str, as_of: date) -> tuple[Inputs, int]:
    """A variant with all it rests on, and the trip's revision, all from one moment.

    Parameters
    ----------
    trip, variant
        As a person names them: by id, name, number or letter.

    Raises
    ------
    NotFound
        When nothing, or more than one thing, goes by that name.
    """
    with project.reading() as unit:
        whole, revision = unit.trips.load(trip_row(unit.trips.rows(), trip).id)
        chosen = variant_named(whole, variant)
        inputs = Inputs(
            whole, chosen.id, project.catalogue(), unit.settings.house_rules(),
            unit.commitments(whole.id, as_of), unit.bookings.of(whole.id), as_of=as_of,
        )  # fmt: skip
    return inputs, revision


def assessed(project: Project, trip: str, variant: str, as_of: date) -> Assessed:
    """A variant that a person named, assessed.

    Raises
    ------
    NotFound
    """
    inputs, revision = gather(project, trip, variant, as_of)
    return Assessed(inputs=inputs, revision=revision, found=assess(inputs))


def every_trip(project: Project, as_of: date) -> list[tuple[Trip, list[Inputs]]]:
    """Every trip with what each of its variants rests on, the last changed first; all from one moment."""
    with project.reading() as unit:
        catalogue, rules = project.catalogue(), unit.settings.house_rules()
        taken = unit.all_taken(as_of)
        trips = [unit.trips.load(row.id)[0] for row in unit.trips.rows()]
        booked = {trip.id: unit.bookings.of(trip.id) for trip in trips}
    return [
        (
            trip,
            [
                Inputs(trip, each.id, catalogue, rules, taken.without(trip.id), booked[trip.id], as_of=as_of)
                for each in trip.variants
            ],
        )
        for trip in trips
    ]


def sides_of(project: Project, trip: str, variants: list[str], as_of: date) -> tuple[Assessed, list[Side]]:
    """The named variants of one trip, assessed to be set side by side, and the first with all it rests on.

    Raises
    ------
    NotFound
    """
    inputs, revision = gather(project, trip, variants[0], as_of)
    chosen = [variant_named(inputs.trip, named) for named in variants]
    sides = [Side(each, assess(replace(inputs, variant_id=each.id))) for each in chosen]
    return Assessed(inputs=inputs, revision=revision, found=sides[0].assessment), sides


def standard_of(project: Project, inputs: Inputs) -> Side:
    """The standard trip that a trip was begun from, as one more side.

    Raises
    ------
    NotFound
        When it was begun from none, or that is no longer there.
    CannotCompare
        When the standard trip has no variant.
    """
    trip = inputs.trip
    with project.reading() as unit:
        if trip.started_from not in {row.id for row in unit.trips.rows()}:
            raise NotFound("'{trip}' was not begun from a standard trip that is still here.", trip=trip.name)
        standard, _ = unit.trips.load(trip.started_from)
    return standard_side(standard, inputs)


def as_open(session: Session, opened: Opened) -> Assessed:
    """What is open in a session, with all it rests on there."""
    inputs = session.inputs(opened.trip, opened.variant_id)
    # Past midnight it is still as of the day it was assessed.
    inputs = replace(inputs, as_of=opened.assessment.as_of)
    return Assessed(inputs=inputs, revision=opened.revision, found=opened.assessment)
