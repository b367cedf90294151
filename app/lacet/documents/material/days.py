"""A part for each day, and the row it has in the table at the front."""

from collections.abc import Iterator

from lacet.documents.material.beds import beds_told
from lacet.documents.material.meals import meals_told
from lacet.documents.material.others import others_told
from lacet.documents.material.services import bags_told, rescue_told, transfers_told
from lacet.documents.material.telling import DASH, Telling, told
from lacet.documents.material.values import DayTold, GlanceRow
from lacet.documents.material.ways import group_title, ways_told
from lacet.figures.values import DayFigures
from lacet.language import begun
from lacet.trip.library import Lodging
from lacet.trip.stays import is_rest_day
from lacet.trip.trip import Note, Rest, Visit


def day_told(telling: Telling, day: DayFigures, hardest: int | None) -> DayTold:
    """Everything about one day."""
    say = telling.speech.say
    planned = telling.day_of(day)
    return DayTold(
        id=f"day-{day.number}",
        label=say("Day {number}", number=day.number),
        date=telling.weekday(day.on),
        title=day_title(telling, day),
        how=how(telling, day),
        rest=day.rest,
        hardest=say("The most demanding day of the trip.") if day.number == hardest else "",
        ways=tuple(ways_told(telling, day)),
        beds=tuple(beds_told(telling, day)),
        meals=tuple(meals_told(telling, day)),
        bags=tuple(bags_told(telling, day)),
        transfers=tuple(transfers_told(telling, day)),
        others=tuple(others_told(telling, day)),
        rescue=rescue_told(telling, day),
        ideas=tuple(_ideas(telling, day)),
        picture_key=_picture(telling, day),
        notes=told(planned.note, *(item.says for item in planned.items if isinstance(item, Note))),
    )


def _picture(telling: Telling, day: DayFigures) -> str:
    resting = next((group for group in day.groups if not group.legs), None)
    where = None if resting is None else resting.end_place or resting.start_place
    place = None if where is None else telling.catalogue.place(where)
    return "" if place is None else next(iter(place.picture_ids), "")


def day_title(telling: Telling, day: DayFigures) -> str:
    """The title of the group that moves longest; where ways part, the way all of them go."""
    return "" if day.group is None else group_title(telling, day, day.group)


def how(telling: Telling, day: DayFigures) -> str:
    """'On foot and by e-bike', 'Rest day', or that guests are driven."""
    ways = telling.ways_of(day.groups)
    if ways:
        return begun(ways)
    if is_rest_day(telling.day_of(day)):
        crossing = day.number in (1, len(telling.variant.days))
        return "" if crossing else telling.speech.say("Rest day")
    return telling.speech.say("Transfer")


def row(telling: Telling, day: DayFigures, hardest: int | None) -> GlanceRow:
    """The day in the table at the front; figures are those of the group that moves longest."""
    group, wording = day.group, telling.speech.wording
    moves = group is not None and bool(group.legs)
    return GlanceRow(
        day_id=f"day-{day.number}",
        number=str(day.number),
        date=telling.short(day.on),
        title=day_title(telling, day),
        how=how(telling, day),
        distance=wording.length(group.distance_m) if group is not None and moves else DASH,
        ascent=wording.height(group.ascent_m) if group is not None and moves else DASH,
        time=wording.duration(group.moving_s) if group is not None and moves else DASH,
        night=", ".join(_houses(telling, day)) or DASH,
        moves=moves,
        hardest=day.number == hardest,
    )


def _houses(telling: Telling, day: DayFigures) -> Iterator[str]:
    for night in telling.day_of(day).nights:
        house = telling.catalogue.get(Lodging, night.lodging)
        if house is not None:
            yield house.name


def _ideas(telling: Telling, day: DayFigures) -> Iterator[str]:
    """What there is to do where the party is, on a day that has room for it."""
    planned = telling.day_of(day)
    for item in planned.items:
        if isinstance(item, Rest) and item.says:
            yield begun(item.says)
        if isinstance(item, Visit):
            yield item.name
    places = {group.end_place or group.start_place: None for group in day.groups if not group.legs}
    for place_id in places:
        place = None if place_id is None else telling.catalogue.place(place_id)
        yield from () if place is None else told(*place.rest_day_ideas, place.note)
