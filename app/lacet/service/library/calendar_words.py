"""What a person has typed about opening or closing, told back: a sentence, and the next two weeks."""

from dataclasses import dataclass
from datetime import date, timedelta

from lacet.checks.words import season_words
from lacet.days.holidays import Holidays
from lacet.days.opening import next_two_weeks, opening, sentence
from lacet.days.seasons import season
from lacet.intake.cells import OPENING
from lacet.intake.columns import Column
from lacet.trip.errors import LacetError
from lacet.wording import ENGLISH, listed

DAYS = 14
_SEASON_WORDS = {
    "snow_season": ("Snow possible", "snow possible", "no snow"),
    "closed": ("Closed", "closed", "open"),
}


@dataclass(frozen=True, slots=True)
class DayTold:
    """One day: 'Fri 27 Nov', whether it is open (None = perhaps), and what is to be said of it."""

    day: str
    open: bool | None
    says: str


@dataclass(frozen=True, slots=True)
class Told:
    """A plain sentence, remarks on what can't be known, and the days from today on."""

    says: str
    days: tuple[DayTold, ...] = ()


def told(column: Column, text: str, today: date, holidays: Holidays) -> Told:
    """What a field's text comes to; a text that can't be read is told by its field, not here."""
    text = text.strip()
    if not text:
        return Told("Nobody has said.")
    try:
        if column.cell is OPENING:
            return _opening(text, today, holidays)
        return _seasons(tuple(filter(None, map(str.strip, text.split("|")))), column.name, today)
    except LacetError:
        return Told("")


def _opening(text: str, today: date, holidays: Holidays) -> Told:
    hours = opening(text)
    said = sentence(hours)
    remarks = " ".join(hours.notes)
    days = tuple(
        DayTold(
            _day(each.day),
            None if any(state is None for *_, state in each.intervals) else bool(each.intervals),
            each.says + (f" ({each.holiday})" if each.holiday else ""),
        )
        for each in next_two_weeks(hours, today, holidays)
    )
    return Told(f"{said[:1].upper()}{said[1:]}. {remarks}".strip(), days)


def _seasons(texts: tuple[str, ...], name: str, today: date) -> Told:
    stretches = [season(text) for text in texts]
    what, inside, outside = _SEASON_WORDS.get(name, ("Holds", "holds", "–"))
    says = f"{what} {listed([str(season_words(text)) for text in texts])}."
    covered = [
        any(each.covers(today + timedelta(days=number)) for each in stretches) for number in range(DAYS)
    ]
    if not any(covered):
        return Told(f"{says} Not in the next two weeks.")
    # Within the season it is shut, or nobody knows (snow); outside it is as ever.
    state = None if name == "snow_season" else False
    days = tuple(
        DayTold(_day(today + timedelta(days=number)), state if there else True, inside if there else outside)
        for number, there in enumerate(covered)
    )
    return Told(says, days)


def _day(on: date) -> str:
    return ENGLISH.day(on)
