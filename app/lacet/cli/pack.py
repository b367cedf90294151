"""`lacet pack`: what travels with the guests, on paper and for the phone."""

import argparse
from datetime import UTC, date, datetime

from lacet.assess import assess
from lacet.cli.choosing import chosen, project_at
from lacet.cli.telling import progress, say
from lacet.documents.drawing.ground import rasters_of
from lacet.documents.drawing.heights import unreadable
from lacet.documents.language import language
from lacet.documents.pack.making import prepare_pack
from lacet.documents.pack.writing import write_pack
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, faint_colours, read_theme
from lacet.inputs import Inputs


def pack(arguments: argparse.Namespace) -> None:
    """Write the files of a variant's pack, as a folder and a zip, and say what they lack."""
    speech = language(arguments.language, imperial=arguments.units == "imperial")
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    today = date.today()
    with project_at(arguments.project) as project, progress("Making the pack") as bar:
        trip, variant, revision = chosen(project, arguments.trip, arguments.variant)
        with project.reading() as unit:
            commitments = unit.commitments(trip.id, today)
        catalogue, rules = project.catalogue(), project.house_rules()
        plain = unreadable(project.path.parent, catalogue.region.rasters)
        inputs = Inputs(trip, variant.id, catalogue, rules, commitments, as_of=today)
        found = assess(inputs)
        prepared = prepare_pack(
            trip, variant, found, catalogue, revision=revision, made_at=datetime.now(UTC), rules=rules,
            speech=speech, paper=PAPERS[arguments.paper], theme=theme,
            rasters=rasters_of(project.path.parent, catalogue.region.rasters),
            progress=lambda made, whole: bar.update(bar.task_ids[0], completed=made, total=whole),
        )  # fmt: skip
        written = write_pack(prepared.files, arguments.out, prepared.title)
        project.remember_written("pack", trip.id, [written, written.with_name(f"{written.name}.zip")])
    say(str(written))
    for each in (*faint_colours(theme), *prepared.lacks, *plain):
        say(each)
    if not found.works:
        say("This variant isn't proved: see 'lacet assess' before the files leave the house.")
