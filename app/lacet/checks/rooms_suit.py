"""Rooms for everybody: enough of them, large enough, and with what guests need of a room.

A private bath is a fact of a room; a ground floor or a way without stairs is what the house has answered.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import DayCase
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import Sleep, answered, free_rooms, houses_at, other_houses, sleeps, takes
from lacet.checks.words import guests
from lacet.language import marked, to_count, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Ids, Level
from lacet.trip.library import Lodging, Ref, Room
from lacet.trip.party import ROOM_NEEDS, Need
from lacet.trip.trip import Night, RoomUse
from lacet.trip.words import Answer, NeedLevel

ID = "rooms_suit"
SAYS = "The house has free rooms for everybody, large enough, and the rooms meet their guests' needs."
_HELD = {Answer.YES: True, Answer.NO: False}


_MUST, _PREFERS = to_say("needs it"), to_say("would like it")
_LACKS = marked("{lodging} has no {room}; {who} {how}. Choose another room or house.")
_OFFERS = marked("{lodging} has a {room} on request; {who} {how}. Ask, then note the answer.")
_UNASKED = marked("{lodging} hasn't said whether it has a {room}; {who} {how}. Ask, then note the answer.")
_ROOMS = {
    "private bath": marked("{kind} room with a private bath"),
    "ground floor": marked("room on the ground floor"),
    "without stairs": marked("room without stairs"),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    by_house: dict[str, list[Sleep]] = {}
    for sleep in sleeps(case):
        by_house.setdefault(sleep.night.lodging.id, []).append(sleep)
    for together in by_house.values():
        house = together[0].house
        if house is not None and house.rooms:
            yield from _enough(case, together, house)
        elif house is not None:
            says = to_say("Nobody has said which rooms {house} has. Ask the house.", house=house.name)
            yield day_finding(
                ID, "rooms_unknown", Level.NOTE, together[0].day, says, {"lodging": house.id}, unknown=True
            )


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
    says = (
        to_say(
            "{lodging} has no {kind} room. Share otherwise, or choose another house.",
            lodging=house.name,
            kind=use.kind,
        )
        if use.kind
        else to_say(
            "{lodging} has no room for {guests}. Share otherwise, or choose another house.",
            lodging=house.name,
            guests=len(use.travellers),
        )
    )
    about: dict[str, Ids] = {"lodging": house.id, "room": use.kind, "guest": use.travellers}
    return day_finding(
        ID, "no_such_room", Level.STOP, sleep.day, says, about, fixes=other_houses(case, sleep)
    )


def _large_enough(case: DayCase, sleep: Sleep, house: Lodging, use: RoomUse, room: Room) -> Iterator[Finding]:
    if len(use.travellers) > room.sleeps:
        says = to_say(
            "{who:begun} share a {kind} room at {house}, which sleeps {sleeps}. Take another room.",
            who=guests(case, use.travellers),
            kind=room.kind,
            house=house.name,
            sleeps=room.sleeps,
        )
        yield day_finding(
            ID, "beds", Level.STOP, sleep.day, says, {"lodging": house.id, "guest": use.travellers},
            travellers=use.travellers, figure=float(len(use.travellers)), limit=float(room.sleeps),
            unit="guests", fixes=(_by_sharing(case, sleep, house), *other_houses(case, sleep, 2)),
        )  # fmt: skip


def _by_sharing(case: DayCase, sleep: Sleep, house: Lodging) -> Fix:
    night = replace(sleep.night, rooms=())
    return fix(
        to_say("Rooms of {house} as the party shares", house=house.name),
        edits.set_night,
        case,
        sleep.day.id,
        night,
    )


def _too_few(case: DayCase, used: list[tuple[Sleep, RoomUse]], house: Lodging, free: int) -> Finding:
    sleep, kind = used[0][0], used[0][1].kind
    have = next(room.count for room in house.rooms if room.kind == kind)
    values = {"lodging": house.name, "have": have, "kind": kind, "held": have - free}
    says = (
        to_count(
            "{lodging} has {have} {kind} rooms, {held} of them held by other trips; {count} is needed. "
            "Share otherwise, or choose another house.",
            "{lodging} has {have} {kind} rooms, {held} of them held by other trips; {count} are needed. "
            "Share otherwise, or choose another house.",
            len(used),
            **values,
        )
        if have > free
        else to_count(
            "{lodging} has {have} {kind} rooms; {count} is needed. Share otherwise, or choose another house.",
            "{lodging} has {have} {kind} rooms; {count} are needed. Share otherwise, or choose "
            "another house.",
            len(used),
            **values,
        )
    )
    over = tuple(who for _, use in used[free:] for who in use.travellers)
    fixes = (*other_houses(case, sleep, 2), *_apart(case, sleep, house, over))
    return day_finding(
        ID, "too_few", Level.STOP, sleep.day, says, {"lodging": house.id, "room": kind},
        figure=float(len(used)),
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
            says = to_say("{who:begun} at {other}", who=guests(case, over), other=other.name)
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
    says = to_say(
        _LACKS if has is False else _OFFERS if answer else _UNASKED,
        lodging=house.name,
        room=to_say(_ROOMS.get(need.kind, _ROOMS["without stairs"]), kind=room.kind),
        who=case.trip.party.name_of(who),
        how=_MUST if must else _PREFERS,
    )
    asked = answer is Answer.ON_REQUEST and has is None
    level = Level.STOP if must and not asked else Level.NOTE if asked and not must else Level.WARN
    yield day_finding(
        ID, "need", level, sleep.day, says, {"need": need.kind, "lodging": house.id, "guest": who},
        travellers=(who,),
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
            says = to_say("A {kind} room with a private bath", kind=room.kind)
            night = replace(sleep.night, rooms=rooms)
            found.append(fix(says, edits.set_night, case, sleep.day.id, night))
    needs = () if need.kind == "private bath" else (need,)
    return (*found[:1], *other_houses(case, sleep, 2, needs))
