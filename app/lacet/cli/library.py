"""`lacet stages`: the stages the library holds."""

import argparse

from lacet.cli.telling import kilometres, metres, print_json, print_table
from lacet.service.opening import project_at


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
