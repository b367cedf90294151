"""The file itself: pages in order, and every formula's value put in beside it."""

import io
import re
import zipfile
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

from openpyxl import Workbook

from lacet.documents.workbook.page import Known, Page, in_xml

# How the library writes a formula; it leaves the value empty.
_FORMULA = re.compile(
    rb'<c r="([A-Z]+[0-9]+)"((?: s="[0-9]+")?)[^>]*><f>(.*?)</f><v ?/?>(?:</v>)?</c>', re.DOTALL
)


@dataclass(slots=True)
class Book:
    """A workbook of pages. Nothing names the machine or the person who wrote it, only the office."""

    title: str
    creator: str
    pages: list[Page] = field(default_factory=list)
    book: Workbook = field(default_factory=Workbook)

    def __post_init__(self) -> None:
        for sheet in list(self.book.worksheets):
            self.book.remove(sheet)
        self.book.properties.title = in_xml(self.title)
        self.book.properties.creator = in_xml(self.creator)
        self.book.calculation.fullCalcOnLoad = True

    def page(self, name: str) -> Page:
        """A new sheet, to be printed across one page's width."""
        sheet = self.book.create_sheet(name)
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
        sheet.page_setup.fitToHeight = 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        made = Page(sheet)
        self.pages.append(made)
        return made

    def to_bytes(self) -> bytes:
        """The workbook as a file."""
        written = io.BytesIO()
        self.book.save(written)
        by_name = {f"xl/worksheets/sheet{number}.xml": page for number, page in enumerate(self.pages, 1)}
        return _with_values(written.getvalue(), by_name)


def _with_values(content: bytes, pages: dict[str, Page]) -> bytes:
    """The file with the value of every formula put in beside it: the library writes formulas without."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            part = old.read(name)
            if name in pages:
                # A bare carriage return would be read back as a line feed (XML 1.0, section 2.11).
                part = _valued(part, pages[name].values).replace(b"\r", b"&#13;")
            new.writestr(name, part)
    return made.getvalue()


def _valued(part: bytes, values: dict[str, Known]) -> bytes:
    def put(found: re.Match[bytes]) -> bytes:
        at, style, formula = found[1].decode(), found[2].decode(), found[3].decode()
        value = values[at]
        kind = ' t="str"' if isinstance(value, str) else ""
        said = escape(value) if isinstance(value, str) else repr(float(value))
        return f'<c r="{at}"{style}{kind}><f>{formula}</f><v>{said}</v></c>'.encode()

    valued, count = _FORMULA.subn(put, part)
    assert count == len(values), "the library writes formulas in another form"
    return valued
