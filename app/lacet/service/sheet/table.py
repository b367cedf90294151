"""The sheet as plain values: which rows and columns there are and what stands in each cell.

A parted day takes one column a group, so each half is a cell of its own for the mouse, the keyboard and
a screen reader. Every cell says itself in full (`says`) beside what is drawn (`text`).
"""

from dataclasses import dataclass, field
from enum import StrEnum

from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import in_english
from lacet.service.sheet.cards import card_of
from lacet.service.sheet.cells import Cell
from lacet.service.sheet.figures import battery_cell, climb_cell, clock_cell, distance_cell, time_cell
from lacet.service.sheet.services import checks_cell, dinner_cell, moves_cell, night_cell, price_cell
from lacet.service.shown import Shown
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Item
from lacet.wording import ENGLISH, Wording

EMPTY_DAY = Cell("drop a stage here", says="nothing planned yet", tone="quiet")


class RowKind(StrEnum):
    """The rows of the sheet, from the top."""

    CARD = "Stages"
    PROFILE = "Profile"
    DISTANCE = "Distance"
    CLIMB = "Up · down"
    TIME = "Moving"
    CLOCK = "Done by · sunset"
    BATTERY = "Battery left"
    NIGHT = "Night"
    DINNER = "Dinner"
    MOVES = "Bags · bikes"
    PRICE = "Price a head"
    CHECKS = "Checks"


@dataclass(frozen=True, slots=True)
class Column:
    """One day, or one group of a parted day. `day` counts from 0."""

    day: int
    group: int
    groups: int


@dataclass(frozen=True, slots=True)
class SheetTable:
    """All cells of one variant, and how its figures are said; `lane` numbers the rows of cards."""

    shown: Shown
    columns: tuple[Column, ...]
    rows: tuple[tuple[RowKind, int], ...]
    cells: dict[tuple[int, int], Cell] = field(compare=False)
    wording: Wording = ENGLISH

    def row_of(self, kind: RowKind) -> int:
        """The first row of a kind."""
        return next(index for index, (each, _) in enumerate(self.rows) if each is kind)

    def figures(self, column: int) -> DayFigures:
        return self.shown.assessment.figures.days[self.columns[column].day]

    def group(self, column: int) -> GroupFigures | None:
        here = self.columns[column]
        groups = self.figures(column).groups
        return groups[here.group] if here.group < len(groups) else None

    def columns_of_day(self, day: int) -> tuple[int, ...]:
        return tuple(index for index, column in enumerate(self.columns) if column.day == day)


@dataclass(frozen=True, slots=True)
class Reader:
    """What cells are made from, besides the day."""

    shown: Shown
    catalogue: Catalogue
    rules: HouseRules
    wording: Wording = ENGLISH
    show_money: bool = True


def sheet_table(reader: Reader) -> SheetTable:
    """Lay out one variant."""
    days = reader.shown.assessment.figures.days
    columns = tuple(
        Column(index, group, max(len(day.groups), 1))
        for index, day in enumerate(days)
        for group in range(max(len(day.groups), 1))
    )
    table = SheetTable(reader.shown, columns, (), {})
    lanes = 1 + max((len(_items(table, index)) for index in range(len(columns))), default=0)
    below = [kind for kind in RowKind if kind is not RowKind.CARD]
    rows = (*((RowKind.CARD, lane) for lane in range(lanes)), *((kind, 0) for kind in below))
    cells = {
        (row, column): _cell(reader, table, kind, lane, column)
        for row, (kind, lane) in enumerate(rows)
        for column in range(len(columns))
    }
    return SheetTable(reader.shown, columns, rows, cells, reader.wording)


def _items(table: SheetTable, column: int) -> tuple[Item, ...]:
    """The cards of a column: what its group does, and the day's notes on its first half."""
    group = table.group(column)
    here = table.columns[column]
    day = table.shown.variant.days[here.day]
    if group is None:
        return day.items
    taken = {item.id for item in group.items}
    shared = {item.id for each in table.figures(column).groups for item in each.items}
    return tuple(
        item for item in day.items if item.id in taken or (item.id not in shared and here.group == 0)
    )


def _cell(reader: Reader, table: SheetTable, kind: RowKind, lane: int, column: int) -> Cell:
    here = table.columns[column]
    day, group = table.figures(column), table.group(column)
    planned = reader.shown.variant.days[here.day]
    wording = reader.wording
    if kind is RowKind.CARD:
        items = _items(table, column)
        if lane < len(items):
            return card_of(items[lane], reader.catalogue, day, group, wording)
        return EMPTY_DAY if lane == 0 else Cell()
    if kind is RowKind.NIGHT:
        return night_cell(reader.shown, reader.catalogue, here.day, group, wording)
    if kind is RowKind.DINNER:
        return dinner_cell(planned, reader.catalogue, group)
    if kind is RowKind.MOVES:
        return moves_cell(planned, here.group, reader.catalogue)
    if kind is RowKind.PRICE:
        return price_cell(reader.shown, day.number, here.group, wording, reader.show_money)
    if kind is RowKind.CHECKS:
        return checks_cell(reader.shown, day.number, here.group, in_english(reader.wording))
    if group is None or not group.legs:
        return Cell()
    makers = {
        RowKind.DISTANCE: distance_cell,
        RowKind.CLIMB: climb_cell,
        RowKind.TIME: time_cell,
        RowKind.CLOCK: clock_cell,
        RowKind.BATTERY: battery_cell,
    }
    maker = makers.get(kind)
    return maker(day, group, reader.rules, wording) if maker else Cell()
