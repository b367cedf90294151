"""Who sleeps where after each day, looked up once for all checks of a case."""

from dataclasses import dataclass
from functools import partial

from lacet.checks.case import Ground
from lacet.trip.kept import Kept
from lacet.trip.library import Lodging
from lacet.trip.trip import Night

_BEDS: "Kept[dict[str, Bed]]" = Kept(1024)


@dataclass(frozen=True, slots=True)
class Bed:
    """A guest's night as planned, and its house where the library holds it."""

    night: Night
    house: Lodging | None


def bed(case: Ground, number: int, who: str) -> Bed | None:
    """The bed a guest has after a day (1-based); None where none is planned, and before the first day.

    It is told as planned, whether or not the guest is still there that night.
    """
    return beds(case, number).get(who) if number >= 1 else None


def night_of(case: Ground, number: int, who: str) -> Night | None:
    """The night a guest has after a day (1-based)."""
    found = bed(case, number, who)
    return None if found is None else found.night


def house_of(case: Ground, number: int, who: str) -> Lodging | None:
    """Where a guest sleeps after a day (1-based)."""
    found = bed(case, number, who)
    return None if found is None else found.house


def beds(case: Ground, number: int) -> dict[str, Bed]:
    """Everybody's beds after a day (1-based)."""
    known: dict[int, dict[str, Bed]] = case.kept.setdefault("beds", {})
    found = known.get(number)
    if found is None:
        nights, party = case.day(number).nights, case.trip.party
        found = _BEDS.get(case.catalogue, (nights, party), None, partial(_of_nights, case, nights))
        known[number] = found
    return found


def _of_nights(case: Ground, nights: tuple[Night, ...]) -> dict[str, Bed]:
    """As `itinerary.night_of`: a night that names the guest, else the first that names nobody."""
    found: dict[str, Bed] = {}
    for night in sorted(nights, key=lambda each: each.travellers is None):
        made = Bed(night, case.catalogue.get(Lodging, night.lodging))
        who = night.travellers if night.travellers is not None else case.guests
        for traveller_id in who:
            found.setdefault(traveller_id, made)
    return found
