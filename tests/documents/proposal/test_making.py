"""The making of a proposal: refused with open stops, marked as a draft, written wholly or not at all."""

import base64
import io
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.values import Shown
from lacet.documents.proposal.making import Prepared, frozen_figures, page_of, paper_of, prepare
from lacet.documents.proposal.photographs import shown_from
from lacet.documents.proposal.writing import ProposalRefused, take_back, write_files
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS, Theme, read_theme
from lacet.inputs import Inputs
from lacet.store.pictures import Picture
from tests.documents.material.island import MADE_AT, RULES, TODAY, assessed, hostile, island, told_from

PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGNoaGgAAAMEAYFL09IQAAAAAElFTkSuQmCC"
)


def prepared(
    trip: int = 0, variant: int = 0, *, draft: bool = False, theme: Theme = OURS,
    pictures: Callable[[str], Shown | None] | None = None,
) -> Prepared:  # fmt: skip
    return prepare(told_from(trip, variant), draft=draft, pictures=pictures, theme=theme)


def test_a_proposal_is_named_after_trip_variant_and_revision() -> None:
    assert prepared().name == "Coast to crater A Proposal 3"
    assert page_of(prepared()).name.endswith("Proposal 3.html")


def test_an_open_stop_is_refused_in_a_sentence_that_names_it() -> None:
    with pytest.raises(ProposalRefused, match=r"Weir Grill is closed on Sunday.*make a draft"):
        prepared(0, 1)


def test_with_an_open_stop_a_draft_is_made_and_marked() -> None:
    made = prepared(0, 1, draft=True)
    assert made.name.endswith("Draft")
    assert "not an offer" in made.material.draft
    assert b"not an offer" in page_of(made).content


def test_drawings_are_made_for_every_key_the_material_names() -> None:
    material = prepared().material
    keys = {material.cover.map_key, material.glance.profile_key}
    keys |= {
        key for day in material.days for way in day.ways for key in (way.map_key, way.profile_key) if key
    }
    assert keys == set(material.drawings)
    assert all(drawn.alt for drawn in material.drawings.values())


def test_what_is_kept_when_guests_are_forgotten_names_nobody_and_no_net_price() -> None:
    kept = frozen_figures(assessed())
    assert kept["price"] == "4348.00 EUR"
    assert str(assessed().quote.net.amount) not in str(kept)
    assert "Alder" not in str(kept)


def test_photographs_are_shown_with_their_words_and_left_out_without() -> None:
    told = Picture(payload=PIXEL, media_type="image/png", width=1, height=1, alt="A quay", credit="M. Tolk")
    mute = Picture(payload=PIXEL, media_type="image/png", width=1, height=1)
    shown = shown_from({"a": told, "b": mute}.get)
    found = shown("a")
    assert found is not None
    assert (found.alt, found.credit, found.media_type) == ("A quay", "M. Tolk", "image/png")
    assert shown("b") is None
    assert shown("c") is None


def test_files_are_written_all_or_none(tmp_path: Path) -> None:
    out = tmp_path / "new" / "folder"
    paths = write_files({"a.html": b"1", "b.pdf": b"2"}, out)
    assert [path.read_bytes() for path in paths] == [b"1", b"2"]
    with pytest.raises(ProposalRefused, match="is there already"):
        write_files({"c.html": b"3", "b.pdf": b"4"}, out)
    assert sorted(path.name for path in out.iterdir()) == ["a.html", "b.pdf"]
    take_back(paths)
    assert list(out.iterdir()) == []


def test_a_folder_that_is_a_file_is_refused_and_left(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("mine")
    with pytest.raises(ProposalRefused, match="can't be written"):
        write_files({"a.html": b"1"}, blocked)
    assert blocked.read_text() == "mine"


@pytest.mark.parametrize("name", ["../a.html", "a/b.html", "con", ".hidden", "a\x00b"])
def test_no_name_leaves_the_folder(name: str, tmp_path: Path) -> None:
    with pytest.raises(ProposalRefused, match="can't be the name"):
        write_files({name: b"1"}, tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("text", ["../../etc/passwd", "CON", "a\x00b\nc", "x" * 5_000, "...", "😀"])
def test_whatever_a_trip_is_called_its_files_stay_in_the_folder(text: str, tmp_path: Path) -> None:
    trip, variant = hostile(text)
    inputs = Inputs(trip, variant.id, island(), RULES, as_of=TODAY)
    made = prepare(telling_of(inputs, assessed(), language(), revision=3, made_at=MADE_AT), draft=True)
    out = tmp_path / "out"
    [path] = write_files({page_of(made).name: page_of(made).content}, out)
    assert path.parent == out
    assert [each.name for each in tmp_path.iterdir()] == ["out"]
    assert "A Proposal 3 Draft.html" in path.name


def test_a_theme_gives_the_page_its_colours_name_and_logo(tmp_path: Path) -> None:
    (tmp_path / "sign.png").write_bytes(PIXEL)
    file = tmp_path / "theme.toml"
    file.write_text(
        'name = "Shore & Hill"\nlogo = "sign.png"\n[colours]\nink = "#101820"\n', encoding="utf-8"
    )
    page = page_of(prepared(theme=read_theme(file))).content.decode()
    assert "--ink: #101820" in page
    assert 'alt="Shore &amp; Hill"' in page
    assert f"data:image/png;base64,{base64.b64encode(PIXEL).decode()}" in page


def test_page_and_paper_say_the_same_and_are_named_alike() -> None:
    made = prepared(1, 0)
    page, paper = page_of(made), paper_of(made, Paper.LETTER)
    assert page.name.removesuffix(".html") == paper.name.removesuffix(".pdf")
    assert (page.media_type, paper.media_type) == ("text/html", "application/pdf")
    read = pypdf.PdfReader(io.BytesIO(paper.content))
    assert read.pages[0].mediabox.width == 612
    text = " ".join(" ".join(sheet.extract_text() for sheet in read.pages).split())
    for fact in made.material.days[3].ways[0].facts:
        assert fact.value in text
    assert made.material.price.total in text


def test_what_a_pdf_cannot_show_and_colours_too_faint_are_told_before() -> None:
    faint = replace(OURS, look=replace(OURS.look, soft="#dddddd"))
    assert any("too faint" in each.says for each in prepared(theme=faint).missing)
    assert not any("too faint" in each.says for each in prepared().missing)


def test_names_on_the_pages_maps_are_set_like_its_text() -> None:
    """The reader's machine has none of the fonts that paper brings, least of all its last resort."""
    svg = prepared().material.drawings["map-trip"].svg
    assert "Georgia" in svg
    assert "Mono" not in svg
