"""How drawings look: colours, lines and type, for print in colour and for a copier or bright sun.

Text meets WCAG 2.2 contrast (4.5 to 1) on its grounds. A way is told by its line too, dotted on foot and
unbroken by bike; so nothing is lost without colours.
"""

from dataclasses import dataclass

from lacet.tracks.relief import Tint


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Colours as hex text; `family` is a list of font families, the first one found is used."""

    name: str
    family: str
    paper: str
    ink: str
    quiet: str
    hairline: str
    foot: str
    foot_fill: str
    bike: str
    bike_fill: str
    other: str
    ride: str
    contour: str
    sea: str
    ground: str
    tint: Tint


FAMILY = "Libertinus Serif, Noto Serif, Georgia, DejaVu Serif, serif"

COLOUR = Look(
    name="colour",
    family=FAMILY,
    paper="#fffdf8",
    ink="#1d2b33",
    quiet="#55616a",
    hairline="#d5d2c8",
    foot="#a8481a",
    foot_fill="#f1dccf",
    bike="#17618c",
    bike_fill="#d3e3ed",
    other="#857f74",
    ride="#5f6a70",
    contour="#b39a78",
    sea="#d6e4ea",
    ground="#f0ede2",
    tint=Tint(
        name="colour",
        steps=((229, 235, 213), (238, 237, 216), (240, 232, 210), (232, 221, 203), (249, 245, 237)),
        shade_share=0.5,
        coast=(120, 146, 153),
    ),
)

BLACK = Look(
    name="black",
    family=FAMILY,
    paper="#ffffff",
    ink="#000000",
    quiet="#3a3a3a",
    hairline="#b4b4b4",
    foot="#000000",
    foot_fill="#f4f4f4",
    bike="#000000",
    bike_fill="#d2d2d2",
    other="#7a7a7a",
    ride="#4a4a4a",
    contour="#8c8c8c",
    sea="#e6e6e6",
    ground="#fbfbfb",
    tint=Tint(
        name="black",
        steps=((252, 252, 252), (249, 249, 249), (246, 246, 246), (250, 250, 250), (254, 254, 254)),
        shade_share=0.32,
        coast=(110, 110, 110),
    ),
)
