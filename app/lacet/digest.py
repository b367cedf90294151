"""One short text for everything a variant's totals rest on: equal digests mean equal totals.

Stored beside the totals; a list recomputes and compares it to tell 'library changed'.
"""

import hashlib
from typing import Any

import orjson

from lacet import __version__
from lacet.days.holidays import holidays_of
from lacet.days.zones import zone_data_version
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits import uses
from lacet.trip.library import Bike, Lodging, Ref, Restaurant, Stage, Tariff, Transfer
from lacet.trip.plain import to_plain
from lacet.trip.trip import Trip, Variant

# Raised whenever a rule of reckoning changes without a new version of the program.
ENGINE = "2"


def digest(inputs: Inputs) -> str:
    """The digest of one variant's inputs, 32 hexadecimal digits."""
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    plain = {
        "engine": [__version__, ENGINE, holidays_of(catalogue.region).data_version, zone_data_version()],
        "trip": _relevant(trip, variant),
        "rules": to_plain(inputs.rules),
        "region": to_plain(catalogue.region),
        "used": _used(trip, variant, catalogue),
        "taken": sorted([*map(str, key), count] for key, count in inputs.commitments.taken.items()),
    }
    return hashlib.sha256(orjson.dumps(plain, option=orjson.OPT_SORT_KEYS)).hexdigest()[:32]


def _relevant(trip: Trip, variant: Variant) -> Any:
    """The trip with only this variant: edits of another one change nothing here."""
    plain: dict[str, Any] = to_plain(trip)
    return plain | {"variants": [to_plain(variant)]}


def _used(trip: Trip, variant: Variant, catalogue: Catalogue) -> list[Any]:
    """Kind, id and version of every library row the figures and prices read."""
    refs: list[tuple[str, Ref]] = []
    places: set[str] = {crossing.hub for crossing in (*trip.arrivals, *trip.departures)}
    for kind in (Stage, Lodging, Restaurant, Transfer, Bike):
        for ref in uses(trip, variant.id, kind):
            refs.append((kind.__name__, ref))
            places |= _places_of(catalogue, kind, ref)
    current = [("Place", place_id, _version(catalogue, place_id)) for place_id in places]
    tariffs = [("Tariff", tariff.id, tariff.version) for tariff in catalogue.current(Tariff)]
    return sorted([*((kind, ref.id, ref.version) for kind, ref in refs), *current, *tariffs])


def _places_of(catalogue: Catalogue, kind: type, ref: Ref) -> set[str]:
    if kind is Stage:
        stage = catalogue.get(Stage, ref)
        return {stage.from_place, stage.to_place} if stage else set()
    house = catalogue.get(Lodging, ref) if kind is Lodging else None
    return {house.place} if house else set()


def _version(catalogue: Catalogue, place_id: str) -> int:
    place = catalogue.place(place_id)
    return 0 if place is None else place.version
