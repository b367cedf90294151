"""`lacet proposal`: what the client reads before saying yes."""

import argparse
from datetime import UTC, date, datetime

import orjson

from lacet.cli.telling import progress, say
from lacet.digest import digest
from lacet.documents.drawing.ground import rasters_of
from lacet.documents.drawing.heights import unreadable
from lacet.documents.language import language
from lacet.documents.missing import AN_AID, SOURCE, Missing
from lacet.documents.proposal.making import KIND, frozen_figures, page_of, paper_of, prepare
from lacet.documents.proposal.photographs import shown_from
from lacet.documents.proposal.writing import take_back, write_files
from lacet.documents.typeset.setting import PAPERS
from lacet.documents.typeset.theme import OURS, read_theme
from lacet.service.gathering import assessed
from lacet.service.opening import project_at


def proposal(arguments: argparse.Namespace) -> None:
    """Write a variant's proposal, keep it as it was sent, and say what it lacks."""
    speech = language(arguments.language, imperial=arguments.units == "imperial")
    theme = OURS if arguments.theme is None else read_theme(arguments.theme)
    as_of, made_at = arguments.as_of or date.today(), datetime.now(UTC)
    with project_at(arguments.project) as project, progress("Making the proposal"):
        it = assessed(project, arguments.trip, arguments.variant, as_of)
        trip, variant, revision, catalogue = it.trip, it.variant, it.revision, it.catalogue
        with project.reading() as unit:
            prepared = prepare(
                trip, variant, it.found, catalogue, it.rules, speech=speech, revision=revision,
                made_at=made_at, draft=arguments.draft, theme=theme,
                rasters=rasters_of(project.path.parent, catalogue.region.rasters),
                pictures=shown_from(unit.pictures.get),
            )  # fmt: skip
        made = (page_of(prepared), paper_of(prepared, PAPERS[arguments.paper]))
        paths = write_files({each.name: each.content for each in made}, arguments.out)
        # A draft is no offer, so nothing has to be kept of it.
        if not arguments.draft:
            try:
                with project.unit_of_work() as unit:
                    for each in made:
                        unit.documents.freeze(
                            KIND, trip.id, variant.id, revision, each.content, issued_at=made_at,
                            digest=digest(it.inputs), media_type=each.media_type,
                            figures=orjson.dumps(frozen_figures(it.found)).decode(),
                        )  # fmt: skip
                    unit.commit()
            except BaseException:
                take_back(paths)
                raise
        project.remember_written("proposal", trip.id, paths)
    for path in paths:
        say(str(path))
    plain = unreadable(arguments.project.parent, catalogue.region.rasters)
    _tell((*prepared.missing, *(Missing(says=each) for each in plain)))


def _tell(lacks: tuple[Missing, ...]) -> None:
    if not lacks:
        return
    say(f"Missing, by the items of {SOURCE}, where one asks for it. {AN_AID}")
    for each in lacks:
        say(f"{each.point:>10}  {each.says}")
