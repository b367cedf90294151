"""The house is open that night and has rooms that suit."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import Case
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import Sleep, sleeps
from lacet.days.seasons import SeasonRefused, season
from lacet.price.rooms import rooms_used
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Ref
from lacet.trip.words import NeedLevel, Service

ID = "lodging_open"
SAYS = "The house is open that night, has free rooms for everybody, and the rooms meet their needs."


def check(case: Case) -> Iterator[Finding]:
    for sleep in sleeps(case):
        if sleep.house is not None:
            yield from _open(case, sleep, sleep.house)
            yield from _rooms(case, sleep, sleep.house)
            yield from _bath(case, sleep, sleep.house)


def _open(case: Case, sleep: Sleep, house: Lodging) -> Iterator[Finding]:
    for text in house.closed:
        try:
            shut = sleep.on is not None and season(text).covers(sleep.on)
        except SeasonRefused:
            continue
        if shut:
            says = f"{house.name} is closed that night ({text}). Choose another house or another date."
            yield day_finding(
                ID, Level.STOP, sleep.day, says, f"closed {house.id}", fixes=other_houses(case, sleep, house)
            )
        elif sleep.on is None:
            says = f"{house.name} is closed {text}; without a date nobody can tell whether it is open."
            yield day_finding(ID, Level.NOTE, sleep.day, says, f"closed {house.id} {text}", unknown=True)


def _rooms(case: Case, sleep: Sleep, house: Lodging) -> Iterator[Finding]:
    """Rooms taken by this party and by other trips, against what the house has."""
    if not house.rooms:
        says = f"Nobody has said which rooms {house.name} has. Ask the house."
        yield day_finding(ID, Level.NOTE, sleep.day, says, f"rooms {house.id}", unknown=True)
        return
    wanted = Counter(room.kind for room in rooms_used(sleep.night, house, sleep.travellers, case.trip.party))
    for kind, count in wanted.items():
        room = next((each for each in house.rooms if each.kind == kind), None)
        if room is None:
            what = f"no {kind} room" if kind else "no room for so many"
            says = f"{house.name} has {what}. Share otherwise, or choose another house."
            yield day_finding(
                ID,
                Level.STOP,
                sleep.day,
                says,
                f"kind {house.id} {kind}",
                fixes=other_houses(case, sleep, house),
            )
            continue
        taken = case.commitments.count(Service.LODGING, house.id, kind, sleep.on) if sleep.on else 0
        free = room.count - taken
        if count > free:
            others = f", {taken} held by other trips" if taken else ""
            says = (
                f"{house.name} has {room.count} {kind} rooms{others}; {count} are needed. "
                "Share otherwise, or choose another house."
            )
            yield day_finding(
                ID,
                Level.STOP,
                sleep.day,
                says,
                f"count {house.id} {kind}",
                figure=float(count),
                limit=float(free),
                unit="rooms",
                fixes=other_houses(case, sleep, house),
            )


def _bath(case: Case, sleep: Sleep, house: Lodging) -> Iterator[Finding]:
    """A private bath where a guest must have one or prefers it."""
    kinds = {room.kind: room for room in house.rooms}
    for used in rooms_used(sleep.night, house, sleep.travellers, case.trip.party):
        room = kinds.get(used.kind)
        needs = [
            need
            for who in used.travellers
            for need in case.traveller(who).needs
            if need.kind == "private bath"
        ]
        if room is None or not needs or room.private_bath:
            continue
        must = any(need.level is NeedLevel.MUST for need in needs)
        unknown = room.private_bath is None
        how = "hasn't said whether its rooms have" if unknown else f"has no {used.kind} room with"
        says = f"{house.name} {how} a private bath, which a guest {'needs' if must else 'prefers'}. Ask."
        yield day_finding(
            ID,
            Level.STOP if must else Level.WARN,
            sleep.day,
            says,
            f"bath {house.id} {used.kind}",
            unknown=unknown,
            fixes=other_houses(case, sleep, house),
        )


def other_houses(case: Case, sleep: Sleep, house: Lodging, most: int = 3) -> tuple[Fix, ...]:
    """Other houses of the same place that are open then."""
    found = []
    for other in case.catalogue.current(Lodging):
        if other.place == house.place and other.id != house.id and _is_open(other, sleep):
            night = replace(sleep.night, lodging=Ref(other.id, other.version), rooms=())
            found.append(fix(f"{other.name}, open", edits.set_night, case, sleep.day.id, night))
    return tuple(found[:most])


def _is_open(house: Lodging, sleep: Sleep) -> bool:
    try:
        return sleep.on is None or not any(season(text).covers(sleep.on) for text in house.closed)
    except SeasonRefused:
        return False
