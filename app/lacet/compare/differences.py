"""Each difference between two variants as one sentence a product manager reads."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from lacet.assess import Assessment
from lacet.figures.values import DayFigures, GroupFigures
from lacet.price.shares import price_a_head
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Lodging, Restaurant, Stage
from lacet.trip.money import Money
from lacet.trip.trip import Day, Leg, Ride, Variant
from lacet.trip.words import MealKind, Way
from lacet.wording import Wording, listed

LENGTH_MATTERS_M = 200.0
CLIMB_MATTERS_M = 20.0
TIME_MATTERS_S = 300.0
DROPPED = "dropped"


DayPrices: TypeAlias = Mapping[int | None, Money | None]
"""What each day adds to the price a head."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference to the base.

    `day` counts from 1 in the variant itself, or in the base where the variant has no such day; None is the
    whole trip. `side` is the variant's place in the comparison. `kind` is 'added', 'dropped', 'way', 'stage',
    'lodging', 'dinner', 'findings' or 'price'.
    """

    variant: str
    day: int | None
    kind: str
    says: str
    side: int = 0


@dataclass(frozen=True, slots=True)
class Narrator:
    """Tells the differences of one variant to the base; without `prices` no day's price is told."""

    base: tuple[Variant, Assessment]
    other: tuple[Variant, Assessment]
    catalogue: Catalogue
    wording: Wording
    prices: tuple[DayPrices, DayPrices] = ({}, {})

    def tell(self, pairs: tuple[tuple[int | None, int | None], ...]) -> tuple[Difference, ...]:
        """All differences, by day and then of the whole trip."""
        found: list[Difference] = []
        for base, other in pairs:
            found += self._pair(base, other)
        return (*found, *self._price())

    def _pair(self, base: int | None, other: int | None) -> list[Difference]:
        if other is None:
            assert base is not None, "a row of the alignment is never empty"
            return [self._made(base, DROPPED, f"without {self._day_words(self.base, base)}")]
        if base is None:
            return [self._made(other, "added", f"one day more: {self._day_words(self.other, other)}")]
        told = [*self._way_on(base, other), *self._services(base, other)]
        return [*self._priced(told, base, other), *self._findings(base, other)]

    def _way_on(self, base: int, other: int) -> list[Difference]:
        before, after = self._words(self.base, base), self._words(self.other, other)
        if before == after:
            return []
        figures = self._figure_words(_group(self.base[1], base), _group(self.other[1], other))
        ways_change = _ways(self.base[1], base) != _ways(self.other[1], other)
        says = f"{after} instead of {before}" + (f": {figures}" if figures else "")
        return [self._made(other, "way" if ways_change else "stage", says)]

    def _priced(self, told: list[Difference], base: int, other: int) -> list[Difference]:
        """What the day costs a head more or less, with the first thing told of it or by itself."""
        one, two = (prices.get(day + 1) for prices, day in zip(self.prices, (base, other), strict=True))
        if one is None or two is None or one == two or one.currency != two.currency:
            return told
        said = self._money_words(one, two)
        if not told:
            return [self._made(other, "price", said)]
        joint = ", " if ": " in told[0].says and told[0].kind in ("way", "stage") else "; "
        return [replace(told[0], says=f"{told[0].says}{joint}{said}"), *told[1:]]

    def _services(self, base: int, other: int) -> list[Difference]:
        one, two = self.base[0].days[base], self.other[0].days[other]
        found = []
        for kind, tell in (("lodging", self._lodging), ("dinner", self._dinner)):
            before, after = tell(one), tell(two)
            if before != after:
                says = f"{kind}: {after or 'none'} instead of {before or 'none'}"
                found.append(self._made(other, kind, says))
        return found

    def _findings(self, base: int, other: int) -> list[Difference]:
        """A stop that only one of the two has."""
        one = self.base[1].day_works(base + 1)
        two = self.other[1].day_works(other + 1)
        if one is two or None in (one, two):
            return []
        return [self._made(other, "findings", "works, which the base does not" if two else "does not work")]

    def _price(self) -> list[Difference]:
        one, two = price_a_head(self.base[1].quote), price_a_head(self.other[1].quote)
        if one is None or two is None or one == two or one.currency != two.currency:
            return []
        starting = "from " if self.other[1].quote.is_from or self.base[1].quote.is_from else ""
        said = self._money_words(one, two)
        return [Difference(self.other[0].name, None, "price", f"{starting}{said}")]

    def _money_words(self, one: Money, two: Money) -> str:
        change = two - one
        said = self.wording.money(Money(abs(change.amount), change.currency))
        return f"{said} per person {'more' if change.amount > 0 else 'less'}"

    def _figure_words(self, one: GroupFigures | None, two: GroupFigures | None) -> str:
        if one is None or two is None:
            return ""
        parts = [
            _change(two.distance_m - one.distance_m, LENGTH_MATTERS_M, self.wording.length, ""),
            _change(two.moving_s - one.moving_s, TIME_MATTERS_S, self.wording.duration, ""),
        ]
        if one.ascent_m is not None and two.ascent_m is not None:
            parts.append(_change(two.ascent_m - one.ascent_m, CLIMB_MATTERS_M, self.wording.height, " climb"))
        return ", ".join(part for part in parts if part)

    def _day_words(self, side: tuple[Variant, Assessment], index: int) -> str:
        figures = side[1].figures.days[index]
        return f"{self._words(side, index)} (day {figures.number})"

    def _words(self, side: tuple[Variant, Assessment], index: int) -> str:
        return day_words(side[0].days[index], side[1].figures.days[index], self.catalogue)

    def _lodging(self, day: Day) -> str:
        found = [self.catalogue.get(Lodging, night.lodging) for night in day.nights]
        return listed([house.name for house in found if house is not None])

    def _dinner(self, day: Day) -> str:
        for meal in day.meals:
            if meal.kind is MealKind.DINNER:
                place = self.catalogue.get(Restaurant, meal.restaurant) if meal.restaurant else None
                return place.name if place else "at the house" if meal.at_lodging else "own choice"
        return ""

    def _made(self, index: int, kind: str, says: str) -> Difference:
        return Difference(self.other[0].name, index + 1, kind, says)


def day_words(day: Day, figures: DayFigures, catalogue: Catalogue) -> str:
    """'on foot over the Gap', 'by e-bike to Brack Harbour', 'rest at Ciderfold', 'transfer to Oster'."""
    legs = [item for item in day.items if isinstance(item, Leg)]
    if legs:
        return " and ".join(dict.fromkeys(leg_words(leg, figures, catalogue) for leg in legs))
    rides = [item for item in day.items if isinstance(item, Ride)]
    if rides:
        return f"transfer to {catalogue.place_name(rides[-1].to_place)}"
    group = figures.group
    where = catalogue.place_name(group.end_place) if group and group.end_place else ""
    return f"rest at {where}" if where else "rest"


def leg_words(leg: Leg, figures: DayFigures, catalogue: Catalogue) -> str:
    """'on foot, Pippin lane', 'by e-bike, Over the Range'."""
    stage = catalogue.get(Stage, leg.stage)
    name = stage.name if stage else leg.stage.id
    electric = any(each.batteries for group in figures.groups for each in group.legs if each.leg.id == leg.id)
    way = "on foot" if leg.way is Way.WALKING else "by e-bike" if electric else "by bike"
    return f"{way}, {name}"


def _group(found: Assessment, index: int) -> GroupFigures | None:
    return found.figures.days[index].group


def _ways(found: Assessment, index: int) -> tuple[Way, ...]:
    group = _group(found, index)
    return group.ways if group else ()


def _change(value: float, least: float, said: Callable[[float], str], what: str) -> str:
    if abs(value) < least:
        return ""
    return f"{said(abs(value))} {'more' if value > 0 else 'less'}{what}"
