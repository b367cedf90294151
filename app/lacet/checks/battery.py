"""Every battery has something left at the end of the day."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding, other_stages, take_the_shorter_way
from lacet.checks.words import kilometres, share
from lacet.figures.values import DayFigures, GroupFigures, LegFigures, RiderBattery
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Bike, Lodging, Ref
from lacet.trip.trip import Hire, Leg

ID = "battery"
SAYS = (
    "A battery ends the day with its reserve (stop under a tenth, warning under a fifth); then it is charged."
)


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        for leg in group.legs:
            for battery in leg.batteries:
                yield from _judge(case, day, group, leg, battery)
        yield from _charged(case, day, group)


def _judge(
    case: Case, day: DayFigures, group: GroupFigures, leg: LegFigures, battery: RiderBattery
) -> Iterator[Finding]:
    rules = case.rules
    if battery.left_share >= rules.battery_reserve_share:
        return
    level = Level.STOP if battery.left_share < rules.battery_stop_share else Level.WARN
    limit = rules.battery_stop_share if level is Level.STOP else rules.battery_reserve_share
    where = battery.under_reserve_at_m
    after = f", under the reserve after {kilometres(where)}" if where is not None else ""
    who = case.trip.party.name_of(battery.traveller)
    says = (
        f"{who}'s battery ends {leg.stage_name} with {share(battery.left_share)}{after}. "
        "A lower assist, a larger battery or a shorter ride helps."
    )
    yield group_finding(
        ID,
        level,
        day,
        group,
        says,
        f"{leg.leg.id} {battery.traveller}",
        figure=battery.left_share,
        limit=limit,
        unit="share",
        worse_is_more=False,
        fixes=(
            *_lower_assist(case, leg),
            *_larger_battery(case, day, battery),
            *take_the_shorter_way(case, day),
            *other_stages(case, leg, most=1),
        ),
    )


def _lower_assist(case: Case, leg: LegFigures) -> tuple[Fix, ...]:
    """The next lower level, for all who ride."""
    bike = _bike_of(case, leg.leg, leg.batteries[0].traveller)
    if bike is None or not bike.assists:
        return ()
    levels = sorted(bike.assists, key=lambda each: each.share)
    used = next((index for index, each in enumerate(levels) if each.name == leg.leg.assist), 0)
    if used == 0:
        return ()
    lower = levels[used - 1].name
    return (fix(f"Assist {lower}", edits.set_assist, case, leg.leg.id, lower),)


def _larger_battery(case: Case, day: DayFigures, battery: RiderBattery) -> tuple[Fix, ...]:
    """The smallest battery of the library that is larger and whose bike fits the rider."""
    hire = _hire_of(case, battery.traveller, day.number)
    now = case.catalogue.get(Bike, hire.bike) if hire and hire.bike else None
    if hire is None or now is None:
        return ()
    height = case.traveller(battery.traveller).height_cm
    larger = [
        bike
        for bike in case.catalogue.current(Bike)
        if (bike.battery_wh or 0.0) > (now.battery_wh or 0.0)
        and bike.kind is now.kind
        and _fits(bike, height)
    ]
    if not larger:
        return ()
    chosen = min(larger, key=lambda bike: bike.battery_wh or 0.0)
    renewed = Hire(
        traveller=hire.traveller,
        bike=Ref(chosen.id, chosen.version),
        from_day=hire.from_day,
        to_day=hire.to_day,
        extras=hire.extras,
        payer=hire.payer,
    )
    return (
        fix(f"{chosen.name} for {case.trip.party.name_of(hire.traveller)}", edits.set_hire, case, renewed),
    )


def _charged(case: Case, day: DayFigures, group: GroupFigures) -> Iterator[Finding]:
    """Where a battery was used and is needed again tomorrow, the house must charge it."""
    tomorrow = case.figures.days[day.number : day.number + 1]
    for who in group.travellers:
        if not _rides(tomorrow, who) or not any(
            battery.traveller == who for leg in group.legs for battery in leg.batteries
        ):
            continue
        night = night_of(case.day(day.number), who)
        house = case.catalogue.get(Lodging, night.lodging) if night else None
        if house is None or house.charging:
            continue
        unknown = house.charging is None
        name = case.trip.party.name_of(who)
        how = "has not said whether it charges" if unknown else "does not charge"
        says = f"{house.name} {how} batteries; {name} rides on tomorrow. Ask, or sleep elsewhere."
        yield group_finding(ID, Level.WARN, day, group, says, f"charging {who}", unknown=unknown)


def _rides(days: tuple[DayFigures, ...], who: str) -> bool:
    return any(
        battery.traveller == who
        for day in days
        for group in day.groups
        for leg in group.legs
        for battery in leg.batteries
    )


def _bike_of(case: Case, leg: Leg, who: str) -> Bike | None:
    if leg.bike is not None:
        return case.catalogue.get(Bike, leg.bike)
    hires = (hire for hire in case.variant.hires if hire.traveller == who and hire.bike is not None)
    refs = (hire.bike for hire in hires)
    return next((case.catalogue.get(Bike, ref) for ref in refs if ref is not None), None)


def _hire_of(case: Case, who: str, number: int) -> Hire | None:
    for hire in case.variant.hires:
        if (
            hire.traveller == who
            and hire.from_day <= number
            and (hire.to_day is None or number <= hire.to_day)
        ):
            return hire
    return None


def _fits(bike: Bike, height_cm: float | None) -> bool:
    if height_cm is None:
        return True
    low, high = bike.rider_height_from_cm or 0.0, bike.rider_height_to_cm or 999.0
    return low <= height_cm <= high
