"""The brief: what the party is and asked for, in one line that stays in sight."""

from lacet.trip.party import Party
from lacet.trip.trip import Trip
from lacet.trip.words import Exposure, Footing, NeedLevel
from lacet.wording import ENGLISH, Wording

ADULT_FROM = 18


def brief_text(trip: Trip, wording: Wording = ENGLISH) -> str:
    """'4 adults · 1 must: no cereals containing gluten · at most 16.0 km · no edges'."""
    party = trip.party
    parts = [_heads(party), *_needs(party), *_limits(party, wording), *_ground(party)]
    if party.wishes.rest_days:
        parts.append(f"{party.wishes.rest_days} rest days" if party.wishes.rest_days > 1 else "1 rest day")
    return "  ·  ".join(part for part in parts if part)


def _heads(party: Party) -> str:
    children = sum(1 for guest in party.travellers if guest.age is not None and guest.age < ADULT_FROM)
    adults = len(party.travellers) - children
    said = [f"{adults} adult{'s' if adults != 1 else ''}"] if adults else []
    if children:
        said.append(f"{children} child{'ren' if children != 1 else ''}")
    return ", ".join(said)


def _needs(party: Party) -> list[str]:
    musts: dict[str, int] = {}
    for guest in party.travellers:
        for need in guest.needs:
            if need.level is NeedLevel.MUST:
                musts[need.text or need.kind] = musts.get(need.text or need.kind, 0) + 1
    return [f"{count} {said}" for said, count in musts.items()]


def _limits(party: Party, wording: Wording) -> list[str]:
    lengths = [guest.limits.walking_m for guest in party.travellers if guest.limits.walking_m]
    rides = [guest.limits.cycling_m for guest in party.travellers if guest.limits.cycling_m]
    times = [guest.limits.moving_s for guest in party.travellers if guest.limits.moving_s]
    parts = []
    if lengths:
        parts.append(f"{wording.length(min(lengths))} on foot")
    if rides:
        parts.append(f"{wording.length(min(rides))} by bike")
    if times:
        parts.append(wording.duration(min(times)))
    return [f"at most {', '.join(parts)}"] if parts else []


def _ground(party: Party) -> list[str]:
    said = []
    if party.wishes.exposure is Exposure.NONE:
        said.append("no edges")
    if party.wishes.footing is Footing.EVEN:
        said.append("even ground")
    return said
