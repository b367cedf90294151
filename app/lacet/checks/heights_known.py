"""Times and batteries rest on known heights; where they are missing the day is not proved."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import group_finding
from lacet.trip.finding import Finding, Level

ID = "heights_known"
SAYS = "Every leg's stage is in the library and its heights are known; else the day is not proved."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        for stage_id in group.missing:
            says = f"The library lacks stage '{stage_id}' or its track: the day is not proved. Take it in."
            yield group_finding(ID, Level.WARN, day, group, says, f"missing {stage_id}", unknown=True)
        for leg in group.legs:
            if leg.assumed_flat or leg.ascent_m is None:
                says = (
                    f"Heights of {leg.stage_name} are missing: time and battery are reckoned as if level. "
                    "Fill them from an elevation raster."
                )
                yield group_finding(ID, Level.WARN, day, group, says, leg.leg.id, unknown=True)
