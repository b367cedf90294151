"""Drawings within a tagged PDF: the typesetter takes them, their words stay text, what they show is told."""

from pathlib import Path

import typst
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from lacet.documents.drawing.maps import trip_map
from lacet.documents.drawing.profiles import trip_profile
from lacet.documents.drawing.scene import Manner, scene_of
from tests.documents.material.island import assessed, island

PAGE = """
#set document(title: "Maps")
#set text(lang: "en")
#set page(width: 194mm, height: auto, margin: 10mm)
"""


def test_names_and_figures_are_text_in_a_tagged_document(tmp_path: Path) -> None:
    figures = assessed().figures
    made = {
        "map": trip_map(scene_of(figures, island()), Manner()),
        "profile": trip_profile(figures, Manner()),
    }
    source = PAGE
    for name, drawing in made.items():
        (tmp_path / f"{name}.svg").write_text(drawing.svg, encoding="utf-8")
        source += f'#image("{name}.svg", alt: "{drawing.alt}")\n'
    (tmp_path / "maps.typ").write_text(source, encoding="utf-8")
    target = tmp_path / "maps.pdf"
    # Without the machine's own fonts: those that the typesetter brings are enough for the demo.
    typst.compile(tmp_path / "maps.typ", output=target, pdf_standards=["ua-1"], ignore_system_fonts=True)
    reader = PdfReader(target)
    said = " ".join(reader.pages[0].extract_text().split())
    for name in ("Hollowmere", "Kiln Bay", "10 km", "800 m"):
        assert name in said
    assert alternatives(reader) == {drawing.alt for drawing in made.values()}
    width = float(reader.pages[0].mediabox.width) / 72 * 25.4
    assert abs(width - 194) < 0.1


def alternatives(reader: PdfReader) -> set[str]:
    """What the document's structure says that its figures show."""
    count = int(str(reader.trailer["/Size"]))
    objects = (reader.get_object(number) for number in range(1, count))
    return {str(each["/Alt"]) for each in objects if isinstance(each, DictionaryObject) and "/Alt" in each}
