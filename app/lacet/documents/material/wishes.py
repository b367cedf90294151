"""Each wish of the party beside what the trip gives: honest where it gives less."""

from collections.abc import Iterator

from lacet.documents.material.lengths import lengths
from lacet.documents.material.meals import need_said
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Fact
from lacet.documents.material.ways import EDGES, GROUND
from lacet.figures.values import GroupFigures
from lacet.language import begun
from lacet.trip.library import Place, Stage, StageWay
from lacet.trip.party import ALLERGENS, DIETS, Traveller
from lacet.trip.words import Exposure, Footing, NeedLevel, Way


def answers(telling: Telling) -> Iterator[Fact]:
    """Facts in the order: ways, days, each guest's limits, ground, edges, needs, likes."""
    wishes, totals, say = telling.trip.party.wishes, telling.figures.totals, telling.speech.say
    if wishes.ways:
        asked = [say("on foot") if way is Way.WALKING else say("by bike") for way in wishes.ways]
        given = [f"{fact.name} {fact.value}" for fact in lengths(telling)]
        yield Fact(begun(telling.speech.listed(asked)), begun(telling.speech.listed(given)))
    if wishes.rest_days is not None:
        yield Fact(_rest_days(telling, wishes.rest_days), _rest_days(telling, totals.rest_days))
    yield from _limits(telling)
    yield from _ground(telling)
    yield from _needs(telling)
    yield from _likes(telling)


def _rest_days(telling: Telling, count: int) -> str:
    if not count:
        return telling.speech.say("No rest day")
    return begun(telling.speech.many("one rest day", "{count} rest days", count))


def _groups_of(telling: Telling, who: str) -> list[tuple[int, GroupFigures]]:
    return [
        (day.number, group)
        for day in telling.figures.days
        for group in day.groups
        if who in group.travellers and group.legs
    ]


def _limits(telling: Telling) -> Iterator[Fact]:
    """Each guest's own limits; guests with the same limit and the same answer are told together."""
    alike: dict[Fact, list[str]] = {}
    for guest in telling.trip.party.travellers:
        for fact in _of_guest(telling, guest):
            alike.setdefault(fact, []).append(guest.id)
    for fact, travellers in alike.items():
        names = telling.names(travellers)
        yield Fact(telling.speech.say("{limit} ({name})", limit=fact.name, name=names), fact.value)


def _of_guest(telling: Telling, guest: Traveller) -> Iterator[Fact]:
    say, wording, limits = telling.speech.say, telling.speech.wording, guest.limits
    groups = _groups_of(telling, guest.id)
    for way, limit_m, how in (
        (Way.WALKING, limits.walking_m, say("on foot")),
        (Way.CYCLING, limits.cycling_m, say("by bike")),
    ):
        lengths_m = [sum(leg.distance_m for leg in group.legs if leg.leg.way is way) for _, group in groups]
        if limit_m is not None and any(lengths_m):
            asked = say("No more than {length} a day {way}", length=wording.length(limit_m), way=how)
            yield Fact(asked, say("Longest day: {length}", length=wording.length(max(lengths_m))))
    climbs_m = [group.ascent_m for _, group in groups if group.ascent_m is not None]
    if limits.ascent_m is not None and climbs_m:
        asked = say("No more than {height} of ascent a day", height=wording.height(limits.ascent_m))
        yield Fact(asked, say("Most in a day: {height}", height=wording.height(max(climbs_m))))
    times_s = [
        sum(dict(leg.moving_s_of).get(guest.id, leg.moving_s) for leg in group.legs) for _, group in groups
    ]
    if limits.moving_s is not None and times_s:
        asked = say("No more than {time} a day on the move", time=wording.duration(limits.moving_s))
        yield Fact(asked, say("Longest day: {time}", time=wording.duration(max(times_s))))


def _ground(telling: Telling) -> Iterator[Fact]:
    wishes, say = telling.trip.party.wishes, telling.speech.say
    facts = list(_stage_ways(telling))
    footings = [way.footing for way in facts if way is not None]
    if wishes.footing is not None and facts and None not in facts and None not in footings:
        worst = max((each for each in footings if each is not None), key=list(Footing).index)
        asked = say("Terrain no harder than: {ground}", ground=telling.speech.word(GROUND[wishes.footing]))
        yield Fact(asked, begun(telling.speech.word(GROUND[worst])))
    edges = [way.exposure for way in facts if way is not None]
    if wishes.exposure is not None and facts and None not in facts and None not in edges:
        nearest = max((each for each in edges if each is not None), key=list(Exposure).index)
        yield Fact(
            begun(telling.speech.word(EDGES[wishes.exposure])), begun(telling.speech.word(EDGES[nearest]))
        )


def _stage_ways(telling: Telling) -> Iterator[StageWay | None]:
    for day in telling.figures.days:
        for group in day.groups:
            for leg in group.legs:
                stage = telling.catalogue.get(Stage, leg.leg.stage)
                yield None if stage is None else stage.on(leg.leg.way)


def _needs(telling: Telling) -> Iterator[Fact]:
    """Each must at table, and on how many evenings and mornings it is still to be asked for."""
    for guest in telling.trip.party.travellers:
        for need in guest.needs:
            if need.level is NeedLevel.MUST and need.kind in (*ALLERGENS, *DIETS):
                asked = f"{begun(need_said(telling, need))} ({telling.name(guest.id)})"
                still = {
                    finding.day
                    for finding in telling.findings
                    if finding.check == "needs_served" and guest.id in finding.travellers
                }
                yield Fact(asked, _served(telling, sorted(day for day in still if day is not None)))


def _served(telling: Telling, days: list[int]) -> str:
    if not days:
        return telling.speech.say("Every kitchen says it caters for this; we confirm when we book")
    which = telling.speech.listed([str(day) for day in days])
    return telling.speech.many(
        "Every kitchen says it caters for this, except on day {days}, where we will ask for you",
        "Every kitchen says it caters for this, except on days {days}, where we will ask for you",
        len(days), days=which,
    )  # fmt: skip


def _likes(telling: Telling) -> Iterator[Fact]:
    """What the party likes, where the library's own words along the way speak of it."""
    for like in telling.trip.party.wishes.likes:
        days = [day.number for day in telling.figures.days if _speaks_of(telling, day.number, like)]
        if days:
            which = telling.speech.listed([str(day) for day in days])
            yield Fact(begun(like), telling.speech.many("Day {days}", "Days {days}", len(days), days=which))


def _speaks_of(telling: Telling, number: int, like: str) -> bool:
    day = telling.figures.days[number - 1]
    texts: list[str] = []
    for group in day.groups:
        for leg in group.legs:
            stage = telling.catalogue.get(Stage, leg.leg.stage)
            texts += [] if stage is None else [stage.name, stage.text, *stage.highlights]
        place: Place | None = None if group.end_place is None else telling.catalogue.place(group.end_place)
        texts += [] if place is None else [place.note]
    words = " ".join(texts).casefold()
    return like.casefold() in words
