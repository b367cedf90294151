"""Colours: contrast as WCAG 2.2 asks for it (1.4.3: 4.5 to 1 for text; 1.4.11: 3 to 1 for what is drawn)."""

import pytest

from lacet.window.theme import DARK, LIGHT, Theme

GROUNDS = ("paper", "panel", "raised", "selected")
TEXT = [
    *((ink, ground) for ink in ("ink", "quiet") for ground in GROUNDS),
    *((ink, ground) for ink in ("accent", "good", "warn", "stop") for ground in ("paper", "raised")),
    ("on_accent", "accent"),
    ("good", "good_fill"), ("warn", "warn_fill"), ("stop", "stop_fill"),
    ("ink", "stone_fill"), ("quiet", "stone_fill"), ("ink", "night_fill"),
]  # fmt: skip
DRAWN = [
    (line, ground) for line in ("foot", "bike", "stone") for ground in ("paper", "raised", f"{line}_fill")
]


def luminance(colour: str) -> float:
    """Relative luminance, as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_reckoned_as_published() -> None:
    """Black on white is 21 to 1; #767676 is the lightest grey that passes on white (from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize(("ink", "ground"), TEXT)
def test_text_can_be_read(theme: Theme, ink: str, ground: str) -> None:
    assert contrast(getattr(theme, ink), getattr(theme, ground)) >= 4.5


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize(("line", "ground"), DRAWN)
def test_lines_can_be_seen(theme: Theme, line: str, ground: str) -> None:
    assert contrast(getattr(theme, line), getattr(theme, ground)) >= 3.0
