"""What a map carries besides its ground: scale bar, north mark, stops, numbers, what the lines mean."""

from collections.abc import Sequence

from babel.numbers import format_decimal

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.labels import BASELINE_SHARE, Box
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element, group
from lacet.documents.drawing.ways import stroke_of
from lacet.documents.drawing.widths import width_mm
from lacet.language import Language
from lacet.trip.words import Way
from lacet.wording import METRES_PER_FOOT, METRES_PER_MILE

SMALL_MM = 2.5
PAD_MM = 3.5
SCALE_SHARE = 0.22
STOP_MM = 1.05
BADGE_MM = 1.9
HOUSE_MM = 1.25
DIRECTION_MM = 1.6


def figure(value: float, speech: Language) -> str:
    """'2', '0.5', '1000': a number as the reader's language writes it."""
    return str(format_decimal(round(value, 3), locale=speech.wording.language, group_separator=False))


def round_below(value: float) -> float:
    """The greatest of 1, 2, 5 times a power of ten that isn't above a value."""
    power = 10.0
    while power > value:
        power /= 10
    while power * 10 <= value:
        power *= 10
    return max(step * power for step in (1, 2, 5) if step * power <= value)


def scale_of(frame: Frame, speech: Language) -> tuple[float, str]:
    """How long the scale bar is [mm] and what it says: a round length, at most a fifth or so of the width."""
    most_m = frame.width_mm * SCALE_SHARE * frame.metres_per_mm
    if speech.wording.imperial:
        unit_m, unit = (METRES_PER_MILE, "mi") if most_m >= METRES_PER_MILE / 2 else (METRES_PER_FOOT, "ft")
    else:
        unit_m, unit = (1000.0, "km") if most_m >= 1000 else (1.0, "m")
    length = round_below(most_m / unit_m)
    return length * unit_m / frame.metres_per_mm, f"{figure(length, speech)} {unit}"


def scale_bar(frame: Frame, speech: Language, look: Look) -> tuple[str, Box]:
    """The scale bar in the lower left corner."""
    long_mm, says = scale_of(frame, speech)
    x, y = PAD_MM, frame.height_mm - PAD_MM
    half = element("rect", x=x, y=y - 0.9, width=long_mm / 2, height=0.9, fill=look.ink)
    whole = element(
        "rect", x=x, y=y - 0.9, width=long_mm, height=0.9, fill=look.paper, stroke=look.ink, stroke_width=0.18
    )
    said = rimmed(says, x + long_mm / 2, y - 2.0, SMALL_MM, look, anchor="middle")
    wide = max(long_mm, width_mm(says, SMALL_MM))
    middle = x + long_mm / 2
    box = Box(min(x, middle - wide / 2) - 1, y - 5.2, middle + wide / 2 + 1, frame.height_mm)
    return whole + half + said, box


def north_mark(frame: Frame, look: Look, says: str) -> tuple[str, Box]:
    """An arrow that points up, in the upper right corner."""
    x, y = frame.width_mm - PAD_MM - 1.6, PAD_MM + 2.6
    left = element("path", d=f"M{x:.2f} {y:.2f}l-1.7 4.6l1.7-1.1z", fill=look.ink)
    right = element(
        "path", d=f"M{x:.2f} {y:.2f}l1.7 4.6l-1.7-1.1z", fill=look.paper, stroke=look.ink, stroke_width=0.18,
        stroke_linejoin="round",
    )  # fmt: skip
    said = rimmed(says, x, y - 0.7, SMALL_MM, look, anchor="middle")
    return right + left + said, Box(x - 2.6, y - 3.2, x + 2.6, y + 5.2)


def rimmed(says: str, x: float, y: float, size_mm: float, look: Look, anchor: str) -> str:
    """Small upright text with a pale rim."""
    return element(
        "text", says, x=x, y=y, font_size=size_mm, text_anchor=anchor, fill=look.ink, stroke=look.paper,
        stroke_width=0.7, stroke_linejoin="round", paint_order="stroke",
    )  # fmt: skip


def stop_mark(x: float, y: float, look: Look, *, ends: bool = False) -> str:
    """A ring where a day ends; a day's own end is filled."""
    return element(
        "circle",
        cx=x,
        cy=y,
        r=STOP_MM,
        fill=look.ink if ends else look.paper,
        stroke=look.ink,
        stroke_width=0.4,
    )


def house_mark(x: float, y: float, look: Look) -> str:
    """A small house: where guests sleep."""
    roof = f"M{x - HOUSE_MM:.2f} {y:.2f}L{x:.2f} {y - HOUSE_MM:.2f}L{x + HOUSE_MM:.2f} {y:.2f}"
    walls = f"H{x + HOUSE_MM * 0.72:.2f}V{y + HOUSE_MM:.2f}H{x - HOUSE_MM * 0.72:.2f}V{y:.2f}Z"
    return element(
        "path", d=roof + walls, fill=look.ink, stroke=look.paper, stroke_width=0.5, stroke_linejoin="round",
        paint_order="stroke",
    )  # fmt: skip


def place_mark(x: float, y: float, look: Look) -> str:
    """A small dot: a place that is only named."""
    return element("circle", cx=x, cy=y, r=0.5, fill=look.quiet, stroke=look.paper, stroke_width=0.25)


def badge(says: str, x: float, y: float, look: Look, colour: str, radius_mm: float = BADGE_MM) -> str:
    """A number in a disc."""
    size = radius_mm * (1.42 if len(says) < 2 else 1.2 if len(says) == 2 else 0.9)
    disc = element("circle", cx=x, cy=y, r=radius_mm, fill=look.paper, stroke=colour, stroke_width=0.36)
    said = element(
        "text", says, x=x, y=y + size * BASELINE_SHARE, font_size=size, font_weight="bold",
        text_anchor="middle", fill=look.ink,
    )  # fmt: skip
    return group([disc, said])


def badge_box(x: float, y: float, radius_mm: float = BADGE_MM) -> Box:
    return Box(x - radius_mm - 0.2, y - radius_mm - 0.2, x + radius_mm + 0.2, y + radius_mm + 0.2)


def pin(x: float, y: float, at: tuple[float, float], says: str, look: Look) -> str:
    """A numbered disc beside its spot on the line, joined to it."""
    stroke = element(
        "path", d=f"M{x:.2f} {y:.2f}L{at[0]:.2f} {at[1]:.2f}", stroke=look.ink, stroke_width=0.22
    )
    spot = element("circle", cx=x, cy=y, r=0.5, fill=look.ink)
    return stroke + spot + badge(says, *at, look, look.ink, DIRECTION_MM)


def key_of_ways(frame: Frame, ways: Sequence[tuple[Way, str]], beside: Box, look: Look) -> tuple[str, Box]:
    """What the lines mean, right of the scale bar; nothing where all ways are the same."""
    if len(ways) < 2:
        return "", beside
    x, y = beside.right + 4.0, frame.height_mm - PAD_MM - 0.45
    begins = x
    parts = []
    for way, says in ways:
        data = f"M{x:.2f} {y:.2f}h7"
        parts.append(element("path", d=data, stroke=look.paper, stroke_width=1.5, stroke_linecap="round"))
        parts.append(stroke_of(data, way, look))
        parts.append(rimmed(says, x + 8.2, y + SMALL_MM * BASELINE_SHARE, SMALL_MM, look, anchor="start"))
        x += 8.2 + width_mm(says, SMALL_MM) + 3.0
    return "".join(parts), Box(begins - 1.0, y - 2.2, x - 2.0, frame.height_mm)


def note_beside(frame: Frame, says: str, beside: Box, look: Look) -> tuple[str, Box]:
    """A few words right of what stands in the lower left corner."""
    x, y = beside.right + 4.0, frame.height_mm - PAD_MM - 0.45
    said = rimmed(says, x, y + SMALL_MM * BASELINE_SHARE, SMALL_MM, look, anchor="start")
    return said, Box(x - 1.0, y - 2.2, x + width_mm(says, SMALL_MM) + 1.0, frame.height_mm)
