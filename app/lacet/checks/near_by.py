"""From the end of the stage to the house, and from the house to dinner, on foot without a second thought."""

from collections.abc import Iterator

from lacet.checks.beds import house_of
from lacet.checks.case import Case
from lacet.checks.kitchens import dinner_of
from lacet.checks.making import group_finding, place_of
from lacet.checks.words import kilometres
from lacet.figures.values import DayFigures, GroupFigures
from lacet.tracks.geodesy import distance_m
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Lodging, Place, Restaurant

ID = "near_by"
SAYS = "The lodging is near the stage's end, the dinner near the lodging; else a transfer is needed."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        house = house_of(case, day.number, group.travellers[0])
        if house is None or day.number == len(case.figures.days):
            continue
        end = place_of(case, group.end_place)
        if group.legs and end is not None and end.id == house.place:
            yield from _far(
                case, day, group, end, house, f"from the end of the stage to {house.name}", "house"
            )
        dinner = dinner_of(case, day.number, group.travellers[0])
        kitchen = case.catalogue.get(Restaurant, dinner.restaurant) if dinner and dinner.restaurant else None
        if kitchen is not None:
            yield from _far(
                case, day, group, house, kitchen, f"from {house.name} to {kitchen.name}", "dinner"
            )


def _far(
    case: Case,
    day: DayFigures,
    group: GroupFigures,
    here: Place | Lodging,
    there: Lodging | Restaurant,
    what: str,
    about: str,
) -> Iterator[Finding]:
    away_m = distance_m((here.latitude_deg, here.longitude_deg), (there.latitude_deg, there.longitude_deg))
    if away_m > case.rules.near_m:
        says = f"{kilometres(away_m)} {what}, as the crow flies. Arrange a lift, or tell them."
        yield group_finding(
            ID, Level.WARN, day, group, says, about, figure=away_m, limit=case.rules.near_m, unit="m"
        )
