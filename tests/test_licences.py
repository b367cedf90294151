"""The notice of other people's licences: nothing that is locked is missing, and the command line shows it."""

import re
from pathlib import Path

import pytest

from lacet.cli import main
from lacet.licences import Licensed, licences

LOCK = Path(__file__).resolve().parent.parent / "app" / "requirements.lock"


def held(package: str) -> Licensed:
    return next(each for each in licences() if each.package == package)


def test_the_notice_has_every_locked_package_in_every_locked_version() -> None:
    """After a change of the lock: PYTHONPATH=app .venv/bin/python app/licence_notice.py"""
    locked = re.findall(r"^([\w.-]+)==(\S+)", LOCK.read_text(encoding="utf-8"), re.MULTILINE)
    noticed = [(each.package, version) for each in licences() for version in each.versions.split(" and ")]
    assert sorted(noticed) == sorted(locked)


def test_every_package_has_a_licence_and_a_text() -> None:
    for each in licences():
        assert each.licence
        assert re.search(r"^-{16} \S", each.text, re.MULTILINE), each.package
        assert f"https://pypi.org/project/{each.package}/" in each.text


def test_a_text_that_is_not_repeated_stands_where_it_is_said_to() -> None:
    for each in licences():
        for package in re.findall(r"^The same text as under (.+)\.$", each.text, re.MULTILINE):
            assert len(held(package).text) > len(each.text) / 2


@pytest.mark.parametrize(
    ("package", "words"),
    [
        ("pyside6", "GNU LESSER GENERAL PUBLIC LICENSE"),
        ("pyside6", "Version 3, 29 June 2007"),
        ("pyside6", "https://download.qt.io/official_releases/QtForPython/"),
        ("shiboken6", "https://download.qt.io/official_releases/QtForPython/"),
        ("orjson", "Mozilla Public License Version 2.0"),
        ("certifi", "https://github.com/certifi/python-certifi"),
        ("fontpkg-amiri", "SIL OPEN FONT LICENSE"),
        ("noto-cjk-sans-jp-regular", "SIL OPEN FONT LICENSE"),
        ("xstatic-leaflet", "Redistributions in binary form must reproduce the above copyright"),
    ],
)
def test_what_a_licence_asks_to_be_told_is_told(package: str, words: str) -> None:
    assert words.lower() in " ".join(held(package).text.split()).lower()


def test_the_command_line_lists_them_and_shows_one(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["licences"]) == 0
    listed = capfd.readouterr().out
    assert all(each.package in listed for each in licences())
    assert main(["licences", "PySide6"]) == 0
    assert "LGPL-3.0" in capfd.readouterr().out


def test_an_unknown_package_is_told(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["licences", "abacus"]) == 1
    assert capfd.readouterr().err == "lacet: abacus is none of these packages; 'lacet licences' lists them.\n"
