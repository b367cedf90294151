"""No day longer, farther or higher than each guest wishes, or than the house allows."""

from collections.abc import Iterator
from typing import NamedTuple

from lacet.checks.case import DayCase, Ground
from lacet.checks.making import group_finding
from lacet.checks.mending import begin_at_pickup, cut_at_pickup, other_stages, take_the_other_way
from lacet.checks.words import begun, duration, guests, kilometres, metres
from lacet.figures.values import DayFigures, GroupFigures
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import Kept
from lacet.trip.words import Way

ID = "day_within_limits"
SAYS = "Length, climb and moving time of a day stay within each guest's own limits, else the house's."

MOST_SHARE = 10.0


class Measure(NamedTuple):
    """One figure of a guest's day beside its limit; `own` says that the guest named the limit."""

    name: str
    figure: float
    limit: float
    unit: str
    own: bool

    @property
    def share(self) -> float:
        """Share of the limit; a guest who wishes none at all of it is as far over as is told."""
        if self.limit > 0.0:
            return min(self.figure / self.limit, MOST_SHARE)
        return MOST_SHARE if self.figure > 0.0 else 0.0


_MEASURES: Kept[tuple[tuple[str, Measure], ...]] = Kept(2048)


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if group.legs:
            yield from _judge(case, day, group)


def _judge(case: DayCase, day: DayFigures, group: GroupFigures) -> Iterator[Finding]:
    over: dict[tuple[str, float], list[str]] = {}
    worst: dict[tuple[str, float], Measure] = {}
    for who, measure in measures(case, group):
        if measure.figure > measure.limit:
            key = (measure.name, measure.limit)
            over.setdefault(key, []).append(who)
            worst[key] = max(measure, worst.get(key, measure), key=lambda each: each.figure)
    for key, travellers in over.items():
        measure = worst[key]
        whose = "their own limit" if measure.own else "the house's limit"
        says = (
            f"{begun(guests(case, travellers))}: {_said(measure, measure.figure)} {measure.name}, "
            f"{whose} is {_said(measure, measure.limit)}. Shorten the day or part it."
        )
        hardest = max(group.legs, key=lambda leg: leg.moving_s)
        keep_m = hardest.distance_m - (1.0 - measure.limit / measure.figure) * group.distance_m
        yield group_finding(
            ID,
            Level.STOP if measure.own or measure.share > case.rules.far_over_share else Level.WARN,
            day,
            group,
            says,
            f"{measure.name} {' '.join(travellers)}",
            figure=measure.figure,
            limit=measure.limit,
            unit=measure.unit,
            source="the guest's own wish" if measure.own else COMMON_PRACTICE,
            fixes=(
                *take_the_other_way(case, day),
                *other_stages(case, hardest),
                *cut_at_pickup(case, hardest, keep_m),
                *begin_at_pickup(case, hardest, keep_m),
            ),
        )


def measures(case: Ground, group: GroupFigures) -> tuple[tuple[str, Measure], ...]:
    """What each guest's day amounts to beside the limits that hold for them."""
    rests_on = (group, case.trip.party, case.rules)
    return _MEASURES.get(case.catalogue, rests_on, None, lambda: tuple(_measures(case, group)))


def _measures(case: Ground, group: GroupFigures) -> Iterator[tuple[str, Measure]]:
    shared = tuple(_shared(case.rules, group))
    moving_s = dict.fromkeys(group.travellers, 0.0)
    for leg in group.legs:
        for who, own_s in leg.moving_s_of:
            moving_s[who] += own_s
    for who, own_s in moving_s.items():
        limits = case.traveller(who).limits
        for name, field, figure, house, unit in shared:
            yield who, _measure(name, figure, getattr(limits, field), house, unit)
        yield who, _measure("moving", own_s, limits.moving_s, case.rules.moving_limit_s, "s")


def _shared(rules: HouseRules, group: GroupFigures) -> Iterator[tuple[str, str, float, float, str]]:
    """Name, field of a guest's limits, figure, house limit, unit: what is the same for the whole group."""
    lengths_m = dict.fromkeys(Way, 0.0)
    for leg in group.legs:
        lengths_m[leg.leg.way] += leg.distance_m
    electric = any(leg.batteries for leg in group.legs)
    climbs_m = []
    if lengths_m[Way.WALKING]:
        climbs_m.append(rules.walking_ascent_limit_m)
        yield "on foot", "walking_m", lengths_m[Way.WALKING], rules.walking_limit_m, "m"
    if lengths_m[Way.CYCLING]:
        climbs_m.append(rules.ebike_ascent_limit_m if electric else rules.cycling_ascent_limit_m)
        house_m = rules.ebike_limit_m if electric else rules.cycling_limit_m
        yield "by bike", "cycling_m", lengths_m[Way.CYCLING], house_m, "m"
    if group.ascent_m is not None and climbs_m:
        yield "of climb", "ascent_m", group.ascent_m, max(climbs_m), "m of climb"


def _measure(name: str, figure: float, own: float | None, house: float, unit: str) -> Measure:
    return Measure(name, figure, house if own is None else own, unit, own is not None)


def _said(measure: Measure, value: float) -> str:
    if measure.unit == "s":
        return duration(value)
    return kilometres(value) if measure.unit == "m" else metres(value)
