"""The page: complete in itself, and whatever people wrote comes out as text."""

import base64
import hashlib
import re
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise

import orjson
import pytest
from markupsafe import Markup

from lacet.documents.language import language
from lacet.documents.material.gather import gather, telling_of
from lacet.documents.material.values import ProposalMaterial, Shown
from lacet.documents.page_look import Look, LookRefused
from lacet.documents.proposal.html import bound, write_html
from lacet.trip.library import Place
from lacet.wording import ENGLISH
from tests.documents.material.island import (
    MADE_AT,
    assessed,
    hostile,
    inputs_of,
    island,
    made,
    proposal,
)

VOID = {"meta", "img", "br", "link", "input", "hr"}


class Page(HTMLParser):
    """Elements, attributes and texts of a page, and whether its elements close in order."""

    def __init__(self, content: bytes) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.inside: dict[str, str] = {}
        self._open: list[str] = []
        self.feed(content.decode("utf-8"))
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] in ("style", "script"):
            self.inside[self._open[-1]] = data
        else:
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())

    def count(self, tag: str) -> int:
        return sum(name == tag for name, _ in self.elements)


def page(material: ProposalMaterial | None = None) -> Page:
    return Page(write_html(material or proposal()))


def test_figures_in_the_page_are_those_of_the_assessment() -> None:
    text = page().text
    for day in assessed().figures.days:
        for group in day.groups:
            if group.legs:
                climb = f"{ENGLISH.height(group.ascent_m)}, {ENGLISH.height(group.descent_m)}"
                assert f"Distance {ENGLISH.length(group.distance_m)} Ascent, descent {climb}" in text
    assert f"{ENGLISH.money(assessed().quote.total)} for four guests" in text


def test_nothing_is_fetched() -> None:
    shown = page()
    for _, attributes in shown.elements:
        for name in ("src", "href", "srcset", "action", "poster"):
            address = attributes.get(name)
            assert address is None or address.startswith(("data:", "#"))
    source = write_html(proposal()).decode()
    outside = re.sub(r'"data:[^"]+"', '""', source)
    assert "http:" not in outside
    assert "https:" not in outside
    assert "url(" not in shown.inside["style"]
    assert "@import" not in shown.inside["style"]


def test_the_policy_names_exactly_this_style_and_this_script() -> None:
    shown = page()
    [policy] = [
        attributes["content"] for _, attributes in shown.elements
        if attributes.get("http-equiv") == "Content-Security-Policy"
    ]  # fmt: skip
    assert policy is not None
    directives = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    for name, inside in (("style-src", "style"), ("script-src", "script")):
        digest = base64.b64encode(hashlib.sha256(shown.inside[inside].encode()).digest()).decode()
        assert directives[name] == f"'sha256-{digest}'"
    assert directives["default-src"] == "'none'"
    assert directives["img-src"] == "data:"
    # A style or a handler on an element would need more than the policy allows.
    assert not any(
        name == "style" or name.startswith("on") for _, attributes in shown.elements for name in attributes
    )


@pytest.mark.parametrize(
    "text",
    [
        "</script><script>alert(1)</script>",
        "</title></style><b onmouseover=alert(1)>bold</b>",
        '"><img src=x onerror=alert(1)>',
        "{{ 7 * 7 }} {% raw %} #{1 + 1} $ink",
        "#set page(fill: red) *bold* _slanted_ $x^2$ @label <tag> \\",
        "日本語 العربية Ελληνικά Кириллица 😀",
        "x" * 5_000,
    ],
)
def test_what_people_wrote_comes_out_as_text(text: str) -> None:
    material = made(*hostile(text))
    shown = page(material)
    plain = " ".join(text.split())
    # Title, eyebrow, heading, wish, a note, a guest: wherever it was written.
    assert shown.text.count(plain) >= 6
    assert shown.count("script") == page().count("script") == 1
    assert shown.count("b") == 0
    assert shown.inside == page().inside, "no text of a trip reaches style or script"


def test_control_characters_are_left_out() -> None:
    content = write_html(made(*hostile("a\x00b\x1b[31mc\x85d")))
    assert b"ab[31mcd" in content
    assert not set(content) & (set(range(0x20)) - {0x0A, 0x09, 0x0D})


def test_without_scripts_maps_are_pictures_and_their_buttons_stay_hidden() -> None:
    shown = page()
    tools = [attributes for _, attributes in shown.elements if attributes.get("class") == "tools"]
    assert len(tools) > 3
    assert all("hidden" in attributes for attributes in tools)


def test_headings_never_leave_out_a_level() -> None:
    for material in (proposal(), proposal(1, 0), proposal(3, 0)):
        levels = [int(tag[1]) for tag, _ in page(material).elements if re.fullmatch(r"h[1-6]", tag)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_picture_has_a_text_and_every_link_an_end() -> None:
    shown = page()
    ids = [attributes["id"] for _, attributes in shown.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    for tag, attributes in shown.elements:
        if tag == "img":
            assert attributes["alt"]
        if tag == "a":
            assert (attributes["href"] or "")[1:] in ids


def test_the_page_tells_its_language_its_revision_and_a_draft() -> None:
    shown = page(made(*hostile("Trip"), draft=True))
    [html] = [attributes for tag, attributes in shown.elements if tag == "html"]
    assert (html["lang"], html["dir"]) == ("en", "ltr")
    assert "Revision 3, 25 November 2026" in shown.text
    assert "not an offer" in shown.text
    assert "not an offer" not in page().text


def test_a_page_without_drawings_looks_for_none() -> None:
    assert page(replace(proposal(), drawings={})).count("img") == 0


def test_what_runs_along_the_foot_of_printed_pages_stays_a_text_of_the_style() -> None:
    material = replace(proposal(), edition='"; } </style><b>\\', draft="")
    shown = Page(write_html(material))
    assert shown.count("b") == 0
    assert 'content: "\\000022 \\00003b  \\00007d  \\00003c \\00002f style' in shown.inside["style"]


def test_colours_and_fonts_of_an_office_reach_the_style_and_nothing_else_does() -> None:
    style = Page(write_html(proposal(), Look(ink="#102030", fonts=("Tall Serif",)))).inside["style"]
    assert "#102030" in style
    assert '"Tall Serif", serif' in style
    for look in (Look(ink="red;} body{display:none"), Look(fonts=('x"; } </style>',)), Look(paper="#fff")):
        with pytest.raises(LookRefused, match=r"#22302f|name of a font"):
            write_html(proposal(), look)


def test_photographs_stand_on_the_page_with_their_words_and_credit() -> None:
    places = dict(island().items[Place])
    harbour = replace(places["port-verrin"][1], picture_ids=("p1",))
    items = {**island().items, Place: {**places, "port-verrin": {1: harbour}}}
    shown = Shown(payload="iVBORw0KGgo=", media_type="image/png", alt="The quay", credit="M. Tolk")
    inputs = replace(inputs_of(), catalogue=replace(island(), items=items))
    told = telling_of(inputs, assessed(), language(), revision=3, made_at=MADE_AT)
    material = gather(told, pictures={"p1": shown}.get)
    found = [attributes for tag, attributes in page(material).elements if attributes.get("alt") == "The quay"]
    assert [each["src"] for each in found] == ["data:image/png;base64,iVBORw0KGgo="]
    assert "M. Tolk" in page(material).text


def test_the_whole_material_is_on_the_page() -> None:
    """Each text of the material is printed, but for keys and what only a PDF needs."""
    material = proposal()
    text = page(material).text
    plain = orjson.loads(orjson.dumps(material))
    plain.pop("drawings"), plain.pop("pictures"), plain.pop("words")

    def texts(value: object, name: str = "") -> list[str]:
        if isinstance(value, dict):
            return [each for key, part in value.items() for each in texts(part, key)]
        if isinstance(value, list):
            return [each for part in value for each in texts(part, name)]
        unprinted = ("language", "direction", "title", "way", "how", "id", "day_id")
        known = isinstance(value, str) and not name.endswith("_key") and name not in unprinted
        return [value] if known and isinstance(value, str) else []

    lost = [each for each in texts(plain) if " ".join(each.split()) not in text]
    assert lost == []


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("13.6 km, 4 h 20, 57 %", "13.6\u00a0km, 4\u00a0h\u00a020, 57\u00a0%"),
        ("Day 3 mixed", "Day 3 mixed"),
        ("room 7 h", "room 7\u00a0h"),
        ("1 kmh, 5 minutes", "1 kmh, 5 minutes"),
    ],
)
def test_figures_keep_with_their_units(text: str, says: str) -> None:
    assert bound(text) == says


def test_what_is_markup_of_ours_is_left_as_it_is() -> None:
    assert bound(Markup("a 5 km b")) == "a 5 km b"
    assert bound(7) == 7
