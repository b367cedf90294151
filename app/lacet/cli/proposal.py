"""`lacet proposal`: what the client reads before saying yes."""

import argparse
from datetime import date

from lacet.cli.telling import progress, say
from lacet.documents.language import language
from lacet.documents.missing import AN_AID, SOURCE, Missing
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, read_theme
from lacet.service.gathering import assessed
from lacet.service.handing_over import make_proposal, save_proposal, without_relief
from lacet.service.opening import project_at


def proposal(arguments: argparse.Namespace) -> None:
    """Write a variant's proposal, keep it as it was sent, and say what it lacks."""
    speech = language(arguments.language, imperial=arguments.units == "imperial")
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    with project_at(arguments.project) as project, progress("Making the proposal"):
        it = assessed(project, arguments.trip, arguments.variant, arguments.as_of or date.today())
        prepared = make_proposal(project, it, speech=speech, theme=theme, draft=arguments.draft)
        paths = save_proposal(project, it, prepared, arguments.out, PAPERS[arguments.paper])
        plain = without_relief(project, it.catalogue)
    for path in paths:
        say(str(path))
    _tell((*prepared.missing, *(Missing(says=each) for each in plain)))


def _tell(lacks: tuple[Missing, ...]) -> None:
    if not lacks:
        return
    say(f"Missing, by the items of {SOURCE}, where one asks for it. {AN_AID}")
    for each in lacks:
        say(f"{each.point:>10}  {each.says}")
