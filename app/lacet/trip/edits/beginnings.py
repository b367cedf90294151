"""Where a trip comes from: an enquiry, a standard trip of the house, or a trip that is to become one.

A standard trip carries no client: neither names nor dates nor bookings, only a placeholder party by whose
ids ways may part. A trip made from one forgets what was overruled there, since that was decided for others.
"""

import itertools
import re
import unicodedata
from collections.abc import Collection
from datetime import date

from lacet.trip.edits.change import changed, need_between, variant_of
from lacet.trip.edits.dates import rename_trip, set_start
from lacet.trip.edits.people import for_party, set_party
from lacet.trip.edits.variants import add_variant
from lacet.trip.party import NOBODY, Party, Traveller
from lacet.trip.trip import Trip, Variant


def new_trip(
    trip_id: str,
    name: str,
    party: Party = NOBODY,
    *,
    days: int = 0,
    start: date | None = None,
    month: int | None = None,
) -> Trip:
    """An enquiry: one variant, called A, of as many empty days as the party wishes for."""
    if month is not None:
        need_between(month, 1, 12, "month")
    trip = set_start(rename_trip(Trip(id=trip_id, name="", month=month), name), start)
    return add_variant(set_party(trip, party), days=days)


def fresh_trip_id(name: str, taken: Collection[str]) -> str:
    """An id made from the name ('The Alders' -> 'the-alders'), numbered where it is taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "trip"
    numbers = (f"{stem}-{number}" for number in itertools.count(2))
    return next(found for found in itertools.chain((stem,), numbers) if found not in taken)


def trip_from_standard(
    standard: Trip, trip_id: str, name: str, party: Party, *, start: date | None = None
) -> Trip:
    """A trip for this party with all variants of a standard trip.

    What the standard means for some of its placeholder travellers stays for those of the party who go by the
    same ids, and falls away where there is nobody.
    """
    trip = set_party(set_start(rename_trip(Trip(id=trip_id, name=""), name), start), party)
    variants = (changed(variant, overrules=()) for variant in standard.variants)
    return changed(
        trip,
        variants=for_party(variants, trip.party),
        month=None if start else standard.month,
        proposed=standard.proposed,
        started_from=standard.id,
    )


def as_standard(trip: Trip, variant_id: str, standard_id: str, name: str) -> Trip:
    """A standard trip of one variant, without anything of the client's: people, dates, rooms, bookings."""
    standard = rename_trip(Trip(id=standard_id, name="", standard=True, started_from=trip.id), name)
    guests = tuple(Traveller(id=guest.id) for guest in trip.party.travellers)
    party = Party(travellers=guests, sharing=trip.party.sharing)
    variant = _without_client(variant_of(trip, variant_id))
    return changed(standard, party=party, variants=(variant,))


def _without_client(variant: Variant) -> Variant:
    days = tuple(
        changed(day, nights=tuple(changed(night, rooms=(), late_key=False) for night in day.nights))
        for day in variant.days
    )
    return changed(variant, days=days, hires=(), overrules=(), note="")
