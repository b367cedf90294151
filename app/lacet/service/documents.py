"""Every document that leaves the house, in one place: what it is called, who it is for and how it is made.

The command line, the window and `tests/service/test_documents.py` read the list. What takes long to load is
imported by the document that needs it, when it is made.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from lacet.store import Project

if TYPE_CHECKING:
    from lacet.compare import Comparison
    from lacet.documents.missing import Missing
    from lacet.documents.typeset.setting import Paper
    from lacet.documents.typeset.theme import Theme
    from lacet.language import Language
    from lacet.service.gathering import Assessed


class Whom(StrEnum):
    """Who reads a document. What the office reads may hold net prices and margins."""

    CLIENT = "client"
    OFFICE = "office"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How documents that are set on pages look: language and units, the office's theme, paper."""

    speech: "Language"
    theme: "Theme"
    paper: "Paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a document is made of, for whom and how.

    Attributes
    ----------
    look
        For documents in the client's language; workbooks and comparisons need none.
    beside
        The variants that are compared, where that is what the document tells.
    over
        Whether it may take the place of a file: somebody chose it.
    progress
        Hears how many parts are made, and of how many.
    """

    it: "Assessed"
    whom: Whom = Whom.CLIENT
    look: Look | None = None
    beside: "Comparison | None" = None
    draft: bool = False
    over: bool = False
    progress: Callable[[int, int], None] = lambda made, whole: None


@dataclass(frozen=True, slots=True)
class HandedOver:
    """Where a document was put, what the office should know that it lacks, and by whose items."""

    paths: tuple[Path, ...]
    lacks: "tuple[Missing, ...]" = ()
    by_items_of: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One kind of document.

    Attributes
    ----------
    name, says
        As people call it, and what it is in one line: 'write the proposal of a variant'.
    endings
        The forms it comes in. One that `comes_whole` is written in all of them into a folder, another in the
        form that the name of its file asks for.
    hand_over
        Makes it and writes it to a folder or a file, remembered and kept as it was sent: all, or nothing.
    """

    id: str
    name: str
    says: str
    whom: tuple[Whom, ...]
    endings: tuple[str, ...]
    comes_whole: bool
    may_be_draft: bool = False
    hand_over: Callable[[Project, Order, Path], HandedOver]


def _proposal(project: Project, order: Order, folder: Path) -> HandedOver:
    from lacet.documents.missing import SOURCE
    from lacet.service.handing_over import make_proposal, save_proposal

    look = _look(order)
    made = make_proposal(project, order.it, speech=look.speech, theme=look.theme, draft=order.draft)
    return HandedOver(save_proposal(project, order.it, made, folder, look.paper), made.missing, SOURCE)


def _pack(project: Project, order: Order, folder: Path) -> HandedOver:
    from lacet.documents.missing import Missing
    from lacet.service.handing_over import make_pack, save_pack

    look, it = _look(order), order.it
    made = make_pack(
        project, it, speech=look.speech, theme=look.theme, paper=look.paper, progress=order.progress
    )
    unproved = () if it.found.works else (Missing(says=NOT_PROVED),)
    lacks = tuple(Missing(says=each) for each in made.lacks)
    return HandedOver((save_pack(project, it.trip.id, made, folder),), (*lacks, *unproved))


def _quote(project: Project, order: Order, path: Path) -> HandedOver:
    from lacet.service.issuing import save_quote

    save_quote(project, order.it, path, for_client=order.whom is Whom.CLIENT, over=order.over)
    return HandedOver((path,))


def _comparison(project: Project, order: Order, path: Path) -> HandedOver:
    from lacet.service.handing_over import save_comparison

    assert order.beside is not None, "a comparison is ordered with what it compares"
    save_comparison(
        project, order.beside, order.it.trip, order.it.catalogue, path,
        for_client=order.whom is Whom.CLIENT, over=order.over,
    )  # fmt: skip
    return HandedOver((path,))


def _look(order: Order) -> Look:
    assert order.look is not None, "what is set on pages is ordered with a look"
    return order.look


NOT_PROVED = "This variant isn't proved: look at its findings before the files leave the house."

PROPOSAL = Document(
    id="proposal",
    name="Proposal",
    says="the proposal of a variant, kept as it was sent",
    whom=(Whom.CLIENT,),
    endings=(".html", ".pdf"),
    comes_whole=True,
    may_be_draft=True,
    hand_over=_proposal,
)
PACK = Document(
    id="pack",
    name="Travel pack",
    says="what guests find their way with: GPX, route notes, card, calendar",
    whom=(Whom.CLIENT,),
    endings=(".gpx", ".ics", ".pdf"),
    comes_whole=True,
    hand_over=_pack,
)
QUOTE = Document(
    id="quote",
    name="Quote",
    says="what a variant costs, by kind and by day",
    whom=(Whom.CLIENT, Whom.OFFICE),
    endings=(".xlsx",),
    comes_whole=False,
    hand_over=_quote,
)
COMPARISON = Document(
    id="compare",
    name="Variants side by side",
    says="variants of a trip side by side",
    whom=(Whom.CLIENT, Whom.OFFICE),
    endings=(".xlsx", ".html", ".pdf"),
    comes_whole=False,
    hand_over=_comparison,
)

DOCUMENTS = (PROPOSAL, PACK, QUOTE, COMPARISON)
"""In the order in which they are needed; a new document is added here and nowhere else."""
