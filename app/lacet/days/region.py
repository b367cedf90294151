"""What a region may be set to, and what its position proposes.

The rule of this module: a proposal is never in force by itself, and what a position doesn't tell for sure
isn't proposed. Zones come from the map of `tzfpy`, countries from the zone database, currencies from the
CLDR.

References
----------
IANA time zone database, `zone.tab`; Unicode CLDR, supplemental data: currencies of territories.
"""

from dataclasses import replace
from datetime import datetime
from difflib import get_close_matches
from functools import lru_cache
from importlib.resources import files

from lacet.days.holidays import holidays_for
from lacet.days.zones import ZoneRefused, zone, zone_names
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Lodging, Place, Stage
from lacet.trip.region import EmergencyNumber, Region

# Directive (EU) 2018/1972, Article 109: 112 in every member state.
EUROPEAN_UNION = frozenset(
    [
        "AT",
        "BE",
        "BG",
        "CY",
        "CZ",
        "DE",
        "DK",
        "EE",
        "ES",
        "FI",
        "FR",
        "GR",
        "HR",
        "HU",
        "IE",
        "IT",
        "LT",
        "LU",
        "LV",
        "MT",
        "NL",
        "PL",
        "PT",
        "RO",
        "SE",
        "SI",
        "SK",
    ]
)
EUROPEAN_NUMBER = "112"
# 47 U.S.C. 251(e)(3): 911 is the universal emergency number within the United States. ITU-T E.161.1 asks new
# numbers to be 112 or 911, which says nothing about where either is in use: elsewhere nothing is proposed.
NUMBERS = dict.fromkeys(EUROPEAN_UNION, EUROPEAN_NUMBER) | {"US": "911"}

_MOST_NEAR = 3
_DEGREES_AN_HOUR = 15.0
# For positions at sea; on land the clocks themselves tell. Western China is about three hours before the sun.
_MOST_FROM_SUN_H = 3.0
# A library near a border may lie in the next zone.
_MOST_FROM_CLOCKS_H = 1.0


class RegionRefused(LacetError):
    """Something a region can't be set to."""


def checked(region: Region) -> Region:
    """The region, where every part of it is known.

    Raises
    ------
    RegionRefused, HolidaysRefused
        With the nearest that are known.
    """
    if region.zone is not None:
        _check_zone(region.zone)
    if region.currency is not None and region.currency not in currency_names():
        near = _near(region.currency, currency_names())
        raise RegionRefused(
            "The currency '{currency}' is not known: give its ISO code, {near}.",
            currency=region.currency,
            near=near,
        )
    if region.country is not None and region.country not in country_names():
        near = _near(region.country, country_names())
        raise RegionRefused(
            "The country '{country}' is not known: give its ISO code, {near}.",
            country=region.country,
            near=near,
        )
    holidays_for((), region.country or "", region.subdivision)
    return region


def proposed(catalogue: Catalogue) -> Region:
    """What the first position of a library proposes; what it doesn't tell is unset."""
    where = first_position(catalogue)
    return Region() if where is None else proposed_at(*where)


def proposed_at(latitude_deg: float, longitude_deg: float) -> Region:
    """Zone, country, currency and emergency number of a position [degrees], as far as it tells them."""
    # The map of zones takes a moment to load; only who asks for a proposal waits for it.
    from tzfpy import get_tz

    found = get_tz(longitude_deg, latitude_deg)
    # At sea the map answers a zone of ships ('Etc/GMT+2'), which no place keeps.
    if found not in zone_names() or found.startswith("Etc/"):
        return Region()
    country = _country_of_zones().get(found)
    number = NUMBERS.get(country or "")
    return Region(
        zone=found,
        country=country,
        currency=None if country is None else _currency_of(country),
        emergency_numbers=(EmergencyNumber(number),) if number else (),
    )


def zone_doubt(region: Region, catalogue: Catalogue) -> str | None:
    """A sentence where the zone's clocks can't well be those of the library's first position, else None.

    On land they are held to the clocks there, at sea to the sun; what is left of it is borders and custom.
    """
    where = first_position(catalogue)
    if region.zone is None or where is None:
        return None
    there = proposed_at(*where).zone
    ours = _offsets_h(region.zone)
    if there is None:
        off = abs(min(ours) - where[1] / _DEGREES_AN_HOUR)
        # Across 180 degrees the day is another, not the hour.
        off, most, whose = min(off, 24.0 - off), _MOST_FROM_SUN_H, "the sun"
    else:
        off = max(abs(one - other) for one, other in zip(ours, _offsets_h(there), strict=True))
        most, whose = _MOST_FROM_CLOCKS_H, f"the clocks ({there})"
    if off <= most:
        return None
    return (
        f"The time zone {region.zone} is {off:.0f} hours off {whose} at the library's first position "
        f"({where[0]:.2f}, {where[1]:.2f}): sunsets and times would be wrong. Check zone and positions."
    )


def _offsets_h(name: str) -> tuple[float, float]:
    """How far a zone is ahead of UTC in winter and in summer [hours]."""
    days = (datetime(2027, month, 1, 12, tzinfo=zone(name)).utcoffset() for month in (1, 7))
    return tuple(0.0 if off is None else off.total_seconds() / 3600 for off in days)  # type: ignore[return-value]  # two


def accepted(region: Region, offer: Region) -> Region:
    """The region with what is proposed wherever it says nothing itself."""
    if not region.holidays_set:
        region = replace(region, country=offer.country)
    return replace(
        region,
        zone=region.zone or offer.zone,
        currency=region.currency or offer.currency,
        emergency_numbers=region.emergency_numbers or offer.emergency_numbers,
    )


def emergency_number(typed: str) -> EmergencyNumber:
    """'112', or '140 mountain rescue': the number up to the first letter, then what it is for.

    Raises
    ------
    RegionRefused
        When there is no number.
    """
    at = next((index for index, sign in enumerate(typed) if sign.isalpha()), len(typed))
    number, what_for = typed[:at].strip(" :,="), typed[at:].strip()
    if not any(sign.isdigit() for sign in number):
        raise RegionRefused(
            "'{typed}' has no number to ring; write it as 112 or as '140 mountain rescue'.", typed=typed
        )
    return EmergencyNumber(number, what_for)


def first_position(catalogue: Catalogue) -> tuple[float, float] | None:
    """Where the library is: its first place, house or stage [degrees]; None while it is empty."""
    items: tuple[Place | Lodging, ...] = (*catalogue.current(Place), *catalogue.current(Lodging))
    if items:
        return items[0].latitude_deg, items[0].longitude_deg
    for stage in catalogue.current(Stage):
        if stage.track_id in catalogue.tracks:
            track = catalogue.tracks[stage.track_id]
            return float(track.latitude_deg[0]), float(track.longitude_deg[0])
    return None


@lru_cache(maxsize=1)
def currency_names() -> dict[str, str]:
    """English names of currencies by ISO 4217 code."""
    from babel import Locale

    return {code: str(name) for code, name in Locale("en").currencies.items() if len(code) == 3}


@lru_cache(maxsize=1)
def country_names() -> dict[str, str]:
    """English names of countries by ISO 3166 code."""
    from babel import Locale

    names = Locale("en").territories
    return {code: str(name) for code, name in names.items() if len(code) == 2 and code.isalpha()}


def _check_zone(name: str) -> None:
    try:
        zone(name)
    except ZoneRefused as refusal:
        by_town = {known.rpartition("/")[2].casefold(): known for known in sorted(zone_names())}
        near = _nearest(name.rpartition("/")[2].replace(" ", "_"), by_town)
        raise RegionRefused(
            "The time zone '{name}' is not known: {what}",
            name=name,
            what="did you mean " + near + "?" if near else str(refusal),
        ) from None


def _near(given: str, names: dict[str, str]) -> str:
    """The codes whose code or name is most like what was given, each with its name."""
    codes = {code.casefold(): code for code in names}
    by_name = {name.casefold(): code for code, name in names.items()}
    near = _nearest(given, by_name) or _nearest(given, codes)
    said = [f"{code} for {names[code]}" for code in near.split(", ") if code]
    return f"such as {' or '.join(said)}" if said else "such as those your bank or post office uses"


def _nearest(given: str, known: dict[str, str]) -> str:
    found = get_close_matches(given.casefold(), known, n=_MOST_NEAR, cutoff=0.6)
    return ", ".join(dict.fromkeys(known[each] for each in found))


@lru_cache(maxsize=1)
def _country_of_zones() -> dict[str, str]:
    table = files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    rows = (line.split("\t") for line in table.splitlines() if line and not line.startswith("#"))
    return {row[2]: row[0] for row in rows}


def _currency_of(country: str) -> str | None:
    """The one currency that is legal tender there; None where there are several or none."""
    from babel.numbers import get_territory_currencies

    found = get_territory_currencies(country)
    return found[0] if len(found) == 1 else None
