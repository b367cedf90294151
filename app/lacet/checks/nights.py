"""What several checks ask of a night: who sleeps where, in which rooms, and which other house would do."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from lacet.checks.beds import bed
from lacet.checks.case import DayCase, Evening
from lacet.checks.kept import per_catalogue
from lacet.checks.making import fix, shut
from lacet.days.seasons import SeasonRefused
from lacet.figures.values import DayFigures
from lacet.language import to_say
from lacet.price.rooms import rooms_used
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Fix
from lacet.trip.library import DietAnswer, Lodging, Ref
from lacet.trip.party import Need
from lacet.trip.trip import Night, RoomUse
from lacet.trip.words import Answer, Service


@dataclass(frozen=True, slots=True)
class Sleep:
    """One night in one house; `house` is None when the library doesn't hold it."""

    day: DayFigures | Evening
    night: Night
    house: Lodging | None
    travellers: tuple[str, ...]

    @property
    def on(self) -> date | None:
        return self.day.on

    def rooms(self, case: DayCase) -> tuple[RoomUse, ...]:
        """Who has which room."""
        if self.house is None:
            return ()
        return rooms_used(self.night, self.house, self.travellers, case.trip.party)


def sleeps(case: DayCase) -> tuple[Sleep, ...]:
    """Every night of the day in which somebody sleeps, but for the night after the last day."""
    kept: tuple[Sleep, ...] | None = case.kept.get("sleeps")
    if kept is None:
        kept = case.kept["sleeps"] = tuple(_sleeps(case))
    return kept


def _sleeps(case: DayCase) -> Iterator[Sleep]:
    day, asleep = case.figures, dict[int, list[str]]()
    for who, guest in case.guests.items():
        found = bed(case, day.number, who) if guest.sleeps_after(day.number) else None
        if found is not None:
            asleep.setdefault(id(found.night), []).append(who)
    for night in case.day(day.number).nights:
        travellers = asleep.get(id(night))
        if travellers:
            yield Sleep(day, night, case.catalogue.get(Lodging, night.lodging), tuple(travellers))


def without_bed(case: DayCase, number: int) -> tuple[str, ...]:
    """Guests who stay the night after a day and have no lodging."""
    return tuple(
        who for who, guest in case.guests.items() if guest.sleeps_after(number) and not bed(case, number, who)
    )


@per_catalogue
def houses_at(catalogue: Catalogue, place_id: str) -> tuple[Lodging, ...]:
    """The library's current lodgings of a place."""
    return catalogue.current_under(Lodging, place_id)


def may_be_open(case: DayCase, house: Lodging, day: DayFigures | Evening) -> bool:
    """Whether nothing says that the house is closed that night."""
    try:
        return not any(shut(case, day, text) for text in house.closed)
    except SeasonRefused:
        return True


def free_rooms(case: DayCase, house: Lodging, kind: str, on: date | None) -> int:
    """Rooms of a kind that other trips haven't taken."""
    have = sum(room.count for room in house.rooms if room.kind == kind)
    taken = 0 if on is None else case.commitments.count(Service.LODGING, house.id, kind, on)
    return max(have - taken, 0)


def takes(case: DayCase, house: Lodging, day: DayFigures | Evening, travellers: tuple[str, ...]) -> bool:
    """Whether the house is open that night and has rooms left for these guests."""
    night = Night(lodging=Ref(house.id, house.version))
    kinds = [room.kind for room in rooms_used(night, house, travellers, case.trip.party)]
    return may_be_open(case, house, day) and all(
        kinds.count(kind) <= free_rooms(case, house, kind, day.on) for kind in set(kinds)
    )


def other_houses(
    case: DayCase, sleep: Sleep, most: int = 3, needs: Iterable[Need] = (), but: tuple[str, ...] = ()
) -> tuple[Fix, ...]:
    """Other houses of the same place that are open then, have the rooms and answer the needs with yes."""
    if sleep.house is None:
        return ()
    asked = [need.kind for need in needs]
    found = []
    for other in houses_at(case.catalogue, sleep.house.place):
        serves = all(answered(other.diets, kind) is Answer.YES for kind in asked)
        if (
            other.id not in (sleep.house.id, *but)
            and serves
            and takes(case, other, sleep.day, sleep.travellers)
        ):
            night = replace(sleep.night, lodging=Ref(other.id, other.version), rooms=())
            found.append(
                fix(to_say("{other}, open", other=other.name), edits.set_night, case, sleep.day.id, night)
            )
    return tuple(found[:most])


def answered(answers: tuple[DietAnswer, ...], kind: str) -> Answer | None:
    """What a kitchen or a house said about a need, or None when nobody has asked."""
    return next((each.answer for each in answers if each.need == kind), None)
