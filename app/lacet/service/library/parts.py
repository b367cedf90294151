"""The small tables inside items: rooms of a house, lines of a tariff, answers of a kitchen.

Described as the sheets of `intake` are, so one editor and one reader serve them all. What a sheet keeps in
one cell ("vegan: yes; milk: on request") is a table here.
"""

from dataclasses import dataclass
from typing import Any

from lacet.intake.cells import Id, Number, Text, Word, shown
from lacet.intake.columns import Column, SheetKind
from lacet.intake.ground import CLOSURES, CUES, POINTS, RECORDINGS, column
from lacet.intake.problems import CellRefused
from lacet.intake.trade import RATES, ROOMS
from lacet.trip.library import Assist, Depot, DietAnswer
from lacet.trip.party import NEED_KINDS
from lacet.trip.words import Answer


@dataclass(frozen=True, slots=True)
class OneOf:
    """One of some words that aren't an enumeration."""

    words: tuple[str, ...]

    @property
    def expects(self) -> str:
        return f"one of {', '.join(self.words)}"

    def read(self, text: str, comma: bool = False) -> str:
        word = text.strip().casefold()
        if word not in self.words:
            raise CellRefused(f"{shown(text)} isn't {self.expects}.")
        return word

    def write(self, value: str) -> str:
        return value


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A table within an item: the field that holds its rows, and what a row is."""

    field: str
    title: str
    one: str
    sheet: SheetKind

    @property
    def columns(self) -> tuple[Column, ...]:
        """What is edited; the column that names the owner, and what isn't kept, are left out."""
        return self.sheet.kept


def _small(name: str, one: str, makes: type[Any], *columns: Column) -> SheetKind:
    return SheetKind(name=name, one=one, makes=makes, says="", columns=columns)


_PERCENT = Number("%", 0, 1000)


def _give_assist(level: Assist) -> dict[str, Any]:
    return {"name": level.name, "percent": round(level.share * 100, 6)}


_DIETS = _small(
    "diets",
    "answer",
    DietAnswer,
    column("need", "what a guest may need", OneOf(NEED_KINDS), required=True),
    column("answer", "what the kitchen said", Word(Answer), required=True),
)
_DEPOTS = _small(
    "depots",
    "depot",
    Depot,
    column("place", "where they stand", Id(), required=True, refers="places"),
    column("count", "how many", Number("bikes", 0, 10_000, whole=True), required=True),
)
_ASSISTS = SheetKind(
    name="assists",
    one="level",
    makes=Assist,
    says="",
    give=_give_assist,
    take=lambda known: {"name": known["name"], "share": known["percent"] / 100},
    columns=(
        column("name", "as on the handlebar", Text(), required=True),
        column("percent", "motor's power as percent of the rider's", _PERCENT, required=True),
    ),
)

PARTS: dict[str, tuple[Part, ...]] = {
    "stages": (
        Part(field="closures", title="Closures", one="closure", sheet=CLOSURES),
        Part(field="points", title="Points on the way", one="point", sheet=POINTS),
        Part(field="cues", title="Directions", one="direction", sheet=CUES),
        Part(field="recordings", title="Recorded times", one="recording", sheet=RECORDINGS),
    ),
    "lodgings": (
        Part(field="rooms", title="Rooms", one="kind of room", sheet=ROOMS),
        Part(field="diets", title="What the kitchen said", one="answer", sheet=_DIETS),
    ),
    "restaurants": (Part(field="diets", title="What the kitchen said", one="answer", sheet=_DIETS),),
    "bikes": (
        Part(field="depots", title="Where they stand", one="depot", sheet=_DEPOTS),
        Part(field="assists", title="Assist levels", one="level", sheet=_ASSISTS),
    ),
    "tariffs": (Part(field="rates", title="Rates", one="rate", sheet=RATES),),
}
