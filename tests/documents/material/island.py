"""Proposals of the demo island for tests: everything is assessed once and kept."""

from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache
from typing import Any

from lacet.assess import Assessment, assess
from lacet.demo import demo_bookings, demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.documents.language import language
from lacet.documents.material.gather import gather, telling_of
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Drawn, ProposalMaterial
from lacet.inputs import Inputs
from lacet.trip.bookings import NO_BOOKINGS, Bookings
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant

TODAY = date(2026, 11, 25)
MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
RULES = HouseRules()


@cache
def island() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), dict(demo_tracks()), region, office)


@cache
def trips() -> tuple[Trip, ...]:
    return demo_trips()


@cache
def booked(trip: int = 0) -> Bookings:
    return demo_bookings()[trips()[trip].id]


@cache
def assessed(trip: int = 0, variant: int = 0) -> Assessment:
    return assess(inputs_of(trip, variant))


def inputs_of(trip: int = 0, variant: int = 0) -> Inputs:
    chosen = trips()[trip]
    variant_id = chosen.variants[variant].id
    return Inputs(chosen, variant_id, island(), RULES, bookings=booked(trip), as_of=TODAY)


def told_from(trip: int = 0, variant: int = 0, tag: str = "en") -> Telling:
    return telling_of(
        inputs_of(trip, variant), assessed(trip, variant), language(tag), revision=3, made_at=MADE_AT
    )


@cache
def proposal(trip: int = 0, variant: int = 0, tag: str = "en") -> ProposalMaterial:
    chosen = trips()[trip]
    inputs = chosen, chosen.variants[variant], assessed(trip, variant)
    return made(*inputs, tag=tag, bookings=booked(trip))


def made(
    trip: Trip, variant: Variant, found: Assessment | None = None, *, tag: str = "en",
    bookings: Bookings = NO_BOOKINGS, **more: Any,
) -> ProposalMaterial:  # fmt: skip
    """The material of any trip on the island, with a plain drawing under each name."""
    trip = replace(trip, variants=tuple(variant if each.id == variant.id else each for each in trip.variants))
    inputs = Inputs(trip, variant.id, island(), RULES, bookings=bookings, as_of=TODAY)
    told = telling_of(inputs, found or assess(inputs), language(tag), revision=3, made_at=MADE_AT)
    return gather(told, drawings=_drawings, **more)


def _drawings(telling: Telling) -> dict[str, Drawn]:
    keys = [
        f"{kind}-{day.id}-{group}"
        for kind in ("map", "profile")
        for day in telling.variant.days
        for group in (1, 2)
    ]
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="165mm" height="90mm" viewBox="0 0 165 90">'
        '<path d="M0 0L165 90" stroke="#000"/></svg>'
    )
    drawn = Drawn(svg=svg, width_mm=165.0, height_mm=90.0, alt="A line from corner to corner.")
    return dict.fromkeys(["map-trip", "profile-trip", *keys], drawn)


def hostile(text: str) -> tuple[Trip, Variant]:
    """The first trip with one text wherever a person of the office or a guest can write one."""
    trip = trips()[0]
    first = trip.variants[0]
    day = replace(first.days[0], note=text)
    variant = replace(first, name=text, days=(day, *first.days[1:]))
    guests = (replace(trip.party.travellers[0], name=text), *trip.party.travellers[1:])
    wishes = replace(trip.party.wishes, text=text, likes=(text,))
    party = replace(trip.party, name=text, travellers=guests, wishes=wishes)
    return replace(trip, name=text, party=party, variants=(variant,)), variant
