"""What drawings show, in words, for those who can't see them."""

from collections.abc import Iterable, Sequence

from lacet.figures.values import GroupFigures, LegFigures, VariantFigures
from lacet.language import Language, marked
from lacet.trip.catalogue import Catalogue
from lacet.trip.words import Way

WAYS = {Way.WALKING: marked("on foot"), Way.CYCLING: marked("by bike")}


def ways_said(ways: Iterable[Way], speech: Language) -> str:
    """'on foot and by bike'."""
    return speech.listed([speech.word(WAYS[way]) for way in dict.fromkeys(ways)])


def trip_map_alt(figures: VariantFigures, catalogue: Catalogue, speech: Language) -> str:
    """'Map of the whole trip: 34.0 km on foot and 61.2 km by bike. Day 1 ends at Port Verrin, ...'."""
    totals, wording = figures.totals, speech.wording
    parts = [
        speech.say("{length} {way}", length=wording.length(length_m), way=speech.word(WAYS[way]))
        for way, length_m in ((Way.WALKING, totals.walking_m), (Way.CYCLING, totals.cycling_m))
        if length_m
    ]
    head = speech.say("Map of the whole trip")
    told = f"{head}: {speech.listed(parts)}." if parts else f"{head}."
    if any(len(day.groups) > 1 for day in figures.days):
        told = " ".join(
            (told, speech.say("Where the group splits, both routes are drawn and the longer one counts."))
        )
    nights = [
        speech.say(
            "day {number} ends at {place}", number=day.number, place=catalogue.place_name(day.group.end_place)
        )
        for day in figures.days
        if day.group is not None and day.group.end_place
    ]
    ends = ", ".join(nights)
    return f"{told} {ends[:1].upper()}{ends[1:]}." if nights else told


def day_map_alt(number: int, group: GroupFigures, catalogue: Catalogue, speech: Language) -> str:
    """'Map of day 4: by bike from Ciderfold to Brack Harbour, 34.0 km.'."""
    return speech.say("Map of day {number}: {way}.", number=number, way=_way(group.legs, catalogue, speech))


def leg_map_alt(leg: LegFigures, catalogue: Catalogue, speech: Language, marks: int) -> str:
    """'Map of the way: on foot from Oster to Low Weir, 7.2 km, with 12 numbered directions.'."""
    way = _way((leg,), catalogue, speech)
    if not marks:
        return speech.say("Map of the route: {way}.", way=way)
    numbered = speech.many("one numbered direction", "{count} numbered directions", marks)
    return speech.say("Map of the route: {way}, with {numbered}.", way=way, numbered=numbered)


def _way(legs: Sequence[LegFigures], catalogue: Catalogue, speech: Language) -> str:
    how = ways_said((leg.leg.way for leg in legs), speech)
    length = speech.wording.length(sum(leg.distance_m for leg in legs))
    begins, ends = legs[0].from_place, legs[-1].to_place
    if begins is None or ends is None:
        return speech.say("{how}, {length}", how=how, length=length)
    named = {"begins": catalogue.place_name(begins), "ends": catalogue.place_name(ends)}
    if begins == ends:
        return speech.say("{how}, a circuit from {begins}, {length}", how=how, length=length, **named)
    return speech.say("{how} from {begins} to {ends}, {length}", how=how, length=length, **named)


def profile_alt(head: str, legs: Sequence[LegFigures], speech: Language) -> str:
    """'Height profile of day 4: 34.0 km, up 610 m, down 820 m, between 40 m and 720 m.'."""
    wording = speech.wording
    length = wording.length(sum(leg.distance_m for leg in legs))
    lows = [leg.lowest_m for leg in legs if leg.lowest_m is not None]
    highs = [leg.highest_m for leg in legs if leg.highest_m is not None]
    if not lows or any(leg.ascent_m is None or leg.descent_m is None for leg in legs):
        return speech.say("{head}: {length}; not all heights are known.", head=head, length=length)
    return speech.say(
        "{head}: {length}, {up} ascent, {down} descent, between {low} and {high} above sea level.",
        head=head,
        length=length,
        up=wording.height(sum(leg.ascent_m or 0.0 for leg in legs)),
        down=wording.height(sum(leg.descent_m or 0.0 for leg in legs)),
        low=wording.height(min(lows)),
        high=wording.height(max(highs)),
    )
