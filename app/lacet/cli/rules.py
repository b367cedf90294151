"""`lacet rules`: every published rule on one stage, beside each other."""

import argparse
from typing import Any

from lacet.cli.telling import hours, kilometres, metres, print_json, print_table, say
from lacet.effort.comparison import EnergyRow, RuleRow, energies_beside, rules_beside
from lacet.effort.leg import Walker
from lacet.figures.by_itself import BatteryReach, StageGrade, battery_reaches, stage_grades
from lacet.figures.leg import leg_profile
from lacet.service.opening import NotFound, project_at
from lacet.tracks.profile import Profile
from lacet.trip.library import Stage
from lacet.trip.words import Way

WAYS = {Way.WALKING: "on foot", Way.CYCLING: "by bike"}


def rules(arguments: argparse.Namespace) -> None:
    """All rules on one stage, in its own direction."""
    with project_at(arguments.project) as project:
        house = project.house_rules()
        catalogue = project.catalogue()
        stage = _stage(catalogue.current(Stage), arguments.stage)
        line = leg_profile(catalogue.tracks[stage.track_id], False, None, None)
    assert line is not None, "a whole stage has a profile"
    times = rules_beside(line.distance_m, line.height_m, ascent_m=line.ascent_m, descent_m=line.descent_m)
    energies = energies_beside(
        line.distance_m, line.height_m, Walker(), ascent_m=line.ascent_m, descent_m=line.descent_m
    )
    grades, reaches = stage_grades(stage, line, house), battery_reaches(stage, line, catalogue, house)
    if arguments.json:
        print_json(_plain(stage, times, energies, grades, reaches))
    else:
        _tell(stage, line, times, energies, grades, reaches)


def _plain(
    stage: Stage,
    times: tuple[RuleRow, ...],
    energies: tuple[EnergyRow, ...],
    grades: tuple[StageGrade, ...],
    reaches: tuple[BatteryReach, ...],
) -> dict[str, Any]:
    return {
        "stage": stage.id,
        "name": stage.name,
        "rules": [
            {"name": row.name, "source": row.source, "moving_s": row.seconds, "needs": row.needs,
             "note": row.note}
            for row in times
        ],
        "energies": [
            {"name": row.name, "source": row.source, "energy_kj": row.energy_kj, "note": row.note}
            for row in energies
        ],
        "grades": [
            {"way": each.way.value, "grade": each.graded.grade.value, "decided_by": each.graded.decided_by,
             "says": each.says}
            for each in grades
        ],
        "battery_ranges": [
            {"bike": each.bike, "battery_wh": each.battery_wh, "assist": each.assist, "range_m": each.range_m}
            for each in reaches
        ],
    }  # fmt: skip


def _tell(
    stage: Stage,
    line: Profile,
    times: tuple[RuleRow, ...],
    energies: tuple[EnergyRow, ...],
    grades: tuple[StageGrade, ...],
    reaches: tuple[BatteryReach, ...],
) -> None:
    climb = f"up {metres(line.ascent_m)}, down {metres(line.descent_m)}"
    say(f"{stage.name}: {kilometres(line.length_m)}, {climb}")
    for each in grades:
        decided = " and ".join(each.graded.decided_by)
        say(f"As a day {WAYS[each.way]}: {each.graded.grade.value}, by its {decided}. {each.says}")
    print_table(
        "", ("Rule", "Moving", "Source", "Note"),
        ((row.name, hours(row.seconds), row.source, row.note) for row in times), right=(1,),
    )  # fmt: skip
    print_table(
        f"\nEnergy on foot with {Walker().mass_kg:.0f} kg", ("Rule", "kJ", "Source", "Note"),
        ((row.name, f"{row.energy_kj:.0f}", row.source, row.note) for row in energies), right=(1,),
    )  # fmt: skip
    if reaches:
        print_table(
            "\nHow far a full battery goes on such ground",
            ("Bike", "Battery", "Assist", "Range"),
            ((each.bike, f"{each.battery_wh:.0f} Wh", each.assist, _reach(each))
             for each in reaches),
            right=(1, 3),
        )  # fmt: skip
    say("\nEstimates for planning: times without stops, ranges on asphalt down to the reserve.")


def _reach(reach: BatteryReach) -> str:
    return "pushed in places" if reach.range_m is None else kilometres(reach.range_m)


def _stage(known: tuple[Stage, ...], named: str) -> Stage:
    for stage in known:
        if named.casefold() in (stage.id.casefold(), stage.name.casefold()):
            return stage
    raise NotFound(
        "The library has no stage called '{named}'; 'lacet stages PROJECT' lists them.", named=named
    )
