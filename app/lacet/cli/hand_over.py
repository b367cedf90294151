"""`lacet proposal`, `lacet pack`: documents that come whole, into a folder."""

import argparse
from datetime import date

from lacet.cli.telling import progress, say
from lacet.documents.language import language
from lacet.documents.missing import AN_AID, Missing
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, faint_colours, read_theme
from lacet.service.documents import Document, Look, Order
from lacet.service.gathering import assessed
from lacet.service.handing_over import without_relief
from lacet.service.opening import project_at


def hand_over(arguments: argparse.Namespace) -> None:
    """Write a document of a variant and say what it lacks."""
    document: Document = arguments.document
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    look = Look(
        speech=language(arguments.language, imperial=arguments.units == "imperial"),
        theme=theme,
        paper=PAPERS[arguments.paper],
    )
    making = f"Making the {document.name.lower()}"
    with project_at(arguments.project) as project, progress(making) as bar:
        it = assessed(project, arguments.trip, arguments.variant, arguments.as_of or date.today())

        def heard(made: int, whole: int) -> None:
            bar.update(bar.task_ids[0], completed=made, total=whole)

        order = Order(it=it, look=look, draft=arguments.draft, progress=heard)
        written = document.hand_over(project, order, arguments.out)
        plain = (*faint_colours(theme), *without_relief(project, it.catalogue))
    for path in written.paths:
        say(str(path))
    _tell((*written.lacks, *(Missing(says=each) for each in plain)), written.by_items_of)


def _tell(lacks: tuple[Missing, ...], by_items_of: str) -> None:
    if lacks and by_items_of:
        say(f"Missing, by the items of {by_items_of}, where one asks for it. {AN_AID}")
    for each in dict.fromkeys(lacks):
        say(f"{each.point:>10}  {each.says}" if by_items_of else each.says)
