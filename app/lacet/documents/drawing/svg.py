"""Writes SVG: escaped text, short numbers, plain attributes. The one place where markup is made."""

from collections.abc import Iterable
from html import escape

from lacet.documents.material.values import Drawn
from lacet.tracks.track import Floats
from lacet.trip.printable import clean


def plain(text: str) -> str:
    """Text on one line, without signs that neither XML nor a page can bear."""
    return " ".join(clean(text).split())


def number(value: float) -> str:
    """At most two decimals [mm]: a hundredth is less than a printer resolves."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(name: str, text: str | None = None, /, **attributes: str | float) -> str:
    """One element; `stroke_width` becomes `stroke-width`."""
    said = "".join(
        f' {key.strip("_").replace("_", "-")}="{_value(value)}"' for key, value in attributes.items()
    )
    return (
        f"<{name}{said}/>" if text is None else f"<{name}{said}>{escape(plain(text), quote=False)}</{name}>"
    )


def _value(value: str | float) -> str:
    return escape(value) if isinstance(value, str) else number(value)


def group(parts: Iterable[str], **attributes: str | float) -> str:
    """Elements that share attributes."""
    return element("g", **attributes)[:-2] + ">" + "".join(parts) + "</g>"


def path_of(x_mm: Floats, y_mm: Floats, *, closed: bool = False) -> str:
    """The data of a path through points."""
    pairs = [f"{number(x)} {number(y)}" for x, y in zip(x_mm.tolist(), y_mm.tolist(), strict=True)]
    return f"M{'L'.join(pairs)}" + ("Z" if closed else "")


def drawn(parts: Iterable[str], size_mm: tuple[float, float], family: str, alt: str) -> Drawn:
    """A whole drawing; one unit of the drawing is one millimetre, `family` a list of font families."""
    wide, high = number(size_mm[0]), number(size_mm[1])
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm"'
        f' viewBox="0 0 {wide} {high}" role="img" aria-label="{escape(plain(alt))}"'
        f' font-family="{escape(family)}">{"".join(parts)}</svg>'
    )
    return Drawn(svg=svg, width_mm=size_mm[0], height_mm=size_mm[1], alt=plain(alt))
