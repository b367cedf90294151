"""The page folium makes: local files only, and kept."""

import re
from pathlib import Path

import pytest

from lacet.window.map import page as subject
from lacet.window.map.page import ADDRESS, asset, content_type, make_page, page


def test_every_address_of_the_page_is_ours() -> None:
    made = make_page()
    addresses = re.findall(r'(?:src|href)="([^"]+)"', made)
    assert len(addresses) == 5
    assert all(address.startswith(ADDRESS) for address in addresses)
    assert "http:" not in made
    assert "https:" not in made


def test_folium_keeps_its_own_lists_for_other_maps() -> None:
    import folium

    before = list(folium.Map.default_js)
    make_page()
    assert folium.Map.default_js == before


def test_every_file_the_page_names_is_there() -> None:
    for name in re.findall(rf"{ADDRESS}([\w.]+)", make_page()):
        if name != subject.CHANNEL_SCRIPT:  # Qt's own, served by the engine's side
            assert len(asset(name)) > 1_000


def test_nothing_else_is_served() -> None:
    for name in ("../panel.py", "panel.py", "/etc/passwd", ""):
        with pytest.raises(FileNotFoundError):
            asset(name)


def test_the_page_is_made_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = page(tmp_path)
    monkeypatch.setattr(subject, "make_page", lambda: pytest.fail("made again"))
    assert page(tmp_path) == first


def test_a_cache_that_cannot_be_written_only_costs_time(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    assert b"lacet.begin(" in page(blocked / "cache")


def test_our_script_never_writes_names_as_markup() -> None:
    script = asset("map.js").decode()
    markup = re.findall(r"innerHTML|insertAdjacentHTML|bindTooltip|bindPopup|document\.write", script)
    assert markup == ["innerHTML"], "the one is the drawing on a button"


@pytest.mark.parametrize(
    ("name", "expected"),
    [("index.html", "text/html"), ("a.css", "text/css"), ("x.bin", "application/octet-stream")],
)
def test_files_are_served_as_what_they_are(name: str, expected: str) -> None:
    assert content_type(name) == expected
