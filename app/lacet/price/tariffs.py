"""Which rate holds: the one place where tariffs are read.

Of the tariffs for a subject that are valid on the day the newest speaks first. Of its rates that fit, the
one that says most about the case wins: board, then room kind, single use, season, weekday, age, meal, and
last the longest minimum stay that is met (the shortest where none is; the quote tells that it isn't met).

A trip without a start has no date. Then every day that could be meant is asked, the lowest price is taken,
and where prices differ it is marked as assumed.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from functools import lru_cache, partial
from typing import TypeAlias
from weakref import WeakKeyDictionary

from lacet.price.lines import Unknown
from lacet.price.season import InSeason
from lacet.trip.catalogue import Catalogue, current_under
from lacet.trip.errors import LacetError
from lacet.trip.library import Rate, Tariff
from lacet.trip.words import Board, MealKind, Service, Unit

ADULT_YEARS = 30
"""Age taken for a guest who hasn't told it: past every child's rate and before every pensioner's."""

BOARDS = tuple(Board)
_ONE_DAY = timedelta(days=1)
_MOST_ANSWERS = 50_000

Picks: TypeAlias = tuple[tuple[Rate, int], ...]
Choice: TypeAlias = Callable[[tuple[Rate, ...]], Picks]


@dataclass(frozen=True, slots=True)
class When:
    """A date; or, where `on` is None, some day of a month or of the coming year, seen from `as_of`."""

    on: date | None
    month: int | None = None
    as_of: date = date.min

    def days(self) -> tuple[date, ...]:
        """Every day that could be meant, in order."""
        return (self.on,) if self.on is not None else _coming_days(self.month, self.as_of)


@lru_cache(maxsize=64)
def _coming_days(month: int | None, as_of: date) -> tuple[date, ...]:
    year = tuple(as_of + count * _ONE_DAY for count in range(1, 366))
    return tuple(day for day in year if month is None or day.month == month)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What is wanted of a tariff. `exact_board` asks for a rate of that board and no other."""

    service: Service
    subject: str = ""
    unit: Unit
    room_kind: str | None = None
    board: Board | None = None
    exact_board: bool = False
    single_use: bool = False
    age: int | None = None
    nights: int = 1
    meal: MealKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The rates that hold and how many of each, or why there are none."""

    tariff: Tariff | None = None
    picks: Picks = ()
    unknown: Unknown | None = None
    says: str = ""
    assumed: str = ""

    @property
    def rate(self) -> Rate | None:
        return self.picks[0][0] if self.picks else None


class TariffBook:
    """The tariffs of one catalogue by subject, with the answers already given.

    Parameters
    ----------
    filed_under
        The current tariffs under a subject, those for every trip under the empty one (`trip.filing`).
    """

    def __init__(self, filed_under: Callable[[str], Iterable[Tariff]], in_season: InSeason) -> None:
        self._filed_under = filed_under
        self._in_season = in_season
        self._answers: dict[object, Found] = {}
        self._open_days: dict[object, tuple[bool, ...]] = {}
        self._under: dict[str, tuple[Tariff, ...]] = {}
        self._by_subject: dict[tuple[Service, str], tuple[Tariff, ...]] = {}

    def tariffs(self, service: Service, subject: str = "") -> tuple[Tariff, ...]:
        """All tariffs for a subject, the newest first, valid or not."""
        key = (service, subject)
        if key not in self._by_subject:
            found = (each for each in self._filed(subject) if (each.service, each.subject_id) == key)
            newest_first = sorted(found, key=lambda each: (each.valid_from, each.id), reverse=True)
            self._by_subject[key] = tuple(newest_first)
        return self._by_subject[key]

    def fixed_subjects(self, service: Service) -> tuple[str, ...]:
        """Every subject that has a tariff of a service for every trip, in alphabetical order."""
        return tuple(sorted({each.subject_id for each in self._filed("") if each.service is service}))

    def _filed(self, key: str) -> tuple[Tariff, ...]:
        if key not in self._under:
            self._under[key] = tuple(self._filed_under(key))
        return self._under[key]

    def sells(self, service: Service, subject: str, unit: Unit) -> bool:
        """Whether any tariff for a subject has a rate in this unit, valid or not."""
        return any(rate.unit is unit for tariff in self.tariffs(service, subject) for rate in tariff.rates)

    def find(self, ask: Ask, when: When, among: tuple[Tariff, ...] | None = None) -> Found:
        """The rate that holds. `among` narrows the search to some tariffs."""
        return self._answer(
            (ask, when, among and among[0].id),
            self.tariffs(ask.service, ask.subject) if among is None else among,
            when,
            lambda rates: _best(ask, rates),
        )

    def vehicles(self, subject: str, people: int, seats: int | None, when: When) -> Found:
        """The cheapest vehicles that together carry everyone; of equal cost the fewest."""
        return self._answer(
            (subject, people, seats, when),
            self.tariffs(Service.TRANSFER, subject),
            when,
            lambda rates: _fleet(people, seats, rates),
        )

    def _answer(self, key: object, tariffs: tuple[Tariff, ...], when: When, choose: Choice) -> Found:
        known = self._answers.get(key)
        if known is None:
            if len(self._answers) > _MOST_ANSWERS:
                self._answers.clear()
                self._open_days.clear()
            try:
                known = self._search(tariffs, when, choose)
            except LacetError as error:
                known = Found(unknown=Unknown.UNREADABLE, says=str(error))
            self._answers[key] = known
        return known

    def _search(self, tariffs: tuple[Tariff, ...], when: When, choose: Choice) -> Found:
        if not tariffs:
            return Found(unknown=Unknown.NO_TARIFF, says="the library has no tariff for it")
        every = [self._on(tariffs, day, choose) for day in self._days(tariffs, when)]
        priced = [found for found in every if found.picks]
        if not priced:
            return every[-1]
        lowest = min(priced, key=_cost)
        if all(found.picks and _cost(found) == _cost(lowest) for found in every):
            return lowest
        return replace(lowest, assumed="lowest price of the time in question, as the trip has no date")

    def _days(self, tariffs: tuple[Tariff, ...], when: When) -> tuple[date, ...]:
        """The days to ask: of those on which the same tariffs and rates hold the first, and the very last."""
        days = when.days()
        if len(days) < 2:
            return days
        try:
            holding = [self._valid(tariff, days) for tariff in tariffs]
            opening = {(rate.season, rate.weekdays) for tariff in tariffs for rate in tariff.rates}
            holding += [self._opens(season, weekdays, when, days) for season, weekdays in opening]
        except LacetError:
            # A season nobody can read matters only where its rate is asked for.
            return days
        first: dict[tuple[bool, ...], date] = {}
        for day, holds in zip(days, zip(*holding, strict=True), strict=True):
            first.setdefault(holds, day)
        return (*first.values(), days[-1])

    def _valid(self, tariff: Tariff, days: tuple[date, ...]) -> tuple[bool, ...]:
        return tuple(tariff.valid_from <= day <= tariff.valid_to for day in days)

    def _opens(
        self, season: str, weekdays: tuple[int, ...], when: When, days: tuple[date, ...]
    ) -> tuple[bool, ...]:
        """On which days a rate of this season and these weekdays is open; seasons are few and shared."""
        known = self._open_days.get((season, weekdays, when))
        if known is None:
            known = self._open_days[season, weekdays, when] = tuple(
                (not weekdays or day.weekday() in weekdays) and (not season or self._in_season(season, day))
                for day in days
            )
        return known

    def _on(self, tariffs: tuple[Tariff, ...], day: date, choose: Choice) -> Found:
        valid = [tariff for tariff in tariffs if tariff.valid_from <= day <= tariff.valid_to]
        for tariff in valid:
            picks = choose(tuple(self._open(tariff, day)))
            if picks:
                return Found(tariff=tariff, picks=picks)
        return _why_not(tariffs, valid, day, choose)

    def _open(self, tariff: Tariff, day: date) -> Iterator[Rate]:
        for rate in tariff.rates:
            if rate.weekdays and day.weekday() not in rate.weekdays:
                continue
            if not rate.season or self._in_season(rate.season, day):
                yield rate


_BOOKS: WeakKeyDictionary[Catalogue, dict[InSeason, TariffBook]] = WeakKeyDictionary()


def tariff_book(catalogue: Catalogue, in_season: InSeason) -> TariffBook:
    """The tariffs of a catalogue, each looked up once: a catalogue never changes."""
    books = _BOOKS.setdefault(catalogue, {})
    if in_season not in books:
        # Of the items alone: a book that knew its catalogue would keep it for ever.
        held = catalogue.items.get(Tariff, {})
        books[in_season] = TariffBook(partial(current_under, held), in_season)
    return books[in_season]


def _why_not(tariffs: tuple[Tariff, ...], valid: list[Tariff], day: date, choose: Choice) -> Found:
    if not valid:
        ended = max(tariff.valid_to for tariff in tariffs)
        says = f"its tariff ended on {ended}" if ended < day else f"no tariff is valid on {day}"
        return Found(tariff=tariffs[0], unknown=Unknown.NOT_VALID, says=says)
    for tariff in valid:
        if choose(tariff.rates):
            return Found(tariff=tariff, unknown=Unknown.SEASON_GAP, says=f"its tariff has no rate on {day}")
    return Found(tariff=valid[0], unknown=Unknown.NO_RATE, says="its tariff has no rate for this case")


def _cost(found: Found) -> Decimal:
    return sum((rate.amount.amount * count for rate, count in found.picks), Decimal(0))


def _best(ask: Ask, rates: tuple[Rate, ...]) -> Picks:
    fitting = [rate for rate in rates if _fits(ask, rate)]
    return ((max(fitting, key=lambda rate: _rank(ask, rate)), 1),) if fitting else ()


def _fits(ask: Ask, rate: Rate) -> bool:
    age = ADULT_YEARS if ask.age is None else ask.age
    return (
        rate.unit is ask.unit
        and (rate.room_kind is None or rate.room_kind == ask.room_kind)
        and (rate.board is ask.board or not ask.exact_board)
        and (ask.single_use or not rate.single_use)
        and (rate.meal is None or rate.meal is ask.meal)
        and (rate.age_from is None or rate.age_from <= age)
        and (rate.age_to is None or age <= rate.age_to)
    )


def _rank(ask: Ask, rate: Rate) -> tuple[int, ...]:
    met = rate.minimum_nights <= ask.nights
    return (
        _board_rank(ask.board, rate.board),
        rate.room_kind is not None,
        rate.single_use,
        bool(rate.season),
        bool(rate.weekdays),
        rate.age_from is not None or rate.age_to is not None,
        rate.meal is not None,
        met,
        rate.minimum_nights if met else -rate.minimum_nights,
    )


def _board_rank(asked: Board | None, offered: Board | None) -> int:
    """The board itself; else the most short of it, which a supplement completes; else the least beyond."""
    if asked is None or asked is offered:
        return 10
    given = BOARDS.index(offered or Board.BREAKFAST)
    short_by = BOARDS.index(asked) - given
    return 9 if short_by == 0 else 8 - short_by if short_by > 0 else short_by


def _fleet(people: int, seats: int | None, rates: tuple[Rate, ...]) -> Picks:
    """Least cost, then fewest vehicles: the best for n people is one vehicle and the best for the rest."""
    kinds = [(rate, rate.vehicle_seats or seats or people) for rate in rates if rate.unit is Unit.VEHICLE]
    if not kinds or people == 0:
        return ()
    best: list[tuple[Decimal, int, tuple[Rate, ...]]] = [(Decimal(0), 0, ())]
    for count in range(1, people + 1):
        options = []
        for order, (rate, holds) in enumerate(kinds):
            cost, vehicles, fleet = best[max(0, count - holds)]
            options.append((cost + rate.amount.amount, vehicles + 1, order, (rate, *fleet)))
        cost, vehicles, _, fleet = min(options, key=lambda option: option[:3])
        best.append((cost, vehicles, fleet))
    return tuple(Counter(best[people][2]).items())
