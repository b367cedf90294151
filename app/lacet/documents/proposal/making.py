"""The making of a proposal, for the command line and the window alike.

In steps, since a person looks between them: `prepare` tells what is said and what is missing, `page_of` and
`paper_of` set it. What still has an open stop is made as a marked draft or not at all.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from lacet.assess import Assessment
from lacet.documents.drawing.proposal import proposal_drawings
from lacet.documents.material.gather import gather
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import ProposalMaterial, Shown
from lacet.documents.missing import Missing, Weight, may_leave, missing, open_stops
from lacet.documents.names import LONGEST_BYTES, safe_name
from lacet.documents.page_look import Look, families
from lacet.documents.proposal.html import Logo, write_html
from lacet.documents.proposal.pdf import PDF, lost_signs, paper_drawings, write_pdf
from lacet.documents.proposal.writing import ProposalRefused
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS, Theme, faint_colours
from lacet.price.offering import selling_prices
from lacet.tracks.raster import ElevationRaster
from lacet.trip.edits import letter
from lacet.trip.trip import Trip

KIND = "proposal"
HTML = "text/html"
LOGO_TYPES = {"svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg"}
MOST_TOLD = 3
LONGEST_ENDING = ".html"


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """A proposal ready to be set. `name` is that of its files, without ending; `missing` what it lacks."""

    name: str
    material: ProposalMaterial
    missing: tuple[Missing, ...]
    draft: bool
    theme: Theme
    telling: Telling
    rasters: tuple[ElevationRaster, ...]


@dataclass(frozen=True, slots=True)
class MadeFile:
    """One file of a proposal."""

    name: str
    media_type: str
    content: bytes


def prepare(
    telling: Telling,
    *,
    draft: bool = False,
    theme: Theme = OURS,
    rasters: tuple[ElevationRaster, ...] = (),
    pictures: Callable[[str], Shown | None] | None = None,
) -> Prepared:
    """Return a variant's proposal with what it lacks.

    Parameters
    ----------
    draft
        Whether it is marked as a draft on every page; one with open stops can only be that.
    theme
        The office's colours, name, logo and fonts.
    rasters
        Give maps their relief; without them the ground is plain.

    Raises
    ------
    ProposalRefused
        When a stop is open and it isn't to be a draft.
    """
    trip, variant = telling.trip, telling.variant
    lacks = missing(telling)
    if not draft:
        _refuse_stops(lacks)
    # A page is read with the fonts of the reader's machine, paper with the ones it brings.
    drawn = replace(theme.drawn, family=families(page_look(theme)))
    material = gather(telling, draft=draft, drawings=proposal_drawings(rasters, drawn), pictures=pictures)
    tail = f"{letter(trip, variant.id)} {material.words['proposal']} {telling.revision}"
    name = _name(trip.name, f"{tail} {material.words['draft']}" if draft else tail)
    looks = (*faint_colours(theme), *lost_signs(material, theme))
    return Prepared(
        name=name, material=material, missing=(*lacks, *(Missing(says=each) for each in looks)), draft=draft,
        theme=theme, telling=telling, rasters=rasters,
    )  # fmt: skip


def page_look(theme: Theme) -> Look:
    """The page's colours, with the theme's own fonts before ours."""
    return replace(theme.look, fonts=tuple(dict.fromkeys((*theme.fonts, *theme.look.fonts))))


def page_of(prepared: Prepared) -> MadeFile:
    """Return the web page of a proposal, not written yet."""
    theme = prepared.theme
    logo = Logo(theme.logo, LOGO_TYPES[theme.logo_format]) if theme.logo else None
    page = write_html(prepared.material, page_look(theme), name=theme.name, logo=logo)
    return MadeFile(f"{prepared.name}.html", HTML, page)


def paper_of(prepared: Prepared, paper: Paper = Paper.A4) -> MadeFile:
    """Return the PDF of a proposal, not written yet; maps are drawn anew for its grid."""
    drawings = paper_drawings(prepared.telling, prepared.rasters, paper, prepared.theme)
    made_at = prepared.telling.made_at
    pdf = write_pdf(prepared.material, made_at, paper, prepared.theme, drawings)
    return MadeFile(f"{prepared.name}.pdf", PDF, pdf)


def may_be_offered(assessment: Assessment, trip: Trip) -> bool:
    """Whether a proposal of it may be more than a draft: a party, days and a price, and no stop open."""
    whole = (
        bool(trip.party.travellers and assessment.figures.days)
        and not selling_prices(assessment.quote).nothing_known
    )
    return whole and not any(open_stops(assessment.findings))


def _name(trip: str, tail: str) -> str:
    """'Coast to crater A Proposal 3'; of a long name the beginning, so that the revision stays."""
    head, end = safe_name(trip, "trip"), safe_name(tail)
    while len(f"{head} {end}{LONGEST_ENDING}".encode()) > LONGEST_BYTES:
        head = head[:-1]
    return safe_name(f"{head} {end}")


def frozen_figures(assessment: Assessment) -> dict[str, str | int | float]:
    """What is kept of an issued proposal when its guests are forgotten: no names, no net price."""
    totals, prices = assessment.figures.totals, selling_prices(assessment.quote)
    return {
        "price": f"{prices.total.amount} {prices.currency}",
        "days": totals.days,
        "walking_m": round(totals.walking_m, 1),
        "cycling_m": round(totals.cycling_m, 1),
        "ascent_m": round(totals.ascent_m, 1),
    }


def _refuse_stops(lacks: tuple[Missing, ...]) -> None:
    if may_leave(lacks):
        return
    stops = [each.says for each in lacks if each.weight is Weight.STOP]
    more = f" And {len(stops) - MOST_TOLD} more." if len(stops) > MOST_TOLD else ""
    raise ProposalRefused(
        "This variant can't be proposed yet. {stops}{more} Settle it, overrule it, or make a draft.",
        stops=" ".join(stops[:MOST_TOLD]),
        more=more,
    )
