"""`lacet stages` and `lacet rules`: what the library holds, and every published rule on one stage."""

import argparse

from lacet.cli.choosing import NotFound, project_at
from lacet.cli.telling import hours, kilometres, metres, print_json, print_table, say
from lacet.effort.comparison import rules_beside
from lacet.figures.leg import leg_profile
from lacet.trip.library import Ref, Stage


def stages(arguments: argparse.Namespace) -> None:
    """List the stages, by name."""
    with project_at(arguments.project) as project, project.reading() as unit:
        rows = unit.library.stage_rows()
    if arguments.json:
        print_json(
            [
                {
                    "id": row.id,
                    "name": row.name,
                    "from": row.from_name,
                    "to": row.to_name,
                    "ways": [way.value for way in row.ways],
                    "distance_m": row.distance_m,
                    "ascent_m": row.ascent_m,
                    "descent_m": row.descent_m,
                }
                for row in rows
            ]
        )
        return
    print_table(
        f"{len(rows)} stages",
        ("Id", "Name", "From", "To", "Ways", "Length", "Up", "Down"),
        (
            (row.id, row.name, row.from_name, row.to_name, ", ".join(way.value for way in row.ways),
             kilometres(row.distance_m), metres(row.ascent_m), metres(row.descent_m))
            for row in rows
        ),
        right=(5, 6, 7),
    )  # fmt: skip


def rules(arguments: argparse.Namespace) -> None:
    """All rules on one stage, in its own direction."""
    with project_at(arguments.project) as project:
        catalogue = project.catalogue()
        stage = _stage(catalogue.current(Stage), arguments.stage)
        line = leg_profile(catalogue.tracks[stage.track_id], False, None, None)
    assert line is not None, "a whole stage has a profile"
    rows = rules_beside(line.distance_m, line.height_m, ascent_m=line.ascent_m, descent_m=line.descent_m)
    if arguments.json:
        print_json(
            {
                "stage": Ref(stage.id, stage.version).id,
                "name": stage.name,
                "rules": [
                    {"name": row.name, "source": row.source, "moving_s": row.seconds, "note": row.note}
                    for row in rows
                ],
            }
        )
        return
    climb = f"up {metres(line.ascent_m)}, down {metres(line.descent_m)}"
    say(f"{stage.name}: {kilometres(line.length_m)}, {climb}")
    print_table(
        "", ("Rule", "Moving", "Source", "Note"),
        ((row.name, hours(row.seconds), row.source, row.note) for row in rows), right=(1,),
    )  # fmt: skip


def _stage(known: tuple[Stage, ...], named: str) -> Stage:
    for stage in known:
        if named.casefold() in (stage.id.casefold(), stage.name.casefold()):
            return stage
    raise NotFound(f"The library has no stage called '{named}'; 'lacet stages PROJECT' lists them.")
