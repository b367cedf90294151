"""`lacet pack`: what travels with the guests, on paper and for the phone."""

import argparse
from datetime import UTC, date, datetime

from lacet.cli.telling import progress, say
from lacet.documents.drawing.ground import rasters_of
from lacet.documents.drawing.heights import unreadable
from lacet.documents.language import language
from lacet.documents.pack.making import prepare_pack
from lacet.documents.pack.writing import write_pack
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, faint_colours, read_theme
from lacet.service.gathering import assessed
from lacet.service.opening import project_at


def pack(arguments: argparse.Namespace) -> None:
    """Write the files of a variant's pack, as a folder and a zip, and say what they lack."""
    speech = language(arguments.language, imperial=arguments.units == "imperial")
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    with project_at(arguments.project) as project, progress("Making the pack") as bar:
        it = assessed(project, arguments.trip, arguments.variant, date.today())
        plain = unreadable(project.path.parent, it.catalogue.region.rasters)
        prepared = prepare_pack(
            it.trip, it.variant, it.found, it.catalogue, revision=it.revision, made_at=datetime.now(UTC),
            rules=it.rules, speech=speech, paper=PAPERS[arguments.paper], theme=theme,
            rasters=rasters_of(project.path.parent, it.catalogue.region.rasters),
            progress=lambda made, whole: bar.update(bar.task_ids[0], completed=made, total=whole),
        )  # fmt: skip
        written = write_pack(prepared.files, arguments.out, prepared.title)
        project.remember_written("pack", it.trip.id, [written, written.with_name(f"{written.name}.zip")])
    say(str(written))
    for each in (*faint_colours(theme), *prepared.lacks, *plain):
        say(each)
    if not it.found.works:
        say("This variant isn't proved: see 'lacet assess' before the files leave the house.")
