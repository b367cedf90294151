"""Every battery has something left at the end of the day.

Where a house hasn't said whether it charges, figures are reckoned as if it didn't. A shortage that comes of
nothing else is told as unknown here, and asked about at that house by `charging`.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import Any

from lacet.checks.case import Case, DayCase, Ground
from lacet.checks.charging import unsaid_before
from lacet.checks.making import fix, group_finding
from lacet.checks.mending import cut_at_pickup, other_stages, take_the_other_way
from lacet.figures.values import DayFigures, GroupFigures, LegFigures, RiderBattery
from lacet.language import Text, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Ref
from lacet.trip.trip import Hire, Trip
from lacet.trip.words import BikeKind, Way

ID = "battery"
SAYS = "A battery ends the day with its reserve: a stop under a tenth, a warning under a fifth."
MOST_FIXES = 5
NOTHING = to_say("")


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        for leg in group.legs:
            for battery in leg.batteries:
                yield from _judge(case, day, group, leg, battery)


def check_day(case: DayCase) -> Iterator[Finding]:
    """What of the bikes isn't known: then the battery isn't proved."""
    for day, group in case.groups():
        for leg in group.legs:
            if leg.leg.way is Way.CYCLING:
                yield from _known(case, day, group, leg)


def _judge(
    case: Case, day: DayFigures, group: GroupFigures, leg: LegFigures, battery: RiderBattery
) -> Iterator[Finding]:
    found = _level(case.rules, battery.left_share)
    if found is None:
        return
    level, limit = found
    unsaid = unsaid_before(case, battery.traveller, day.number)
    certain = None if unsaid is None else _level(case.rules, _left_if_charged(group, battery))
    unknown = unsaid is not None and certain is None
    if unsaid is not None:
        level, limit = certain or (Level.WARN, limit)
    says = to_say(
        "{who:begun}'s battery ends {stage} with {left_share:share}{after}{perhaps}. "
        "A lower assist, a larger battery or a shorter ride helps.{cold}",
        who=case.trip.party.name_of(battery.traveller),
        stage=leg.stage_name,
        left_share=battery.left_share,
        after=NOTHING
        if (here_m := battery.under_reserve_at_m) is None
        else to_say(", under the reserve after {here_m:length}", here_m=here_m),
        perhaps=to_say(", unless {lodging} charges it", lodging=unsaid) if unknown else NOTHING,
        cold=at_what_cold(battery),
    )
    more: dict[str, Any] = {
        "figure": battery.left_share,
        "limit": limit,
        "unit": "share",
        "worse_is_more": False,
        "unknown": unknown,
        "fixes": _fixes(case, day, leg, battery)[:MOST_FIXES],
    }
    yield group_finding(
        ID, "runs_low", level, day, group, says, {"leg": leg.leg.id, "guest": battery.traveller}, **more
    )


def at_what_cold(battery: RiderBattery) -> Text:
    """Says it where the unkind case was reckoned, since nobody has said how warm it gets."""
    if battery.temperature_known:
        return NOTHING
    return to_say(
        " Reckoned at {temperature_c:.0f} °C: the month's temperature isn't set in the region.",
        temperature_c=battery.temperature_c,
    )


def _level(rules: HouseRules, left_share: float) -> tuple[Level, float] | None:
    """How much a battery's end weighs, and the limit it is held against; None above the reserve."""
    if left_share < rules.battery_stop_share:
        return Level.STOP, rules.battery_stop_share
    if left_share < rules.battery_reserve_share:
        return Level.WARN, rules.battery_reserve_share
    return None


def _left_if_charged(group: GroupFigures, battery: RiderBattery) -> float:
    """What would be left, had the day begun with a full battery."""
    first = next(each for leg in group.legs for each in leg.batteries if each.traveller == battery.traveller)
    needs = battery.used_wh / battery.usable_wh if battery.usable_wh > 0.0 else 1.0
    return battery.start_share + (1.0 - first.start_share) - needs


def _known(case: DayCase, day: DayFigures, group: GroupFigures, leg: LegFigures) -> Iterator[Finding]:
    for who in group.travellers:
        bike = _bike_of(case, leg, who, day.number)
        if bike is None or bike.kind is not BikeKind.E_BIKE:
            continue
        name = case.trip.party.name_of(who)
        about = {"leg": leg.leg.id, "guest": who}
        if bike.battery_wh is None:
            says = to_say(
                "Nobody has said how large the battery of {bike} is, which {name} rides. Enter it.",
                bike=bike.name,
                name=name,
            )
            yield group_finding(
                ID, "size_unknown", Level.NOTE, day, group, says, about, unit="share", unknown=True
            )
        elif leg.leg.assist is not None and leg.leg.assist not in [each.name for each in bike.assists]:
            says = to_say(
                "{bike}, which {name} rides, has no assist '{assist}'; the lowest is reckoned. Choose "
                "one that it has.",
                bike=bike.name,
                name=name,
                assist=leg.leg.assist,
            )
            yield group_finding(
                ID, "no_such_assist", Level.NOTE, day, group, says, about, unit="share", unknown=True
            )


def _fixes(case: Case, day: DayFigures, leg: LegFigures, battery: RiderBattery) -> tuple[Fix, ...]:
    keep_m = battery.under_reserve_at_m or 0.0
    return (
        *_lower_assist(case, day, leg, battery.traveller),
        *_larger_batteries(case, day, leg, battery),
        *take_the_other_way(case, day),
        *cut_at_pickup(case, leg, keep_m),
        *other_stages(case, leg, most=1),
    )


def _lower_assist(case: Case, day: DayFigures, leg: LegFigures, who: str) -> tuple[Fix, ...]:
    """The next lower level and the lowest, for all who ride."""
    bike = _bike_of(case, leg, who, day.number)
    levels = [] if bike is None else sorted(bike.assists, key=lambda each: each.share)
    used = next((index for index, each in enumerate(levels) if each.name == leg.leg.assist), 0)
    lower = dict.fromkeys(levels[index].name for index in (used - 1, 0) if 0 <= index < used)
    return tuple(
        fix(to_say("Assist {name}", name=name), edits.set_assist, case, leg.leg.id, name) for name in lower
    )


def _larger_batteries(case: Case, day: DayFigures, leg: LegFigures, battery: RiderBattery) -> tuple[Fix, ...]:
    """A larger battery for this rider; and, where others run short too, for all who do."""
    short = [each for each in leg.batteries if _level(case.rules, each.left_share) is not None]
    renewed = {each.traveller: _larger(case, day, leg, each) for each in short}
    own = renewed.get(battery.traveller)
    found = {who: each for who, each in renewed.items() if each is not None}
    fixes = []
    if own is not None:
        hire, bike = own
        says = to_say("{bike} for {who}", bike=bike.name, who=case.trip.party.name_of(hire.traveller))
        fixes.append(fix(says, edits.set_hire, case, hire))
    if len(found) > 1:
        hires = tuple(hire for hire, _ in found.values())
        fixes.append(
            Fix(
                says=to_say("Larger batteries for {riders} riders", riders=len(hires)),
                edit=partial(_hired, case, hires),
            )
        )
    return tuple(fixes)


def _hired(case: Case, hires: tuple[Hire, ...], trip: Trip) -> Trip:
    for hire in hires:
        trip = edits.set_hire(trip, case.variant_id, hire)
    return trip


def _larger(case: Case, day: DayFigures, leg: LegFigures, battery: RiderBattery) -> tuple[Hire, Bike] | None:
    """The smallest battery that would do, else the largest there is, on a bike that fits the rider."""
    hire = _hire_of(case, battery.traveller, day.number)
    now = None if hire is None else _bike_of(case, leg, battery.traveller, day.number)
    if hire is None or now is None or now.battery_wh is None or leg.leg.bike is not None:
        return None
    height_cm = case.traveller(battery.traveller).height_cm
    now_wh = now.battery_wh
    larger = sorted(
        (
            bike
            for bike in case.catalogue.current(Bike)
            if (bike.battery_wh or 0.0) > now_wh and bike.kind is now.kind and _fits(bike, now, height_cm)
        ),
        key=lambda bike: bike.battery_wh or 0.0,
    )
    if not larger:
        return None
    needs = battery.used_wh / battery.usable_wh if battery.usable_wh > 0.0 else 1.0
    enough_wh = now_wh * needs / (1.0 - min(case.rules.battery_reserve_share, 0.99))
    bike = next((bike for bike in larger if (bike.battery_wh or 0.0) >= enough_wh), larger[-1])
    return replace(hire, bike=Ref(bike.id, bike.version)), bike


def _bike_of(case: Ground, leg: LegFigures, who: str, number: int) -> Bike | None:
    hire = _hire_of(case, who, number)
    ref = leg.leg.bike or (None if hire is None else hire.bike)
    return None if ref is None else case.catalogue.get(Bike, ref)


def _hire_of(case: Ground, who: str, number: int) -> Hire | None:
    return next((hire for hire in case.hires_on(number) if hire.traveller == who), None)


def _fits(bike: Bike, now: Bike, height_cm: float | None) -> bool:
    """Whether a bike fits a rider; one whose height nobody has said keeps the size of the present bike."""
    low, high = bike.rider_height_from_cm, bike.rider_height_to_cm
    if height_cm is None:
        return (low, high) == (now.rider_height_from_cm, now.rider_height_to_cm)
    return (low or 0.0) <= height_cm <= (high or 999.0)
