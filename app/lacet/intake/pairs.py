"""Cells that hold a short list of pairs: surfaces by kilometre, diets, assist levels, depots, weekdays."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from lacet.days.holidays import WEEKDAYS
from lacet.intake.cells import LIST_MARK, Number, Word, decimal_of, shown
from lacet.intake.problems import CellRefused
from lacet.trip.library import Assist, Depot, DietAnswer, SurfaceStretch, TrafficStretch
from lacet.trip.party import NEED_KINDS
from lacet.trip.words import Answer, Surface, Traffic

_STRETCH = re.compile(r"([\d.,]+)\s*-\s*([\d.,]+)\s+(\S.*)")
_KM = Number("km", 0, 1000, scale=1000)
_SHARE = Number("%", 0, 1000)


def _parts(text: str, mark: str = LIST_MARK) -> list[str]:
    return [part.strip() for part in text.split(mark) if part.strip()]


@dataclass(frozen=True, slots=True)
class Stretches:
    """What holds between two distances [km]: '0.0-1.2 asphalt; 1.2-5.4 path'."""

    words: type[StrEnum]
    make: type[SurfaceStretch] | type[TrafficStretch]

    @property
    def expects(self) -> str:
        return f"km from-to and one of {', '.join(self.words)}; several with ';' between"

    def read(self, text: str, comma: bool = False) -> tuple[Any, ...]:
        return tuple(self._one(part, comma) for part in _parts(text))

    def _one(self, part: str, comma: bool) -> Any:
        found = _STRETCH.fullmatch(part.replace("–", "-"))
        if found is None:
            raise CellRefused(f"{shown(part)} should be km from-to and a word, such as 0.0-1.2 asphalt.")
        begins, ends = (_KM.read(distance, comma) for distance in found.groups()[:2])
        if ends <= begins:
            raise CellRefused(f"{shown(part)} ends before it begins.")
        word = Word(self.words).read(found[3])
        return self.make(begins, ends, word)  # type: ignore[arg-type] # the word is of the maker's vocabulary

    def write(self, value: tuple[Any, ...]) -> str:
        return "; ".join(
            f"{_KM.write(each.from_m)}-{_KM.write(each.to_m)} {getattr(each, self.words.__name__.lower())}"
            for each in value
        )


@dataclass(frozen=True, slots=True)
class Diets:
    """What a kitchen says to needs: 'vegan: yes; milk: on request'."""

    expects: str = "need: yes, no or on request; several with ';' between"

    def read(self, text: str, comma: bool = False) -> tuple[DietAnswer, ...]:
        return tuple(self._one(part) for part in _parts(text))

    def _one(self, part: str) -> DietAnswer:
        need, colon, answer = (piece.strip() for piece in part.partition(":"))
        if not colon:
            raise CellRefused(f"{shown(part)} should be a need and an answer, such as vegan: yes.")
        if need.casefold() not in NEED_KINDS:
            raise CellRefused(f"{shown(need)} isn't a need; write one of {', '.join(NEED_KINDS)}.")
        word = Word(Answer).read(answer)
        return DietAnswer(need.casefold(), Answer(word))

    def write(self, value: tuple[DietAnswer, ...]) -> str:
        return "; ".join(f"{each.need}: {each.answer.value.replace('_', ' ')}" for each in value)


@dataclass(frozen=True, slots=True)
class Assists:
    """Levels of an e-bike by the motor's share of the rider's power: 'low 60 %; high 200 %'."""

    expects: str = "name and percent, such as low 60 %; several with ';' between"

    def read(self, text: str, comma: bool = False) -> tuple[Assist, ...]:
        return tuple(self._one(part, comma) for part in _parts(text))

    def _one(self, part: str, comma: bool) -> Assist:
        name, _, share = part.removesuffix("%").strip().rpartition(" ")
        if not name:
            raise CellRefused(f"{shown(part)} should be {self.expects}.")
        _SHARE.read(share, comma)
        return Assist(name.strip(), float(decimal_of(share, comma, self.expects) / 100))

    def write(self, value: tuple[Assist, ...]) -> str:
        # Dividing by a hundredth is multiplying by a hundred, in exact decimals.
        return "; ".join(f"{each.name} {Number(scale=1).write(_percent(each.share))} %" for each in value)


def _percent(share: float) -> float:
    return float(decimal_of(repr(share), False, "a share") * 100)


@dataclass(frozen=True, slots=True)
class Depots:
    """How many stand where: 'port-verrin 6; hollowmere 2'."""

    expects: str = "place id and number, such as port-verrin 6; several with ';' between"

    def read(self, text: str, comma: bool = False) -> tuple[Depot, ...]:
        return tuple(self._one(part) for part in _parts(text))

    def _one(self, part: str) -> Depot:
        place, _, count = part.rpartition(" ")
        if not place.strip() or " " in place.strip() or not count.isdecimal():
            raise CellRefused(f"{shown(part)} should be a place's id and a number, such as port-verrin 6.")
        return Depot(place.strip(), int(count))

    def write(self, value: tuple[Depot, ...]) -> str:
        return "; ".join(f"{each.place} {each.count}" for each in value)


@dataclass(frozen=True, slots=True)
class Weekdays:
    """Days of the week, Monday 0: 'Fr, Sa' or 'Mo-Th'."""

    expects: str = "weekdays such as Fr, Sa or Mo-Th"

    def read(self, text: str, comma: bool = False) -> tuple[int, ...]:
        days: list[int] = []
        for part in _parts(text.replace("–", "-"), ","):
            first, dash, last = (piece.strip().capitalize() for piece in part.partition("-"))
            if first not in WEEKDAYS or (dash and last not in WEEKDAYS):
                raise CellRefused(f"{shown(part)} isn't {self.expects}.")
            begin, end = WEEKDAYS.index(first), WEEKDAYS.index(last or first)
            days += [(begin + step) % 7 for step in range((end - begin) % 7 + 1)]
        return tuple(days)

    def write(self, value: tuple[int, ...]) -> str:
        return ", ".join(WEEKDAYS[day] for day in value)


SURFACES = Stretches(Surface, SurfaceStretch)
TRAFFIC = Stretches(Traffic, TrafficStretch)
