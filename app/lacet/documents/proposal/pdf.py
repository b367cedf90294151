"""The proposal on paper, from the same material as the page; maps and profiles are drawn for its own grid."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from datetime import datetime

from lacet.documents.drawing.proposal import Sizes, proposal_drawings
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Drawn, ProposalMaterial
from lacet.documents.texts import texts_of
from lacet.documents.typeset.glyphs import missing_glyphs
from lacet.documents.typeset.setting import Paper, typeset
from lacet.documents.typeset.theme import OURS, Theme
from lacet.tracks.raster import ElevationRaster

PDF = "application/pdf"
# Given to the typesetter by themselves.
APART = frozenset({"title", "language", "drawings", "pictures"})
# A day has its text, map, profile and services on one page: Letter is lower than A4.
SIZES = {
    Paper.A4: Sizes(trip_map_mm=(174.0, 118.0), day_map_mm=(174.0, 57.0), day_profile_mm=(174.0, 26.0)),
    Paper.LETTER: Sizes(trip_map_mm=(174.0, 104.0), day_map_mm=(174.0, 50.0), day_profile_mm=(174.0, 24.0)),
}


def write_pdf(
    material: ProposalMaterial,
    made_at: datetime,
    paper: Paper = Paper.A4,
    theme: Theme = OURS,
    drawings: Mapping[str, Drawn] | None = None,
) -> bytes:
    """Return the proposal as PDF/UA-1.

    Parameters
    ----------
    made_at
        When it was made, aware; stands in the document's metadata.
    drawings
        Drawn for paper (`paper_drawings`); None = those of the page.
    """
    data = {each.name: getattr(material, each.name) for each in fields(material) if each.name not in APART}
    if theme.name:
        data["operator"] = theme.name
    return typeset(
        "proposal", data, title=material.title, language=material.language, made_at=made_at, paper=paper,
        theme=theme, drawings=material.drawings if drawings is None else drawings, pictures=material.pictures,
    )  # fmt: skip


def paper_drawings(
    telling: Telling, rasters: tuple[ElevationRaster, ...] = (), paper: Paper = Paper.A4, theme: Theme = OURS
) -> dict[str, Drawn]:
    """Maps and profiles in the sizes of the PDF's grid, in the theme's colours."""
    return proposal_drawings(rasters, theme.drawn, SIZES[paper])(telling)


def lost_signs(material: ProposalMaterial, theme: Theme = OURS) -> tuple[str, ...]:
    """Sentences on signs that the PDF can't show."""
    return missing_glyphs(_texts(material), theme.folder)


def _texts(material: ProposalMaterial) -> Iterator[str]:
    yield from texts_of(material)
    yield from (shown.credit for shown in material.pictures.values())
