"""A theme file meant to harm, or merely the wrong file, is refused at once and in a sentence."""

import os
from pathlib import Path

import pytest

from lacet.documents.typeset.theme import ThemeRefused, read_theme


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("x = " + "[" * 1_900, "nests lists deeper"),
        ("x = " + "[\n" * 2_000, "nests lists deeper"),
        ("x = " + "5" * 5_000, "line 1, has over 2,000 characters"),
        ("x = " + "5" * 1_900, "nobody knows 'x'"),
        ("a." * 30_000 + "b = 1", "line 1, has over 2,000 characters"),
        ("#" * 64_001, "larger than 64 kB"),
        ("x = 2027-02-31", "isn't TOML"),
    ],
)
def test_what_would_keep_the_reader_busy_is_refused(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "look.toml"
    path.write_text(text)
    with pytest.raises(ThemeRefused, match=says):
        read_theme(path)


def test_a_device_and_a_pipe_are_no_themes(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    for path in (tmp_path / "pipe.toml", Path("/dev/zero")):
        with pytest.raises(ThemeRefused, match="a pipe or a device"):
            read_theme(path)


def test_a_logo_that_never_ends_is_refused(tmp_path: Path) -> None:
    (tmp_path / "logo.png").symlink_to("/dev/zero")
    (tmp_path / "look.toml").write_text('logo = "logo.png"\n')
    with pytest.raises(ThemeRefused, match=r"the logo .*logo\.png can't be read: this is a pipe or a device"):
        read_theme(tmp_path / "look.toml")


def test_a_logo_of_no_possible_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "look.toml").write_text('logo = "a\\u0000.png"\n')
    with pytest.raises(ThemeRefused):
        read_theme(tmp_path / "look.toml")


def test_a_folder_of_fonts_holds_plain_files_only(tmp_path: Path) -> None:
    (tmp_path / "fonts").mkdir()
    os.mkfifo(tmp_path / "fonts" / "own.ttf")
    (tmp_path / "look.toml").write_text('[fonts]\ntext = ["Libertinus Serif"]\nfolder = "fonts"\n')
    with pytest.raises(ThemeRefused, match=r"own\.ttf: this is a pipe or a device"):
        read_theme(tmp_path / "look.toml")
    (tmp_path / "fonts" / "own.ttf").unlink()
    (tmp_path / "fonts" / "round").symlink_to(tmp_path)
    with pytest.raises(ThemeRefused, match="round: this is a folder, not a file"):
        read_theme(tmp_path / "look.toml")
