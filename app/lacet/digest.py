"""One short text for everything a variant's figures and price rest on: equal digests mean equal figures.

Kept with what is issued, to tell whether anything it was made from has changed since. The day counts too:
prices of open dates, validity and release are told from it. Who asks of a document takes the day of issue.
"""

import hashlib
from collections.abc import Iterator
from typing import Any

import orjson

from lacet import __version__
from lacet.days.holidays import holidays_of
from lacet.days.zones import zone_data_version
from lacet.inputs import Inputs
from lacet.trip.edits import uses
from lacet.trip.library import (
    Bike,
    LibraryItem,
    Lodging,
    Place,
    Restaurant,
    Stage,
    Tariff,
    Transfer,
)
from lacet.trip.plain import to_plain

# Raised whenever a rule of reckoning changes without a new version of the program.
ENGINE = "3"

_POINTED_AT: tuple[type[Any], ...] = (Stage, Lodging, Restaurant, Transfer, Bike)


def digest(inputs: Inputs) -> str:
    """The digest of one variant's inputs, 32 hexadecimal digits."""
    region = inputs.catalogue.region
    trip = _relevant(inputs)
    pointed_at = list(_pointed_at(inputs))
    # Everything is named by id, so whatever isn't named here or in what is pointed at can't be read.
    named = set(_texts([trip, *pointed_at]))
    taken = inputs.commitments.taken.items()
    plain = {
        "engine": [__version__, ENGINE, holidays_of(region).data_version, zone_data_version()],
        "as_of": inputs.as_of.isoformat(),
        "trip": trip,
        "rules": to_plain(inputs.rules),
        "region": to_plain(region),
        "pointed_at": pointed_at,
        "newest": [[type(item).__name__, to_plain(item)] for item in _newest(inputs, named)],
        "taken": sorted([*map(str, slot), count] for slot, count in taken if slot[1] in named),
    }
    return hashlib.sha256(orjson.dumps(plain, option=orjson.OPT_SORT_KEYS)).hexdigest()[:32]


def _relevant(inputs: Inputs) -> Any:
    """The trip with only this variant, since edits of another one change nothing here, and its bookings."""
    plain: dict[str, Any] = to_plain(inputs.trip)
    booked = {"bookings": [to_plain(each) for each in inputs.bookings]} if inputs.bookings else {}
    return plain | {"variants": [to_plain(inputs.variant)]} | booked


def _pointed_at(inputs: Inputs) -> Iterator[list[Any]]:
    """What the variant points at, in the version it names; None where the library doesn't hold it."""
    for kind in _POINTED_AT:
        for ref in uses(inputs.trip, inputs.variant_id, kind):
            item = inputs.catalogue.get(kind, ref)
            yield [kind.__name__, ref.id, None if item is None else to_plain(item)]


def _newest(inputs: Inputs, named: set[str]) -> Iterator[LibraryItem | None]:
    """What is read as it is now: places, houses that are booked, tariffs of what is named or of no item."""
    catalogue = inputs.catalogue
    yield from (catalogue.place(each) for each in sorted(named & catalogue.items.get(Place, {}).keys()))
    suppliers = sorted({booking.supplier for booking in inputs.bookings})
    yield from (catalogue.latest(Lodging, each) for each in suppliers)
    known = [catalogue.items.get(kind, {}) for kind in (*_POINTED_AT, Place)]
    for tariff_id in sorted(catalogue.items.get(Tariff, {})):
        tariff = catalogue.latest(Tariff, tariff_id)
        subject = "" if tariff is None else tariff.subject_id
        if subject in named or tariff_id in named or not any(subject in some for some in known):
            yield tariff


def _texts(plain: Any) -> Iterator[str]:
    """Every text within plain data."""
    if isinstance(plain, str):
        yield plain
    elif isinstance(plain, dict):
        for value in plain.values():
            yield from _texts(value)
    elif isinstance(plain, list | tuple):
        for value in plain:
            yield from _texts(value)
