"""Random items of every kind of sheet, made from the description of its columns."""

from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from lacet.intake.cells import (
    OPENING,
    SEASON,
    SEASONS,
    Amount,
    Clocks,
    Day,
    Id,
    Many,
    Number,
    Text,
    Word,
    YesNo,
)
from lacet.intake.columns import Column, SheetKind
from lacet.intake.ground import WaysCell
from lacet.intake.pairs import Assists, Depots, Diets, Stretches, Weekdays
from lacet.intake.trade import Currency
from lacet.trip.library import Assist, Depot, DietAnswer
from lacet.trip.party import NEED_KINDS
from lacet.trip.words import Answer, Way

PLACE_IDS = ("quay", "hill")
# A cell is trimmed, and no sheet holds control characters or half surrogate pairs.
TEXTS = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cn", "Co", "Cf")), max_size=30).map(
    str.strip
) | st.sampled_from(
    (
        "=1+1",
        "'=quoted",
        "+cmd|'/c calc'!A0",
        "@risk",
        "-dash",
        "+999 555 1000",
        "two\nlines",
        "a,b;c\td",
        '"q"',
        "007",
    )
)
# A list's own mark can't stand within one of its texts.
LISTED = TEXTS.map(lambda text: text.replace(";", ",").strip()).filter(bool)
SEASON_TEXTS = st.sampled_from(("11-01..03-15", "2027-04-10..2027-05-02", "Mo; We", "07-01..08-31 Mo"))
HOURS = st.sampled_from(("Mo-Su 18:00-22:00", "Tu-Su 11:30-14:00,18:00-22:00; PH off"))
WEEKDAYS = st.sets(st.integers(0, 6), min_size=1).map(lambda days: tuple(sorted(days)))


def values_of(column: Column) -> st.SearchStrategy[Any]:
    """Values a column may hold."""
    cell = column.cell
    if column.refers:
        return st.sampled_from(PLACE_IDS)
    if cell is SEASON:
        return SEASON_TEXTS
    if cell is SEASONS:
        return st.lists(SEASON_TEXTS, min_size=1, max_size=3).map(tuple)
    if cell is OPENING:
        return HOURS
    if isinstance(cell, Many):
        return st.lists(_each(cell.each), min_size=1, max_size=3).map(tuple)
    return _each(cell)


def _each(cell: Any) -> st.SearchStrategy[Any]:
    if isinstance(cell, Number):
        low, high = cell.low or 0, min(cell.high or 1e6, 1e6)
        if cell.whole:
            return st.integers(int(low), int(high))
        return st.floats(low * cell.scale, high * cell.scale).map(lambda value: round(value, 6))
    if isinstance(cell, Word):
        return st.sampled_from(cell.words)
    if isinstance(cell, Stretches):
        spans = st.tuples(st.integers(0, 9_000), st.integers(1, 9_000), st.sampled_from(cell.words))
        make: Any = cell.make
        return st.lists(
            spans.map(lambda span: make(float(span[0]), float(span[0] + span[1]), span[2])),
            min_size=1,
            max_size=3,
        ).map(tuple)
    return _PLAIN[type(cell)]


_PLAIN: dict[type, st.SearchStrategy[Any]] = {
    Text: LISTED,
    Id: st.from_regex(r"[a-z]{1,8}(-[a-z0-9]{1,5})?", fullmatch=True),
    YesNo: st.booleans(),
    Amount: st.integers(0, 10**8).map(lambda cents: Decimal(cents) / 100),
    Day: st.dates(date(2000, 1, 1), date(2099, 12, 31)),
    Clocks: st.sampled_from(("15:00-21:00", "07:30")),
    WaysCell: st.sampled_from(((Way.WALKING,), (Way.CYCLING,), (Way.WALKING, Way.CYCLING))),
    Currency: st.sampled_from(("EUR", "NOK")),
    Diets: st.lists(
        st.builds(DietAnswer, st.sampled_from(NEED_KINDS), st.sampled_from(Answer)), min_size=1, max_size=3
    ).map(tuple),
    Assists: st.lists(
        st.builds(Assist, st.sampled_from(("low", "very high")), st.integers(0, 400).map(lambda n: n / 100)),
        min_size=1,
        max_size=3,
    ).map(tuple),
    Depots: st.lists(
        st.builds(Depot, st.sampled_from(PLACE_IDS), st.integers(0, 99)), min_size=1, max_size=2
    ).map(tuple),
    Weekdays: WEEKDAYS,
}


@st.composite
def fields_of(draw: st.DrawFn, kind: SheetKind) -> dict[str, Any]:
    """The fields of a row: what is required, and some of the rest."""
    fields: dict[str, Any] = {}
    for column in kind.written:
        if column.field in ("parent", "track"):
            continue
        if column.required or draw(st.booleans()):
            fields[column.field] = draw(values_of(column))
    return fields


def parts_of(kind: SheetKind) -> st.SearchStrategy[Any]:
    """One value that belongs to an item."""
    return fields_of(kind).map(lambda fields: kind.makes(**kind.take(dict(fields))))
