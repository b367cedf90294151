"""No day longer, farther or higher than each guest wishes, or than the house allows."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lacet.checks.case import DayCase, Ground
from lacet.checks.making import group_finding
from lacet.checks.mending import begin_at_pickup, cut_at_pickup, other_stages, take_the_other_way
from lacet.checks.words import guests
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import Text, marked, to_say
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import Kept
from lacet.trip.words import Way

ID = "day_within_limits"
SAYS = "Length, climb and moving time of a day stay within each guest's own limits, else the house's."

MOST_SHARE = 10.0


class Measure(NamedTuple):
    """One figure of a guest's day beside its limit; `own` says that the guest named the limit."""

    code: str
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


_OVER = {
    ("walking", True): marked(
        "{who:begun}: {figure:length} on foot, their own limit is {limit:length}. Shorten the "
        "day or split it."
    ),
    ("walking", False): marked(
        "{who:begun}: {figure:length} on foot, the office's limit is {limit:length}. Shorten the "
        "day or split it."
    ),
    ("cycling", True): marked(
        "{who:begun}: {figure:length} by bike, their own limit is {limit:length}. Shorten the "
        "day or split it."
    ),
    ("cycling", False): marked(
        "{who:begun}: {figure:length} by bike, the office's limit is {limit:length}. Shorten the "
        "day or split it."
    ),
    ("ascent", True): marked(
        "{who:begun}: {figure:height} of climb, their own limit is {limit:height}. Shorten the "
        "day or split it."
    ),
    ("ascent", False): marked(
        "{who:begun}: {figure:height} of climb, the office's limit is {limit:height}. Shorten "
        "the day or split it."
    ),
    ("moving", True): marked(
        "{who:begun}: {figure:duration} moving, their own limit is {limit:duration}. Shorten the "
        "day or split it."
    ),
    ("moving", False): marked(
        "{who:begun}: {figure:duration} moving, the office's limit is {limit:duration}. Shorten "
        "the day or split it."
    ),
}
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
            key = (measure.code, measure.limit)
            over.setdefault(key, []).append(who)
            worst[key] = max(measure, worst.get(key, measure), key=lambda each: each.figure)
    for key, travellers in over.items():
        measure = worst[key]
        says = to_say(
            _OVER[measure.code, measure.own],
            who=guests(case, travellers),
            figure=measure.figure,
            limit=measure.limit,
        )
        hardest = max(group.legs, key=lambda leg: leg.moving_s)
        keep_m = hardest.distance_m - (1.0 - measure.limit / measure.figure) * group.distance_m
        yield group_finding(
            ID,
            "over",
            Level.STOP if measure.own or measure.share > case.rules.far_over_share else Level.WARN,
            day,
            group,
            says,
            {"measure": measure.code, "over": travellers},
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


_AMOUNT = {
    "walking": marked("{figure:length} on foot ({limits})"),
    "cycling": marked("{figure:length} by bike ({limits})"),
    "ascent": marked("{figure:height} of climb ({limits})"),
    "moving": marked("{figure:duration} moving ({limits})"),
}
_LIMIT = {
    "m": (marked("at most {limit:length}"), marked("at most {limit:length} for {who}")),
    "m of climb": (marked("at most {limit:height}"), marked("at most {limit:height} for {who}")),
    "s": (marked("at most {limit:duration}"), marked("at most {limit:duration} for {who}")),
}


def over_in_one(findings: Sequence[Finding]) -> Text:
    """One sentence of all that is too much on one day: each figure once, with the limits it breaks."""
    amounts: dict[tuple[str, float | None], list[Finding]] = {}
    for each in findings:
        (code,) = (about.id for about in each.subject if about.kind == "measure")
        amounts.setdefault((code, each.figure), []).append(each)
    return to_say(
        "Too much for one day: {over:lines}. Shorten the day or split it.",
        over=tuple(
            to_say(_AMOUNT[code], figure=figure, limits=tuple(_limits(found)))
            for (code, figure), found in amounts.items()
        ),
    )


def _limits(found: Sequence[Finding]) -> Iterator[Text]:
    for each in found:
        who = each.says.named["who"]
        everybody = len(found) == 1 and isinstance(who, Text)
        yield to_say(_LIMIT[each.unit][0 if everybody else 1], limit=each.limit, who=who)


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
        for code, field, figure, house, unit in shared:
            yield who, _measure(code, figure, getattr(limits, field), house, unit)
        yield who, _measure("moving", own_s, limits.moving_s, case.rules.moving_limit_s, "s")


def _shared(rules: HouseRules, group: GroupFigures) -> Iterator[tuple[str, str, float, float, str]]:
    """Code, field of a guest's limits, figure, house limit, unit: what is the same for the whole group."""
    lengths_m = dict.fromkeys(Way, 0.0)
    for leg in group.legs:
        lengths_m[leg.leg.way] += leg.distance_m
    electric = any(leg.batteries for leg in group.legs)
    climbs_m = []
    if lengths_m[Way.WALKING]:
        climbs_m.append(rules.walking_ascent_limit_m)
        yield "walking", "walking_m", lengths_m[Way.WALKING], rules.walking_limit_m, "m"
    if lengths_m[Way.CYCLING]:
        climbs_m.append(rules.ebike_ascent_limit_m if electric else rules.cycling_ascent_limit_m)
        house_m = rules.ebike_limit_m if electric else rules.cycling_limit_m
        yield "cycling", "cycling_m", lengths_m[Way.CYCLING], house_m, "m"
    if group.ascent_m is not None and climbs_m:
        yield "ascent", "ascent_m", group.ascent_m, max(climbs_m), "m of climb"


def _measure(code: str, figure: float, own: float | None, house: float, unit: str) -> Measure:
    return Measure(code, figure, house if own is None else own, unit, own is not None)
