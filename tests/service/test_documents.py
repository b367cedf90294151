"""Whatever leaves for clients says what no plan can promise, and nothing of what the office alone may know.

Every registered document is made of the demo, with hostile names in the trip, in every form and for everybody
it is for; then it is opened with another library than the one that wrote it.
"""

import re
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest

from lacet.assess import assess
from lacet.cli.parser import make_parser
from lacet.compare import Side
from lacet.compare import compare as set_side_by_side
from lacet.demo import write_demo
from lacet.documents.foot import foot
from lacet.documents.language import language
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS
from lacet.service.documents import DOCUMENTS, Document, Look, Order, Whom
from lacet.service.gathering import Assessed, assessed
from lacet.store import Project, open_project
from lacet.trip.trip import Trip

AS_OF = date(2026, 11, 25)
HOSTILE = "\u202eWynne\x07 \u2066Ode\x00"
# Controls but for those that end lines and columns, and whatever turns the reading direction.
NEVER = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
OF_THE_OFFICE = re.compile(r"\b(net|margins?|mark-?up|commission|tariffs?)\b", re.IGNORECASE)
ORDERS = [
    (document, whom, ending)
    for document in DOCUMENTS
    for whom in document.whom
    for ending in (("",) if document.comes_whole else document.endings)
]


def hostile(trip: Trip) -> Trip:
    guests = tuple(replace(each, name=f"{each.name} {HOSTILE}") for each in trip.party.travellers)
    party = replace(trip.party, travellers=guests, name=f"{trip.party.name} {HOSTILE}")
    return replace(trip, name=f"{trip.name} {HOSTILE}", party=party)


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Project]:
    with open_project(write_demo(tmp_path_factory.mktemp("demo"))) as opened:
        yield opened


@pytest.fixture(scope="module")
def it(project: Project) -> Assessed:
    found = assessed(project, "Coast to crater", "A", AS_OF)
    inputs = replace(found.inputs, trip=hostile(found.trip))
    return Assessed(inputs=inputs, revision=found.revision, found=assess(inputs))


def hand_over(project: Project, it: Assessed, document: Document, whom: Whom, to: Path) -> list[Path]:
    """All files of a document, those within folders and not those within archives."""
    others = [replace(it.inputs, variant_id=each.id) for each in it.trip.variants[:2]]
    sides = [Side(each.variant, assess(each)) for each in others]
    beside = set_side_by_side(sides, it.catalogue, 0, show_money=whom is Whom.OFFICE)
    look = Look(speech=language(), theme=OURS, paper=Paper.A4)
    written = document.hand_over(project, Order(it=it, whom=whom, look=look, beside=beside), to)
    files = [each for path in written.paths for each in (path.iterdir() if path.is_dir() else (path,))]
    assert files
    return files


class Page(HTMLParser):
    """The words of a page, but for styles."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self._in_style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in_style = tag == "style"
        self.words += [value for _, value in attrs if value]

    def handle_endtag(self, tag: str) -> None:
        self._in_style = False

    def handle_data(self, data: str) -> None:
        if not self._in_style:
            self.words.append(data)


def of_page(content: bytes) -> str:
    page = Page()
    page.feed(content.decode())
    return " ".join(page.words)


def of_pdf(content: bytes) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(content)).pages)


def of_xml(content: bytes) -> str:
    return " ".join(ElementTree.fromstring(content).itertext())


def of_workbook(content: bytes) -> str:
    with zipfile.ZipFile(BytesIO(content)) as parts:
        return " ".join(of_xml(parts.read(name)) for name in parts.namelist() if name.endswith(".xml"))


def of_calendar(content: bytes) -> str:
    """Lines as they were before they were folded (RFC 5545, 3.1), without escapes."""
    return content.decode().replace("\r\n ", "").replace("\\", "")


READERS = {
    ".html": of_page, ".pdf": of_pdf, ".gpx": of_xml, ".xlsx": of_workbook, ".ics": of_calendar,
}  # fmt: skip


def words_of(path: Path) -> str:
    return " ".join(READERS[path.suffix](path.read_bytes()).split())


@pytest.mark.parametrize(("document", "whom", "ending"), ORDERS, ids=[f"{d.id} {w}{e}" for d, w, e in ORDERS])
def test_every_document_keeps_to_what_all_must_keep_to(
    project: Project, it: Assessed, document: Document, whom: Whom, ending: str, tmp_path: Path
) -> None:
    to = tmp_path / "out" if document.comes_whole else tmp_path / f"out{ending}"
    files = hand_over(project, it, document, whom, to)
    assert {path.suffix for path in files} == (set(document.endings) if document.comes_whole else {ending})
    net = it.found.quote.net.amount
    told = {path: words_of(path) for path in files}
    assert any("Wynne" in words for words in told.values()), "the hostile names are in it"
    for path, words in told.items():
        assert NEVER.findall(words) == [], path.name
        if whom is Whom.CLIENT:
            assert foot(it.catalogue.region) in words, path.name
            assert OF_THE_OFFICE.findall(words) == [], path.name
            assert str(net) not in words, path.name
            assert str(float(net)) not in words, path.name


def test_the_foot_says_all_three_things(it: Assessed) -> None:
    says = foot(it.catalogue.region)
    number = it.catalogue.region.emergency_numbers[0].number
    assert all(each in says for each in ("estimates", "local authorities", f"Emergency: {number}"))


def test_each_document_is_named_once_and_has_a_command() -> None:
    assert len({each.id for each in DOCUMENTS}) == len({each.name for each in DOCUMENTS}) == len(DOCUMENTS)
    usage = make_parser().format_help()
    assert all(re.search(rf"^ +{each.id} ", usage, re.MULTILINE) for each in DOCUMENTS)
