"""No day longer, farther or higher than each guest wishes, or than the house allows."""

from collections.abc import Iterator
from dataclasses import dataclass

from lacet.checks.case import Case
from lacet.checks.making import group_finding
from lacet.checks.mending import cut_at_pickup, other_stages, take_the_other_way
from lacet.checks.words import begun, duration, guests, kilometres, metres
from lacet.figures.values import DayFigures, GroupFigures
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.party import Traveller
from lacet.trip.words import Way

ID = "day_within_limits"
SAYS = "Length, climb and moving time of a day stay within each guest's own limits, else the house's."


@dataclass(frozen=True, slots=True)
class Measure:
    """One figure of a guest's day beside its limit; `own` says that the guest named the limit."""

    name: str
    figure: float
    limit: float
    unit: str
    own: bool

    @property
    def share(self) -> float:
        return self.figure / self.limit


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        if group.legs:
            yield from _judge(case, day, group)


def _judge(case: Case, day: DayFigures, group: GroupFigures) -> Iterator[Finding]:
    over: dict[tuple[str, float], list[str]] = {}
    worst: dict[tuple[str, float], Measure] = {}
    for who in group.travellers:
        for measure in measures(case.traveller(who), group, case.rules):
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
            ),
        )


def measures(guest: Traveller, group: GroupFigures, rules: HouseRules) -> Iterator[Measure]:
    """What a guest's day amounts to beside the limits that hold for them."""
    own = guest.limits
    lengths = {way: sum(leg.distance_m for leg in group.legs if leg.leg.way is way) for way in Way}
    electric = any(leg.batteries for leg in group.legs)
    if lengths[Way.WALKING]:
        yield _measure("on foot", lengths[Way.WALKING], own.walking_m, rules.walking_limit_m, "m")
    if lengths[Way.CYCLING]:
        house_m = rules.ebike_limit_m if electric else rules.cycling_limit_m
        yield _measure("by bike", lengths[Way.CYCLING], own.cycling_m, house_m, "m")
    if group.ascent_m is not None:
        climbs = [rules.walking_ascent_limit_m] if lengths[Way.WALKING] else []
        climbs += [rules.ebike_ascent_limit_m if electric else rules.cycling_ascent_limit_m] * bool(
            lengths[Way.CYCLING]
        )
        yield _measure("of climb", group.ascent_m, own.ascent_m, max(climbs), "m of climb")
    moving_s = sum(dict(leg.moving_s_of)[guest.id] for leg in group.legs)
    yield _measure("moving", moving_s, own.moving_s, rules.moving_limit_s, "s")


def _measure(name: str, figure: float, own: float | None, house: float, unit: str) -> Measure:
    return Measure(name, figure, house if own is None else own, unit, own is not None)


def _said(measure: Measure, value: float) -> str:
    if measure.unit == "s":
        return duration(value)
    return kilometres(value) if measure.unit == "m" else metres(value)
