"""Rooms for everybody: enough of them, large enough, and with what guests need of a room.

A private bath is a fact of a room; a ground floor or a way without stairs is what the house has answered.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import DayCase
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import Sleep, answered, free_rooms, houses_at, other_houses, sleeps, takes
from lacet.checks.words import begun, guests
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Ref, Room
from lacet.trip.party import ROOM_NEEDS, Need
from lacet.trip.trip import Night, RoomUse
from lacet.trip.words import Answer, NeedLevel

ID = "rooms_suit"
SAYS = "The house has free rooms for everybody, large enough, and the rooms meet their guests' needs."
_HELD = {Answer.YES: True, Answer.NO: False}


def check_day(case: DayCase) -> Iterator[Finding]:
    by_house: dict[str, list[Sleep]] = {}
    for sleep in sleeps(case):
        by_house.setdefault(sleep.night.lodging.id, []).append(sleep)
    for together in by_house.values():
        house = together[0].house
        if house is not None and house.rooms:
            yield from _enough(case, together, house)
        elif house is not None:
            says = f"Nobody has said which rooms {house.name} has. Ask the house."
            yield day_finding(ID, Level.NOTE, together[0].day, says, f"rooms {house.id}", unknown=True)


def _enough(case: DayCase, together: list[Sleep], house: Lodging) -> Iterator[Finding]:
    kinds = {room.kind: room for room in house.rooms}
    used = [(sleep, room) for sleep in together for room in sleep.rooms(case)]
    for sleep, use in used:
        room = kinds.get(use.kind)
        if room is None:
            yield _no_such_room(case, sleep, house, use)
        else:
            yield from _large_enough(case, sleep, house, use, room)
            yield from _needs(case, sleep, house, use, room)
    for kind, wanted in Counter(use.kind for _, use in used if use.kind in kinds).items():
        free = free_rooms(case, house, kind, together[0].on)
        if wanted > free:
            yield _too_few(case, [each for each in used if each[1].kind == kind], house, free)


def _no_such_room(case: DayCase, sleep: Sleep, house: Lodging, use: RoomUse) -> Finding:
    what = f"{use.kind} room" if use.kind else f"room for {len(use.travellers)}"
    says = f"{house.name} has no {what}. Share otherwise, or choose another house."
    about = f"kind {house.id} {use.kind} {' '.join(use.travellers)}"
    return day_finding(ID, Level.STOP, sleep.day, says, about, fixes=other_houses(case, sleep))


def _large_enough(case: DayCase, sleep: Sleep, house: Lodging, use: RoomUse, room: Room) -> Iterator[Finding]:
    if len(use.travellers) > room.sleeps:
        says = (
            f"{begun(guests(case, use.travellers))} share a {room.kind} room at {house.name}, "
            f"which sleeps {room.sleeps}. Take another room."
        )
        yield day_finding(
            ID, Level.STOP, sleep.day, says, f"beds {house.id} {' '.join(use.travellers)}",
            travellers=use.travellers, figure=float(len(use.travellers)), limit=float(room.sleeps),
            unit="guests", fixes=(_by_sharing(case, sleep, house), *other_houses(case, sleep, 2)),
        )  # fmt: skip


def _by_sharing(case: DayCase, sleep: Sleep, house: Lodging) -> Fix:
    night = replace(sleep.night, rooms=())
    return fix(f"Rooms of {house.name} as the party shares", edits.set_night, case, sleep.day.id, night)


def _too_few(case: DayCase, used: list[tuple[Sleep, RoomUse]], house: Lodging, free: int) -> Finding:
    sleep, kind = used[0][0], used[0][1].kind
    have = next(room.count for room in house.rooms if room.kind == kind)
    held = f", {have - free} of them held by other trips" if have > free else ""
    says = (
        f"{house.name} has {have} {kind} room{'' if have == 1 else 's'}{held}; "
        f"{len(used)} {'is' if len(used) == 1 else 'are'} needed. Share otherwise, or choose another house."
    )
    over = tuple(who for _, use in used[free:] for who in use.travellers)
    fixes = (*other_houses(case, sleep, 2), *_apart(case, sleep, house, over))
    return day_finding(
        ID, Level.STOP, sleep.day, says, f"count {house.id} {kind}", figure=float(len(used)),
        limit=float(free), unit="rooms", fixes=fixes,
    )  # fmt: skip


def _apart(case: DayCase, sleep: Sleep, house: Lodging, over: tuple[str, ...]) -> tuple[Fix, ...]:
    """Those without a room sleep next door."""
    if len(over) == len(sleep.travellers):
        return ()
    found = []
    for other in houses_at(case.catalogue, house.place):
        if other.id != house.id and takes(case, other, sleep.day, over):
            night = Night(lodging=Ref(other.id, other.version), board=sleep.night.board, travellers=over)
            says = f"{begun(guests(case, over))} at {other.name}"
            found.append(fix(says, edits.set_night, case, sleep.day.id, night))
    return tuple(found[:1])


def _needs(case: DayCase, sleep: Sleep, house: Lodging, use: RoomUse, room: Room) -> Iterator[Finding]:
    for who in use.travellers:
        for need in case.traveller(who).needs:
            if need.kind in ROOM_NEEDS:
                yield from _need(case, sleep, house, who, need, room)


def _need(case: DayCase, sleep: Sleep, house: Lodging, who: str, need: Need, room: Room) -> Iterator[Finding]:
    answer = answered(house.diets, need.kind)
    has = _HELD.get(answer) if answer else None
    if need.kind == "private bath" and room.private_bath is not None:
        has = room.private_bath
    if has:
        return
    must = need.level is NeedLevel.MUST
    how = "has no" if has is False else "has on request a" if answer else "hasn't said whether it has a"
    what = {
        "private bath": f"{room.kind} room with a private bath",
        "ground floor": "room on the ground floor",
    }
    says = (
        f"{house.name} {how} {what.get(need.kind, 'room without stairs')}, which "
        f"{case.trip.party.name_of(who)} {'needs' if must else 'prefers'}. "
        f"{'Choose another room or house.' if has is False else 'Ask and note the answer.'}"
    )
    asked = answer is Answer.ON_REQUEST and has is None
    level = Level.STOP if must and not asked else Level.NOTE if asked and not must else Level.WARN
    yield day_finding(
        ID, level, sleep.day, says, f"{need.kind} {house.id} {who}", travellers=(who,),
        unknown=has is None and not asked, fixes=_other_rooms(case, sleep, house, who, need),
    )  # fmt: skip


def _other_rooms(case: DayCase, sleep: Sleep, house: Lodging, who: str, need: Need) -> tuple[Fix, ...]:
    """A room of the same house that has it, else another house that does."""
    found = []
    uses = sleep.rooms(case)
    mine = next(use for use in uses if who in use.travellers)
    for room in house.rooms:
        fits = need.kind == "private bath" and room.private_bath and room.sleeps >= len(mine.travellers)
        if fits and room.kind != mine.kind:
            rooms = tuple(
                RoomUse(kind=room.kind, travellers=use.travellers) if use is mine else use for use in uses
            )
            says = f"A {room.kind} room with a private bath"
            night = replace(sleep.night, rooms=rooms)
            found.append(fix(says, edits.set_night, case, sleep.day.id, night))
    needs = () if need.kind == "private bath" else (need,)
    return (*found[:1], *other_houses(case, sleep, 2, needs))
