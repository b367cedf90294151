"""Guests are at their lodging with daylight to spare."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import group_finding
from lacet.checks.mending import cut_at_pickup, other_stages, set_out_earlier, take_the_other_way
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import marked, to_say
from lacet.trip.finding import Finding, Level

ID = "done_by_sunset"
SAYS = (
    "Days on foot or by bike end before sunset: a stop with less than an hour to spare, a warning under two."
)
NO_ZONE = to_say(
    "The time zone isn't set, so nobody can tell when the sun sets. Set it under 'Region' in the settings."
)
_LATE = marked(
    "Done by {done_s:clock}, sunset {sunset_s:clock}: {left_s:duration} of daylight left. "
    "Set out earlier or shorten it."
)
_DARK = marked("Done by {done_s:clock}, sunset {sunset_s:clock}: after dark. Set out earlier or shorten it.")
SOURCE = "common practice: plan to finish one to two hours before sunset; no official figure"


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if not group.legs or group.done_s is None or day.polar == "day":
            continue
        if case.catalogue.region.zone is None:
            yield group_finding(
                ID, "no_zone", Level.NOTE, day, group, NO_ZONE, unit="s", source=SOURCE, unknown=True
            )
        elif day.polar == "night":
            says = to_say("The sun doesn't rise that day. Choose another season, or leave the stage out.")
            yield group_finding(ID, "no_sun", Level.STOP, day, group, says, source=SOURCE)
        elif day.sunset_s is None:
            says = to_say("Without a date or month nobody can tell when the sun sets. Name at least a month.")
            yield group_finding(
                ID, "no_date", Level.NOTE, day, group, says, unit="s", source=SOURCE, unknown=True
            )
        else:
            yield from _judge(case, day, group, group.done_s, day.sunset_s)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, done_s: float, sunset_s: float
) -> Iterator[Finding]:
    spare_s = sunset_s - done_s
    rules = case.rules
    if spare_s >= rules.sunset_warn_s:
        return
    level = Level.STOP if spare_s < rules.sunset_stop_s else Level.WARN
    says = to_say(
        _LATE if spare_s > 0 else _DARK,
        done_s=done_s,
        sunset_s=sunset_s,
        left_s=spare_s,
    )
    missing_s = rules.sunset_warn_s - spare_s
    last = group.legs[-1]
    keep_m = last.distance_m * (1.0 - missing_s / max(last.ends_s - last.starts_s, 1.0))
    more: dict[str, Any] = {
        "figure": spare_s,
        "limit": rules.sunset_stop_s if level is Level.STOP else rules.sunset_warn_s,
        "unit": "s",
        "worse_is_more": False,
        "source": SOURCE,
        "fixes": (
            *set_out_earlier(case, day, group, missing_s),
            *take_the_other_way(case, day),
            *other_stages(case, last, most=1),
            *cut_at_pickup(case, last, keep_m),
        ),
    }
    yield group_finding(ID, "late", level, day, group, says, **more)
