"""Snow may lie on the stage in that season."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import each_leg, group_finding
from lacet.days.seasons import SeasonRefused, season
from lacet.trip.finding import Finding, Level

ID = "snow_possible"
SAYS = "A stage on which snow may lie that day is told, with the date until which it may."


def check(case: Case) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if not stage.snow_season or day.on is None:
            continue
        try:
            covered = season(stage.snow_season).covers(day.on)
        except SeasonRefused:
            continue
        if covered:
            until = stage.snow_season.rpartition("..")[2]
            says = (
                f"Snow possible on {stage.name} to {until}, up to {leg.highest_m or 0:.0f} m. "
                "Ask locally the day before, and have another way ready."
            )
            yield group_finding(ID, Level.WARN, day, group, says, leg.leg.id)
