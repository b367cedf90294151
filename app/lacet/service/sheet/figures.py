"""Figure rows: each beside its limit; comfortable ones fade, those over it stand out."""

from lacet.figures.values import DayFigures, GroupFigures
from lacet.service.sheet.cells import Cell
from lacet.trip.house_rules import HouseRules
from lacet.trip.words import Way
from lacet.wording import UNKNOWN, Wording


def distance_cell(day: DayFigures, group: GroupFigures, rules: HouseRules, wording: Wording) -> Cell:
    """Length by way: '13.6 km', or '6.2 + 18.0 km' on a mixed day."""
    parts = {way: sum(leg.distance_m for leg in group.legs if leg.leg.way is way) for way in group.ways}
    limits = {Way.WALKING: rules.walking_limit_m, Way.CYCLING: _cycling_limit_m(group, rules)}
    worst = max(parts[way] / limits[way] for way in parts)
    if len(parts) == 1:
        (way,) = parts
        text = _beside(wording.length(parts[way]), wording.length(limits[way]), worst, rules)
    else:
        text = " + ".join(wording.length(part) for part in parts.values())
    words = {Way.WALKING: "on foot", Way.CYCLING: "by bike"}
    says = ", ".join(
        f"{wording.length(part)} {words[way]} of at most {wording.length(limits[way])}"
        for way, part in parts.items()
    )
    short = "+".join(_bare(wording.length(part)) for part in parts.values())
    return Cell(text, short=short, says=says, tone=_tone(worst, rules))


def climb_cell(day: DayFigures, group: GroupFigures, rules: HouseRules, wording: Wording) -> Cell:
    """Up and down; the limit is the way's that moves longest."""
    if group.ascent_m is None:
        return Cell(UNKNOWN, says="climb unknown: heights are missing", tone="warn")
    limit = rules.walking_ascent_limit_m if Way.WALKING in group.ways else rules.ebike_ascent_limit_m
    share = group.ascent_m / limit
    up, down = wording.height(group.ascent_m), wording.height(group.descent_m)
    says = f"up {up}, down {down}; at most {wording.height(limit)}"
    return Cell(f"{_bare(up)} · {down}", short=_bare(up), says=says, tone=_tone(share, rules))


def time_cell(day: DayFigures, group: GroupFigures, rules: HouseRules, wording: Wording) -> Cell:
    """Moving time without stops, beside its limit when it comes near."""
    said, limit = wording.duration(group.moving_s), wording.duration(rules.moving_limit_s)
    share = group.moving_s / rules.moving_limit_s
    flat = "" if group.known else " (as if level: heights are missing)"
    return Cell(
        _beside(said, limit, share, rules),
        short=said,
        says=f"moving {said} of at most {limit}{flat}",
        tone="warn" if flat else _tone(share, rules),
    )


def clock_cell(day: DayFigures, group: GroupFigures, rules: HouseRules, wording: Wording) -> Cell:
    """When they are done, and when the sun sets."""
    done, sunset = wording.clock(group.done_s), wording.clock(day.sunset_s)
    tone = "quiet"
    if group.done_s is not None and day.sunset_s is not None:
        spare_s = day.sunset_s - group.done_s
        tone = (
            "stop" if spare_s < rules.sunset_stop_s else "warn" if spare_s < rules.sunset_warn_s else "quiet"
        )
    says = f"out at {wording.clock(group.departs_s)}, done by {done}, sunset {sunset}"
    if day.sunset_s is None and day.polar is None:
        says += " (not proved: the date or the region's time zone isn't set)"
    return Cell(f"{done} · {sunset}", short=done, says=says, tone=tone)


def battery_cell(day: DayFigures, group: GroupFigures, rules: HouseRules, wording: Wording) -> Cell:
    """The least any rider has left."""
    left = group.battery_left_share
    if left is None:
        return Cell()
    tone = "quiet"
    if left < rules.battery_reserve_share:
        tone = "stop" if left < rules.battery_stop_share else "warn"
    said = wording.share(left)
    says = f"battery {said} left, reserve {wording.share(rules.battery_reserve_share)}{_at_what_cold(group)}"
    return Cell(said, says=says, tone=tone)


def _at_what_cold(group: GroupFigures) -> str:
    """The temperature that was reckoned with, and that nobody set it where nobody did."""
    for leg in group.legs:
        for battery in leg.batteries:
            whose = "" if battery.temperature_known else ", since the region has no temperature for the month"
            return f", at {battery.temperature_c:.0f} °C{whose}"
    return ""


def _bare(said: str) -> str:
    """'13.6' of '13.6 km': the row's name and its neighbours tell the unit."""
    return said.rpartition(" ")[0]


def _cycling_limit_m(group: GroupFigures, rules: HouseRules) -> float:
    electric = any(leg.batteries for leg in group.legs)
    return rules.ebike_limit_m if electric else rules.cycling_limit_m


def _beside(said: str, limit: str, share: float, rules: HouseRules) -> str:
    """'5 h 25 of 6 h' once it comes near the limit; alone while comfortable."""
    return f"{said} of {limit}" if share >= rules.hard_day_share else said


def _tone(share: float, rules: HouseRules) -> str:
    if share > 1.0:
        return "stop"
    return "ink" if share >= rules.hard_day_share else "quiet"
