"""Other ways to spend a day: shorter, longer, out of the rain. Told with their own figures."""

from collections.abc import Iterator

from lacet.documents.material.telling import Telling, told
from lacet.documents.material.values import Fact, OtherWay
from lacet.documents.material.ways import ride_said
from lacet.figures.values import AlternativeFigures, DayFigures, GroupFigures
from lacet.language import begun, marked
from lacet.trip.library import Stage
from lacet.trip.trip import Alternative, Item, Leg, Ride, Visit
from lacet.trip.words import Reason

REASONS = {
    Reason.SHORTER: marked("A shorter alternative"),
    Reason.WET_WEATHER: marked("If it rains"),
    Reason.LONGER: marked("A longer alternative"),
    Reason.OTHER: marked("Alternative"),
}


def others_told(telling: Telling, day: DayFigures) -> Iterator[OtherWay]:
    """Every alternative of a day."""
    figures = {each.id: each for each in day.alternatives}
    for alternative in telling.day_of(day).alternatives:
        found = figures.get(alternative.id)
        yield OtherWay(
            heading=telling.speech.word(REASONS[alternative.reason]),
            text=_text(telling, alternative),
            facts=() if found is None else tuple(_facts(telling, found)),
        )


def _text(telling: Telling, alternative: Alternative) -> str:
    items = [said for item in alternative.items if (said := _item(telling, item))]
    parts = told(begun(alternative.says), "; ".join(items))
    return ": ".join(parts) + ("." if parts else "")


def _item(telling: Telling, item: Item) -> str:
    if isinstance(item, Leg):
        stage = telling.catalogue.get(Stage, item.stage)
        return "" if stage is None else stage.name
    if isinstance(item, Ride):
        return ride_said(telling, item)
    if isinstance(item, Visit):
        return item.name
    return item.says


def _facts(telling: Telling, figures: AlternativeFigures) -> Iterator[Fact]:
    group = max(figures.groups, key=lambda each: each.moving_s, default=None)
    if group is None or not group.legs:
        return
    yield from _of_group(telling, group)


def _of_group(telling: Telling, group: GroupFigures) -> Iterator[Fact]:
    say, wording = telling.speech.say, telling.speech.wording
    yield Fact(say("Distance"), wording.length(group.distance_m))
    yield Fact(say("Ascent, descent"), f"{wording.height(group.ascent_m)}, {wording.height(group.descent_m)}")
    yield Fact(say("Moving time"), say("about {time}", time=wording.duration(group.moving_s)))
