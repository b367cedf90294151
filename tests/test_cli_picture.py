"""Pictures from the command line: all of them or none, with words, on a new version of the item."""

import io
from pathlib import Path

import pytest
from PIL import Image

from lacet.cli import main
from lacet.store import open_project
from lacet.trip.library import Lodging
from tests.small_library import write_small_project


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    return path


def photograph(path: Path, colour: str) -> Path:
    file = io.BytesIO()
    Image.new("RGB", (2400, 1200), colour).save(file, "PNG")
    path.write_bytes(file.getvalue())
    return path


def house(project: Path) -> Lodging:
    with open_project(project) as opened:
        return next(item for item in opened.catalogue().current(Lodging) if item.name == "Birch House")


def test_pictures_are_kept_small_with_their_words(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = house(project)
    file = photograph(project.with_name("front.png"), "navy")
    assert main(["picture", str(project), "birch house", str(file), "--alt", "The house from the lane",
                 "--credit", "The office"]) == 0  # fmt: skip
    after = house(project)
    assert after.version == before.version + 1
    assert "1 pictures" not in capsys.readouterr().out
    with open_project(project) as opened, opened.reading() as unit:
        kept = unit.pictures.get(after.picture_ids[0])
    assert kept is not None
    assert (kept.width, kept.height, kept.media_type) == (1600, 800, "image/jpeg")
    assert (kept.alt, kept.credit) == ("The house from the lane", "The office")


def test_a_new_picture_can_be_set_first(project: Path) -> None:
    for name, colour, first in (("a", "navy", []), ("b", "teal", ["--first"])):
        file = photograph(project.with_name(f"{name}.png"), colour)
        assert main(["picture", str(project), "Birch House", str(file), "--alt", colour, *first]) == 0
    with open_project(project) as opened, opened.reading() as unit:
        kept = [unit.pictures.get(picture_id) for picture_id in house(project).picture_ids]
    assert [each.alt for each in kept if each is not None] == ["teal", "navy"]


def test_one_refused_picture_keeps_all_out(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    good = photograph(project.with_name("good.png"), "navy")
    bad = project.with_name("bad.jpg")
    bad.write_bytes(b"hello")
    before = house(project)
    assert main(["picture", str(project), "Birch House", str(good), str(bad), "--alt", "The house"]) == 1
    assert "bad.jpg: this is no JPEG" in capsys.readouterr().err
    assert house(project) == before


@pytest.mark.parametrize(
    ("item", "alt", "says"),
    [
        ("Nowhere Inn", "The house", "no place, stage, lodging or restaurant called"),
        ("Birch House", " ", "--alt"),
    ],
)
def test_what_cannot_be_done_is_said(
    project: Path, item: str, alt: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = photograph(project.with_name("a.png"), "navy")
    assert main(["picture", str(project), item, str(file), "--alt", alt]) == 1
    assert says in capsys.readouterr().err
