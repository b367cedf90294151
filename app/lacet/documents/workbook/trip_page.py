"""The trip as a sheet: one row a day, with what is done, where the party sleeps and eats, and what moves.

Figures are those of the group that moves longest that day, as everywhere; a day whose figures aren't known
says so and adds nothing to the sums. No price stands here, so the sheet may go to anybody.
"""

from collections.abc import Iterator
from typing import Any

from lacet.assess import Assessment
from lacet.compare.differences import leg_words
from lacet.documents.foot import foot
from lacet.documents.workbook.page import UNKNOWN, Page
from lacet.figures.values import DayFigures
from lacet.inputs import Inputs
from lacet.price.doubt import counted
from lacet.report import plain_assessment
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Transfer
from lacet.trip.party import Party
from lacet.trip.trip import Day, Leg, Move, Note, Rest, Ride, Travellers
from lacet.trip.words import Load
from lacet.wording import listed

_HEADS = (
    *("Day", "Date", "From", "To", "What", "Length, km", "Ascent, m", "Descent, m", "Moving time, h:mm"),
    *("Sets off", "Arrives", "Lodging", "Dinner", "Bags and bikes", "Transfers", "Note"),
)
_WIDE = (6, 12, 18, 18, 46, 11, 10, 11, 13, 9, 9, 24, 24, 34, 34, 40)
_TEXTS = {3: "start", 4: "end", 10: "departs", 11: "done_by"}
_FIGURES: dict[int, tuple[str, float, str]] = {
    6: ("distance_m", 1000, "0.0"),
    7: ("ascent_m", 1, "0"),
    8: ("descent_m", 1, "0"),
    9: ("moving_s", 86_400, "[h]:mm"),
}
_WHAT, _LODGING, _DINNER, _MOVES, _RIDES, _NOTE = 5, 12, 13, 14, 15, 16
_FIRST = 3


def write_trip(page: Page, inputs: Inputs, found: Assessment) -> None:
    """Write the days of a variant and their sums."""
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    page.text(1, 1, f"{trip.name}: {variant.name}", bold=True)
    page.heads(_FIRST - 1, _HEADS, wide=_WIDE)
    page.freeze(_FIRST, 3)
    told = plain_assessment(inputs, found)
    days = zip(variant.days, found.figures.days, told["days"], strict=True)
    row = _FIRST
    for day, figures, plain in days:
        _write_day(page, row, _Words(trip.party, catalogue, day, figures), plain)
        row += 1
    if row > _FIRST:
        _write_sums(page, row, told["days"], told["totals"]["unknown_days"])
    page.text(row + 2, 1, foot(catalogue.region))


def _write_day(page: Page, row: int, words: "_Words", plain: dict[str, Any]) -> None:
    page.number(row, 1, plain["day"])
    page.day(row, 2, words.figures.on)
    for column, name in _TEXTS.items():
        page.text(row, column, plain[name] or "")
    for column, (name, unit, shown) in _FIGURES.items():
        # A day without a leg has no figures to show; one whose figures nobody knows says so.
        if words.day.legs():
            value = plain[name]
            page.number(row, column, None if value is None else value / unit, shown)
    texts = {
        _WHAT: words.what(),
        _LODGING: listed(plain["lodgings"]),
        _DINNER: listed(plain["dinners"]),
        _MOVES: words.moves(),
        _RIDES: words.rides(),
        _NOTE: words.notes(),
    }
    for column, says in texts.items():
        if says:
            page.text(row, column, says, wrap=True)


def _write_sums(page: Page, row: int, days: list[dict[str, Any]], unknown_days: int) -> None:
    """Sums of what stands above, tenths of a metre and all: the program's own totals, but for that."""
    page.text(row, 1, "Total", bold=True)
    if unknown_days:
        page.text(row, _WHAT, f"{counted(unknown_days, 'day')} {UNKNOWN}, left out of the sums")
    for column, (name, unit, shown) in _FIGURES.items():
        whole = sum(day[name] or 0.0 for day in days) / unit
        page.formula(row, column, f"SUM({page.stretch(column, _FIRST, row - 1)})", whole, shown)


class _Words:
    """What there is to say about one day."""

    def __init__(self, party: Party, catalogue: Catalogue, day: Day, figures: DayFigures) -> None:
        self.party, self.catalogue, self.day, self.figures = party, catalogue, day, figures

    def what(self) -> str:
        return "; ".join(self._items())

    def rides(self) -> str:
        rides = (item for item in self.day.items if isinstance(item, Ride))
        return "; ".join(self._for(item.travellers, self._ride(item)) for item in rides)

    def moves(self) -> str:
        return "; ".join(map(self._move, self.day.moves))

    def notes(self) -> str:
        said = [item.says for item in self.day.items if isinstance(item, Note)]
        return " ".join(each for each in (*said, self.day.note) if each)

    def _items(self) -> Iterator[str]:
        for item in self.day.items:
            if isinstance(item, Leg):
                yield self._for(item.travellers, leg_words(item, self.figures, self.catalogue))
            elif isinstance(item, Rest):
                yield self._for(item.travellers, item.says or "rest")
            elif not isinstance(item, Ride | Note):
                yield self._for(item.travellers, item.name)

    def _ride(self, ride: Ride) -> str:
        place = self.catalogue.place_name
        at = f"{ride.departs:%H:%M} " if ride.departs else ""
        return f"{at}{place(ride.from_place)} to {place(ride.to_place)}{self._by(ride)}"

    def _move(self, move: Move) -> str:
        thing = "bag" if move.load is Load.BAGS else "bike"
        what = f"{thing}s" if move.count is None else counted(move.count, thing)
        return f"{what}{self._by(move)}"

    def _by(self, carried: Ride | Move) -> str:
        ref = carried.transfer if isinstance(carried, Ride) else carried.means
        carrier = None if ref is None else self.catalogue.get(Transfer, ref)
        return "" if carrier is None else f" by {carrier.name}"

    def _for(self, travellers: Travellers, says: str) -> str:
        if travellers is None:
            return says
        return f"{says} ({listed([self.party.name_of(each) for each in travellers])})"
