"""A battery is charged where the next ride needs more than is left in it.

Counted from the evening of one ride to the next ride of the same guest: a rest day in a house that charges
is as good as the night itself.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.checks.nights import houses_at
from lacet.figures.values import DayFigures, GroupFigures, RiderBattery
from lacet.language import Text, marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Night

ID = "charging"
SAYS = "The house charges batteries where the next ride needs more than is left."
MOST_FIXES = 2
NOT_CHOSEN = to_say("the house nobody has chosen yet")
_UNSAID = marked(
    "{lodging:begun} has not said whether it charges batteries; {who}'s ride on day {number} needs "
    "{needs_share:share} of a full one, {left_share:share} is left. Ask, or sleep elsewhere."
)
_NOT = marked(
    "{lodging:begun} does not charge batteries; {who}'s ride on day {number} needs "
    "{needs_share:share} of a full one, {left_share:share} is left. Ask, or sleep elsewhere."
)


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        ended = {battery.traveller: battery for leg in group.legs for battery in leg.batteries}
        for who, battery in ended.items():
            yield from _judge(case, day, group, who, battery)


def _judge(
    case: Case, day: DayFigures, group: GroupFigures, who: str, battery: RiderBattery
) -> Iterator[Finding]:
    ride = _next_ride(case, who, day.number)
    if ride is None:
        return
    number, needs_share = ride
    nights = [_house(case, who, each) for each in range(day.number, number)]
    if needs_share <= battery.left_share or any(house is not None and house.charging for house in nights):
        return
    unknown = any(house is None or house.charging is None for house in nights)
    house = nights[0]
    says = to_say(
        _UNSAID if house is None or house.charging is None else _NOT,
        lodging=NOT_CHOSEN if house is None else house.name,
        who=case.trip.party.name_of(who),
        number=number,
        needs_share=needs_share,
        left_share=battery.left_share,
    )
    more: dict[str, Any] = {
        "figure": needs_share,
        "limit": battery.left_share,
        "unit": "share",
        "unknown": unknown,
        "fixes": _elsewhere(case, day, who, house),
    }
    yield group_finding(ID, "not_charged", Level.WARN, day, group, says, {"rider": who}, **more)


def _next_ride(case: Case, who: str, number: int) -> tuple[int, float] | None:
    """Day of the guest's next ride on a battery, and the share of a full one that it needs."""
    for day in case.figures.days[number:]:
        used = [
            battery.used_wh / battery.usable_wh if battery.usable_wh > 0.0 else 1.0
            for group in day.groups
            for leg in group.legs
            for battery in leg.batteries
            if battery.traveller == who
        ]
        if used:
            return day.number, sum(used)
    return None


def unsaid_before(case: Case, who: str, number: int) -> Text | str | None:
    """The last house before a day that may have charged a guest's battery but hasn't said so."""
    for before in range(number - 1, 0, -1):
        house = _house(case, who, before)
        if house is None:
            return NOT_CHOSEN
        if house.charging is None:
            return house.name
        if house.charging:
            return None
    return None


def _house(case: Case, who: str, number: int) -> Lodging | None:
    night = night_of(case.day(number), who)
    return None if night is None else case.catalogue.get(Lodging, night.lodging)


def _elsewhere(case: Case, day: DayFigures, who: str, house: Lodging | None) -> tuple[Fix, ...]:
    """Houses in the same place that charge, for those who sleep in this one."""
    night = night_of(case.day(day.number), who)
    if house is None or night is None:
        return ()
    found = [
        other for other in houses_at(case.catalogue, house.place) if other.charging and other.id != house.id
    ]
    return tuple(
        fix(
            to_say("{other}, which charges", other=other.name),
            edits.set_night,
            case,
            day.id,
            _at(night, other),
        )
        for other in found[:MOST_FIXES]
    )


def _at(night: Night, other: Lodging) -> Night:
    """The same night in another house; rooms are chosen anew there."""
    return replace(night, lodging=Ref(other.id, other.version), rooms=(), late_key=False)
