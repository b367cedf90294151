"""The house is open that night."""

from collections.abc import Iterator
from datetime import date

from lacet.checks.case import DayCase
from lacet.checks.making import day_finding, shut
from lacet.checks.nights import Sleep, other_houses, sleeps
from lacet.checks.start_later import start_later
from lacet.checks.words import season_words
from lacet.days.seasons import SeasonRefused, season
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Lodging

ID = "lodging_open"
SAYS = "The house is open on every night somebody sleeps there."


def check_day(case: DayCase) -> Iterator[Finding]:
    for sleep in sleeps(case):
        if sleep.house is not None:
            for text in sleep.house.closed:
                yield from _judge(case, sleep, sleep.house, text)


def _judge(case: DayCase, sleep: Sleep, house: Lodging, text: str) -> Iterator[Finding]:
    about = f"closed {house.id} {text}"
    try:
        closed = shut(case, sleep.day, text)
    except SeasonRefused:
        says = f"When {house.name} is closed can't be read ('{text}'). Correct it in the library."
        yield day_finding(ID, Level.NOTE, sleep.day, says, about, unknown=True)
        return
    if closed:
        fixes = other_houses(case, sleep)
        later = start_later(case, sleep.on, lambda on: not _closed_on(house, on))
        says = (
            f"{house.name} is closed that night ({season_words(text)}). Choose another house or another date."
        )
        yield day_finding(
            ID, Level.STOP, sleep.day, says, about, fixes=fixes + later, source="the house's own closing days"
        )
    elif closed is None:
        says = (
            f"{house.name} is closed {season_words(text)}; "
            "without a date nobody can tell whether it is open. Set the date."
        )
        yield day_finding(ID, Level.NOTE, sleep.day, says, about, unknown=True)


def _closed_on(house: Lodging, on: date) -> bool:
    return any(season(text).covers(on) for text in house.closed)
