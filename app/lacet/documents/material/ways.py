"""A group's way through a day: its clock, its figures, a sentence on effort and ground, its stages."""

from collections.abc import Iterator
from typing import TypeVar

from lacet.documents.material.along import good_to_know
from lacet.documents.material.hardness import EASY_SHARE, hardness
from lacet.documents.material.telling import CARRIERS, Telling, paragraphs, sentence
from lacet.documents.material.values import Fact, LegTold, WayTold
from lacet.figures.values import DayFigures, GroupFigures, LegFigures, Step
from lacet.language import begun, marked
from lacet.trip.library import Ref, Stage, StageWay, Transfer
from lacet.trip.trip import Leg, Ride, Visit
from lacet.trip.words import Exposure, Footing, Grade, Way

GRADES = {
    Grade.EASY: marked("easy"),
    Grade.MODERATE: marked("moderate"),
    Grade.DEMANDING: marked("demanding"),
}
GROUND = {
    Footing.EVEN: marked("even underfoot"),
    Footing.UNEVEN: marked("uneven underfoot in places"),
    Footing.ROUGH: marked("rough underfoot in places, sturdy footwear needed"),
    Footing.ROCKY: marked("rocky in places, sure-footedness needed"),
}
SURFACE = {
    Footing.EVEN: marked("smooth throughout"),
    Footing.UNEVEN: marked("uneven in places"),
    Footing.ROUGH: marked("rough in places, where some riders may push"),
    Footing.ROCKY: marked("rocky in places, where most riders will push"),
}
EDGES = {
    Exposure.NONE: marked("no exposure"),
    Exposure.SOME: marked("steep drops beside the route in a few places"),
    Exposure.EXPOSED: marked("exposed sections that need a head for heights"),
}
EASY, STEADY, LONG = marked("an easy day"), marked("a steady day"), marked("a long day")

Scale = TypeVar("Scale", Footing, Exposure, Grade)


def ways_told(telling: Telling, day: DayFigures) -> Iterator[WayTold]:
    """One way for each group of a day, in the order of the party."""
    parted = len(day.groups) > 1
    for index, group in enumerate(day.groups, start=1):
        key = f"{telling.day_of(day).id}-{index}"
        yield WayTold(
            who=telling.names(group.travellers) if parted else "",
            title=group_title(telling, day, group),
            way=_kind(group),
            clock=clock(telling, group),
            sentence=effort(telling, group),
            facts=tuple(figures(telling, day, group)),
            legs=tuple(_legs(telling, group)),
            steps=tuple(_steps(telling, group)),
            good_to_know=tuple(good_to_know(telling, day, group)),
            map_key=f"map-{key}" if group.legs else "",
            profile_key=f"profile-{key}" if group.legs else "",
        )


def group_title(telling: Telling, day: DayFigures, group: GroupFigures) -> str:
    """'Northfold to Brack Harbour'; a round is called by its stages, a day without travel by its place."""
    say = telling.speech.say
    begins, ends = telling.place(group.start_place), telling.place(group.end_place)
    if group.departs_s is None:
        place = ends or begins
        if day.number == 1:
            return say("Arrival in {place}", place=place) if place else say("Arrival")
        return say("A day in {place}", place=place) if place else say("A day at leisure")
    if group.legs:
        first, last = group.legs[0].from_place, group.legs[-1].to_place
        if first and last and first != last:
            return say("{begins} to {ends}", begins=telling.place(first), ends=telling.place(last))
        return telling.speech.listed(tuple(dict.fromkeys(leg.stage_name for leg in group.legs)))
    if begins and ends and begins != ends:
        return say("{begins} to {ends}", begins=begins, ends=ends)
    return say("A day in {place}", place=begins) if begins else say("On the way")


def clock(telling: Telling, group: GroupFigures) -> str:
    """'Set out at 9:30, there by about 14:05.'."""
    if group.departs_s is None or group.done_s is None:
        return ""
    clock = telling.speech.clock
    return telling.speech.say(
        "Set off at {departs}, arriving at about {done}.",
        departs=clock(group.departs_s),
        done=telling.speech.about(group.done_s),
    )


def figures(telling: Telling, day: DayFigures, group: GroupFigures) -> Iterator[Fact]:
    """Distance, climb, time, grade, daylight and battery of a group's day, as the assessment has them."""
    say, wording = telling.speech.say, telling.speech.wording
    if not group.legs:
        return
    yield Fact(say("Distance"), wording.length(group.distance_m))
    climb = f"{wording.height(group.ascent_m)}, {wording.height(group.descent_m)}"
    yield Fact(say("Ascent, descent"), climb)
    yield Fact(say("Moving time"), say("about {time}", time=wording.duration(group.moving_s)))
    yield Fact(say("Arrival with stops"), telling.speech.about(group.done_s))
    grade = _worst(Grade, [way.grade for way in _facts_of(telling, group)])
    if grade is not None:
        yield Fact(say("Grade"), telling.speech.word(GRADES[grade]))
    if day.sunset_s is not None:
        yield Fact(say("Sunset"), telling.speech.clock(day.sunset_s))
    if group.battery_left_share is not None:
        left = wording.share(group.battery_left_share)
        yield Fact(say("Battery left at the end"), say("about {share}", share=left))


def effort(telling: Telling, group: GroupFigures) -> str:
    """'An easy day on foot; uneven underfoot in places; no exposed edges.'; what nobody said is left out."""
    if not group.legs:
        return ""
    share = hardness(telling, group)
    size = EASY if share <= EASY_SHARE else STEADY if share < telling.rules.hard_day_share else LONG
    how = telling.ways_of((group,))
    day = telling.speech.say("{day} {how}", day=telling.speech.word(size), how=how)
    facts = _facts_of(telling, group)
    whole = len(facts) == len(group.legs)
    footing = _worst(Footing, [way.footing for way in facts]) if whole else None
    exposure = _worst(Exposure, [way.exposure for way in facts]) if whole else None
    by_bike = all(leg.leg.way is Way.CYCLING for leg in group.legs)
    ground = "" if footing is None else (SURFACE if by_bike else GROUND)[footing]
    edges = "" if exposure is None else EDGES[exposure]
    return sentence(day, telling.speech.word(ground), telling.speech.word(edges))


def _facts_of(telling: Telling, group: GroupFigures) -> list[StageWay]:
    stages = [(leg, telling.catalogue.get(Stage, leg.leg.stage)) for leg in group.legs]
    ways = [stage.on(leg.leg.way) for leg, stage in stages if stage is not None]
    return [way for way in ways if way is not None]


def _worst(scale: type[Scale], said: list[Scale | None]) -> Scale | None:
    """The worst of a scale that is ordered from easy to hard; None where anything is unknown."""
    order = list(scale)
    known = [each for each in said if each is not None]
    return max(known, key=order.index) if known and len(known) == len(said) else None


def _kind(group: GroupFigures) -> str:
    return "mixed" if len(group.ways) > 1 else next((way.value for way in group.ways), "")


def _legs(telling: Telling, group: GroupFigures) -> Iterator[LegTold]:
    """Each stage; one that is taken a second time isn't described twice."""
    described: set[Ref] = set()
    for leg in group.legs:
        yield _leg(telling, leg, again=leg.leg.stage in described)
        described.add(leg.leg.stage)


def _leg(telling: Telling, leg: LegFigures, *, again: bool) -> LegTold:
    stage = telling.catalogue.get(Stage, leg.leg.stage)
    wording, say = telling.speech.wording, telling.speech.say
    how = say(
        "{way}, {length}, {up} ascent, {down} descent, about {time}",
        way=telling.way_of(leg),
        length=wording.length(leg.distance_m),
        up=wording.height(leg.ascent_m),
        down=wording.height(leg.descent_m),
        time=wording.duration(leg.moving_s),
    )
    if again:
        back = say("Back by the same route.") if leg.leg.backward else say("The same route again.")
        return LegTold(name=leg.stage_name, how=begun(how), paragraphs=(back,))
    return LegTold(
        name=leg.stage_name,
        how=begun(how),
        paragraphs=paragraphs(_as_travelled(telling, leg), "" if stage is None else stage.text),
        highlights=() if stage is None else stage.highlights,
        picture_key=next(iter(stage.picture_ids), "") if stage is not None else "",
    )


def _as_travelled(telling: Telling, leg: LegFigures) -> str:
    """What differs from the stage as it is described: its direction, and that it is only a part."""
    say, travelled = telling.speech.say, leg.leg
    cut = travelled.cut_from_m is not None or travelled.cut_to_m is not None
    if not cut and not travelled.backward:
        return ""
    if cut and travelled.backward:
        return say("You follow part of this stage; it is described in the opposite direction.")
    if cut:
        return say("You follow part of this stage.")
    return say("This stage is described in the opposite direction.")


def _steps(telling: Telling, group: GroupFigures) -> Iterator[str]:
    if group.departs_s is None:
        return
    for step in group.steps:
        said = _step(telling, step)
        if said:
            yield f"{telling.speech.about(step.starts_s)}  {said}"
    yield f"{telling.speech.about(group.done_s)}  " + _there(telling, group)


def _there(telling: Telling, group: GroupFigures) -> str:
    place = telling.place(group.end_place)
    return telling.speech.say("Arrival in {place}", place=place) if place else telling.speech.say("Arrival")


def _step(telling: Telling, step: Step) -> str:
    item, say = step.item, telling.speech.say
    if isinstance(item, Leg):
        stage = telling.catalogue.get(Stage, item.stage)
        return "" if stage is None else stage.name
    if isinstance(item, Ride):
        return ride_said(telling, item)
    if isinstance(item, Visit):
        return say("Visit: {name}", name=item.name)
    return ""


def ride_said(telling: Telling, ride: Ride) -> str:
    """'By taxi from Oster to Port Verrin (Bell taxi)'."""
    service = None if ride.transfer is None else telling.catalogue.get(Transfer, ride.transfer)
    begins, ends = telling.place(ride.from_place), telling.place(ride.to_place)
    if service is None:
        return telling.speech.say("Transfer from {begins} to {ends}", begins=begins, ends=ends)
    said = telling.speech.say(
        "{how} from {begins} to {ends} ({name})",
        how=telling.speech.word(CARRIERS[service.carrier]), begins=begins, ends=ends, name=service.name,
    )  # fmt: skip
    return begun(said)
