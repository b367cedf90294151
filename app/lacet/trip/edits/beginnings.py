"""Where a trip comes from: an enquiry, a standard trip of the house, or a trip that is to become one.

A standard trip carries no client: neither names nor dates, only a placeholder party by whose
ids ways may part. A trip made from one forgets what was overruled there, since that was decided for others.
"""

import itertools
from collections.abc import Callable, Collection, Mapping
from datetime import date
from secrets import token_hex

from lacet.trip.edits.change import changed, need_between, variant_of
from lacet.trip.edits.dates import rename_trip, set_start
from lacet.trip.edits.people import for_party, set_party
from lacet.trip.edits.variants import add_variant
from lacet.trip.party import NOBODY, Party, Traveller
from lacet.trip.texts import Holds, rewritten, words_in
from lacet.trip.trip import Day, Item, Note, Trip, Variant

_DRAWS = 64
_UNNAMED = "Unnamed"


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


def fresh_trip_id(taken: Collection[str], draw: Callable[[], str] = lambda: token_hex(2)) -> str:
    """An id that says nothing of anybody ('trip-7f3a') and isn't taken; `draw` gives what follows 'trip-'.

    Ids stand in histories, file names and messages that outlive the guests, so no name goes into one.
    """
    drawn = (f"trip-{draw()}" for _ in range(_DRAWS))
    found = next((each for each in drawn if each not in taken), None)
    return found or next(each for n in itertools.count(2) if (each := f"trip-{n}") not in taken)


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
    """A standard trip of one variant, without anything of the client's.

    People, dates, rooms and hires go, every text marked as the client's (`trip.texts`), and of the
    office's own texts those in which a guest or the party is named.
    """
    standard = rename_trip(Trip(id=standard_id, name="", standard=True), name)
    new_ids = {guest.id: f"t{number}" for number, guest in enumerate(trip.party.travellers, start=1)}
    party = Party(
        travellers=tuple(Traveller(id=each) for each in new_ids.values()),
        sharing=tuple(tuple(new_ids.get(each, each) for each in group) for group in trip.party.sharing),
    )
    variant = _without_client(variant_of(trip, variant_id), new_ids, _names(trip.party))
    return changed(standard, party=party, variants=(variant,))


def _names(party: Party) -> frozenset[str]:
    """The words of the names of a party and its guests."""
    names = (party.name, *(guest.name for guest in party.travellers))
    return frozenset(word for name in names for word in words_in(name))


def _without_client(variant: Variant, new_ids: Mapping[str, str], names: frozenset[str]) -> Variant:
    def change(whose: Holds, text: str) -> str:
        match whose:
            case Holds.GUEST:
                return new_ids.get(text, text)
            case Holds.CLIENT:
                return ""
            case Holds.OFFICE if not names.isdisjoint(words_in(text)):
                return _UNNAMED
            case _:
                return text

    bare = rewritten(changed(variant, hires=(), overrules=()), change)
    return changed(bare, days=tuple(_day_without_client(day) for day in bare.days))


def _day_without_client(day: Day) -> Day:
    """Without rooms and note cards, which are nothing but the client's words."""
    return changed(
        day,
        items=_without_notes(day.items),
        alternatives=tuple(changed(each, items=_without_notes(each.items)) for each in day.alternatives),
        nights=tuple(changed(night, rooms=(), late_key=False) for night in day.nights),
    )


def _without_notes(items: tuple[Item, ...]) -> tuple[Item, ...]:
    return tuple(item for item in items if not isinstance(item, Note))
