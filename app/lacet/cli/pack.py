"""`lacet pack`: what travels with the guests, on paper and for the phone."""

import argparse
from datetime import date

from lacet.cli.telling import progress, say
from lacet.documents.language import language
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, faint_colours, read_theme
from lacet.service.gathering import assessed
from lacet.service.handing_over import make_pack, save_pack, without_relief
from lacet.service.opening import project_at


def pack(arguments: argparse.Namespace) -> None:
    """Write the files of a variant's pack, as a folder and a zip, and say what they lack."""
    speech = language(arguments.language, imperial=arguments.units == "imperial")
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    with project_at(arguments.project) as project, progress("Making the pack") as bar:
        it = assessed(project, arguments.trip, arguments.variant, date.today())
        plain = without_relief(project, it.catalogue)
        prepared = make_pack(
            project, it, speech=speech, theme=theme, paper=PAPERS[arguments.paper],
            progress=lambda made, whole: bar.update(bar.task_ids[0], completed=made, total=whole),
        )  # fmt: skip
        written = save_pack(project, it.trip.id, prepared, arguments.out)
    say(str(written))
    for each in (*faint_colours(theme), *prepared.lacks, *plain):
        say(each)
    if not it.found.works:
        say("This variant isn't proved: see 'lacet assess' before the files leave the house.")
