"""PDFs read back: tagged, titled, in a language; what people write is text, and never makes a page fail."""

import io
import itertools
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from lacet.documents.material.values import Drawn
from lacet.documents.typeset import (
    OURS,
    Paper,
    ThemeRefused,
    faint_colours,
    missing_glyphs,
    read_theme,
    typeset,
)
from lacet.documents.typeset.fonts import unshown
from lacet.documents.typeset.glyphs import BREAK, drawable, printable
from lacet.documents.typeset.theme import contrast
from lacet.resources import resource

MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"'
    ' font-family="Libertinus Serif, serif"><text x="1" y="9" font-size="4">{}</text></svg>'
)
HOSTILE = (
    '#panic("out") *x* = Head $y$ @label <b> #include "/etc/passwd"',
    "</script><script>alert(1)</script>",
    "a\x00b\x07c\x1bd\x7fe\x9ff",
    "\ufeffmark \u202eturned\u202c \u2066more\u2069 \ufffe\ufffd \ue000",
    "Ελλάδα Привет Łódź Việt",
    "日本語 简体 한국어",
    "مرحبا بالعالم",
    "😀 👩‍👩‍👧 🏳️‍🌈",
    "\ud800 half",
    "word" * 1250,
    "long words " * 450,
    "e\u0301" * 60,
    "x\u0301 e\u0301\u0302\u0303 1\u20e3 a\u034fb",
    "देवनागरी 日本",
    "Ελλάδα 日本語の道 العربية עברית देवनागरी ไทย 한국어",
    "🚴\u200d♀️ a\u200db",
)


def card(heading: str = "Trip", svg: str = "x", paper: Paper = Paper.A4, title: str = "Title") -> bytes:
    """The smallest template with a text in all its places."""
    house = {"when": heading, "name": heading, "lines": [heading, heading], "code_key": "code"}
    data = {
        "heading": heading, "line": heading, "estimate": "Estimates.", "edition": "Revision 3",
        "operator": heading, "emergency": {"heading": heading, "points": [heading]}, "number": "112",
        "people": [house], "nights": [house], "words": {"nights": "Nights", "people": "People"},
    }  # fmt: skip
    drawn = Drawn(svg=SVG.format(svg), width_mm=20, height_mm=20, alt=heading)
    return typeset("card", data, title=title, language="en-GB", made_at=MADE_AT, paper=paper,
                   drawings={"code": drawn})  # fmt: skip


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_a_document_is_tagged_titled_and_says_that_it_is_accessible() -> None:
    reader = PdfReader(io.BytesIO(card(title="Coast to crater · 8–16 May")))
    # What pypdf returns is of no type before it is asked for.
    root: Any = reader.root_object
    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/Type"] == "/StructTreeRoot"
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Coast to crater · 8–16 May"
    # ISO 14289-1, clause 5: the identifier in the XMP metadata.
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()


def test_equal_data_give_equal_bytes() -> None:
    assert card() == card()


@pytest.mark.parametrize(("paper", "wide", "high"), [(Paper.A4, 595.28, 841.89), (Paper.LETTER, 612, 792)])
def test_paper_is_as_asked_for(paper: Paper, wide: float, high: float) -> None:
    page = PdfReader(io.BytesIO(card(paper=paper))).pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((wide, high), abs=0.1)


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_somebody_writes_is_set_as_text(text: str) -> None:
    pdf = card(text, svg=text.replace("&", "").replace("<", "").replace("\x00", "").replace("\x07", "")[:40])
    assert "Revision 3" in text_of(pdf)


def test_markup_comes_out_as_it_was_written() -> None:
    text = '#panic("no") *bold* = x $y$ _z_ \\ @ref'
    told = " ".join(text_of(card(text)).split())
    assert text in told


def test_long_words_stay_within_the_page() -> None:
    pdf = PdfReader(io.BytesIO(card("w" * 300)))
    far: list[float] = []
    pdf.pages[0].extract_text(visitor_text=lambda _text, _a, matrix, _b, _c: far.append(matrix[4]))
    assert max(far) < 595.28
    assert printable("w" * 300).replace(BREAK, "") == "w" * 300
    assert max(map(len, printable("w" * 300).split(BREAK))) < 28


def test_scripts_of_the_packages_and_the_typesetter_are_shown() -> None:
    assert unshown(["Ελλάδα Привет Łódź 日本語 简体 한국어 مرحبا שלום → ★"]) == frozenset()


def test_a_name_in_a_drawing_keeps_all_that_can_stand_together() -> None:
    assert drawable(SVG.format("Ελλάδα")) == SVG.format("Ελλάδα")
    assert drawable(SVG.format("Cafe\u0301 x\u0301")) == SVG.format("Café x")
    assert drawable(SVG.format("Brook देव")) == SVG.format("Brook □□□")


def test_what_no_font_has_is_told_before_and_is_a_box_after() -> None:
    told = missing_glyphs(["Plain", "Ann 😀 and 😀🐑", "Plain"])
    assert len(told) == 1
    assert "can't show 😀 🐑 in 'Ann 😀 and 😀🐑'" in told[0]
    assert printable("Ann 😀") == "Ann □"


def test_every_sign_is_answered_for_by_itself() -> None:
    signs = [chr(code) for code in itertools.chain(range(0x2600, 0x2700), range(0x1F300, 0x1F340))]
    lost = unshown(signs)
    assert 0 < len(lost) < len(signs)
    assert text_of(card("".join(sign for sign in signs if sign not in lost)))


def test_our_theme_is_the_shipped_file_and_readable() -> None:
    with resource("documents/themes/ours.toml").open("rb"):
        pass
    theme = read_theme(Path(str(resource("documents/themes/ours.toml"))))
    assert theme.look == OURS.look
    assert theme.families == OURS.families
    assert faint_colours(theme) == ()


def test_contrast_is_that_of_the_guidelines() -> None:
    # WCAG 2.2: black on white is 21 to 1; #767676 on white is the well-known lightest grey above 4.5.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_faint_colours_are_told_with_their_contrast() -> None:
    faint = replace(OURS, look=replace(OURS.look, soft="#b0b0b0"))
    assert [each[:32] for each in faint_colours(faint)] == ["The theme's colour 'soft' (#b0b0"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name = ", "isn't TOML"),
        ('nme = "x"', "nobody knows 'nme'"),
        ('[colours]\nink = "red"', "'colours.ink' must be a colour"),
        ("[colours]\nink = 3", "'colours.ink' must be a colour"),
        ('colours = "red"', "'colours' must be a table"),
        ('[fonts]\ntext = "Libertinus Serif"', "'fonts.text' must be a list"),
        ('[fonts]\ntext = ["No Such Face"]', "names 'No Such Face'"),
        ('[fonts]\nfolder = "nowhere"', "no folder"),
        ('logo = "x.exe"', "'logo' must be an SVG, PNG or JPEG"),
        ('logo = "gone.png"', "can't be read"),
        ("name = 3", "'name' must be a text"),
        (r'logo = "a\u0000.png"', "'logo' holds signs that can't be printed"),
        (r'[fonts]{}folder = "a\u0000b"'.format("\n"), "'fonts.folder' holds signs"),
    ],
)
def test_a_theme_that_cant_be_used_is_refused_with_file_and_place(
    text: str, says: str, tmp_path: Path
) -> None:
    path = tmp_path / "office.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ThemeRefused) as refused:
        read_theme(path)
    assert says in str(refused.value)
    assert "office.toml" in str(refused.value)


def test_a_theme_that_isnt_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ThemeRefused, match="can't be read"):
        read_theme(tmp_path / "none.toml")


def test_a_theme_brings_name_logo_and_colours(tmp_path: Path) -> None:
    (tmp_path / "mark.svg").write_text(SVG.format("Q"), encoding="utf-8")
    path = tmp_path / "office.toml"
    path.write_text(
        'name = "Quiet Lanes"\nlogo = "mark.svg"\n[colours]\nink = "#101010"\n[fonts]\ntext = ["Amiri"]',
        encoding="utf-8",
    )
    theme = read_theme(path)
    assert (theme.name, theme.logo_format, theme.look.ink) == ("Quiet Lanes", "svg", "#101010")
    assert theme.families[0] == "Amiri"
    assert theme.look.paper == OURS.look.paper


@pytest.mark.parametrize(
    ("name", "content"),
    [("mark.png", b"no picture"), ("mark.svg", b"<svg"), ("mark.svg", SVG.format("\U0001f600").encode())],
)
def test_a_logo_that_cant_be_printed_is_refused_with_the_theme(
    name: str, content: bytes, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(content)
    path = tmp_path / "office.toml"
    path.write_text(f'logo = "{name}"', encoding="utf-8")
    with pytest.raises(ThemeRefused, match="can't be printed"):
        read_theme(path)
