"""Proposal, pack and comparison: made, saved, kept as they were sent and remembered.

Command line and window call the same functions. A person may look between making and saving, so these are two
steps. What quotes need stands in `issuing.py`: it asks for no typesetting, which takes a while to load.
"""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import orjson

from lacet.compare import Comparison
from lacet.digest import digest
from lacet.documents.material.gather import telling_of
from lacet.documents.material.telling import Telling
from lacet.documents.pack.making import PreparedPack, prepare_pack
from lacet.documents.pack.writing import pack_paths, write_pack
from lacet.documents.proposal.making import MadeFile, Prepared, frozen_figures, page_of, paper_of, prepare
from lacet.documents.proposal.photographs import shown_from
from lacet.documents.proposal.writing import write_files
from lacet.documents.side_by_side.making import comparison_file
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import Theme
from lacet.language import Language
from lacet.service.gathering import Assessed
from lacet.service.writing import save_remembered, taken_back_on_failure
from lacet.store import Project, UnitOfWork
from lacet.tracks.raster_files import unreadable
from lacet.trip.catalogue import Catalogue
from lacet.trip.trip import Trip

PROPOSAL, PACK, COMPARISON = "proposal", "pack", "comparison"


def make_proposal(project: Project, it: Assessed, *, speech: Language, theme: Theme, draft: bool) -> Prepared:
    """A variant's proposal with what it lacks, not set yet.

    Raises
    ------
    ProposalRefused
        When a stop is open and it isn't to be a draft.
    """
    with project.reading() as unit:
        return prepare(
            _telling(it, speech), draft=draft, theme=theme,
            rasters=project.rasters(it.catalogue.region.rasters), pictures=shown_from(unit.pictures.get),
        )  # fmt: skip


def _telling(it: Assessed, speech: Language) -> Telling:
    return telling_of(it.inputs, it.found, speech, revision=it.revision, made_at=datetime.now(UTC))


def save_proposal(
    project: Project, it: Assessed, prepared: Prepared, folder: Path, paper: Paper,
    page: MadeFile | None = None,
) -> tuple[Path, ...]:  # fmt: skip
    """Set the PDF, write page and PDF, and keep them as they were sent; all of it or nothing.

    A draft is written only: it is no offer.

    Parameters
    ----------
    it
        What the proposal was made from.
    page
        The web page, where it was set already.

    Raises
    ------
    ProposalRefused, StoreError
    """
    files = (page or page_of(prepared), paper_of(prepared, paper))
    paths = [folder / each.name for each in files]
    with project.noting_written(PROPOSAL, it.trip.id, paths):
        written = write_files({each.name: each.content for each in files}, folder)
        if not prepared.draft:
            with taken_back_on_failure(written), project.unit_of_work() as unit:
                for each in files:
                    _freeze(unit, it, each, prepared.telling.made_at)
                unit.commit()
    return written


def _freeze(unit: UnitOfWork, it: Assessed, file: MadeFile, issued_at: datetime) -> None:
    unit.documents.freeze(
        PROPOSAL, it.trip.id, it.variant.id, it.revision, file.content, issued_at=issued_at,
        digest=digest(it.inputs), media_type=file.media_type,
        figures=orjson.dumps(frozen_figures(it.found)).decode(),
    )  # fmt: skip


def make_pack(
    project: Project, it: Assessed, *, speech: Language, theme: Theme, paper: Paper,
    progress: Callable[[int, int], None],
) -> PreparedPack:  # fmt: skip
    """A variant's pack with what it lacks, not written yet; `progress` hears of each sheet made."""
    return prepare_pack(
        _telling(it, speech), theme=theme, paper=paper, rasters=project.rasters(it.catalogue.region.rasters),
        progress=progress,
    )  # fmt: skip


def save_pack(project: Project, trip_id: str, prepared: PreparedPack, folder: Path) -> Path:
    """Write a pack as a folder with a zip beside it, and return the folder; all of it or nothing.

    Raises
    ------
    PackRefused, StoreError
    """
    with project.noting_written(PACK, trip_id, pack_paths(folder, prepared.title)):
        return write_pack(prepared.files, folder, prepared.title)


def save_comparison(
    project: Project, found: Comparison, trip: Trip, catalogue: Catalogue, path: Path, *, for_client: bool,
    over: bool = False,
) -> None:  # fmt: skip
    """Write a comparison in the form its name's ending says; `over` as in `write_file`.

    Raises
    ------
    UnknownForm, NotWritten, StoreError
    """
    content = comparison_file(
        found, trip, catalogue, path.suffix.lower(), made_at=datetime.now(UTC), for_client=for_client,
        rasters=project.rasters(catalogue.region.rasters),
    )  # fmt: skip
    save_remembered(project, COMPARISON, trip.id, path, content, over=over)


def without_relief(project: Project, catalogue: Catalogue) -> tuple[str, ...]:
    """Sentences on the elevation rasters that maps have to do without."""
    return unreadable(project.raster_files(catalogue.region.rasters))
