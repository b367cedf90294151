"""The house is open that night."""

from collections.abc import Iterator
from datetime import date

from lacet.checks.case import DayCase
from lacet.checks.making import day_finding, shut
from lacet.checks.nights import Sleep, other_houses, sleeps
from lacet.checks.start_later import start_later
from lacet.checks.words import season_words
from lacet.days.seasons import SeasonRefused, season
from lacet.language import to_say
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
    about = {"lodging": house.id, "season": text}
    try:
        closed = shut(case, sleep.day, text)
    except SeasonRefused:
        says = to_say(
            "When {house} is closed can't be read ('{text}'). Correct it in the library.",
            house=house.name,
            text=text,
        )
        yield day_finding(ID, "unread", Level.NOTE, sleep.day, says, about, unknown=True)
        return
    if closed:
        fixes = other_houses(case, sleep)
        later = start_later(case, sleep.on, lambda on: not _closed_on(house, on))
        says = to_say(
            "{house} is closed that night ({season_words}). Choose another house or another date.",
            house=house.name,
            season_words=season_words(text),
        )
        yield day_finding(
            ID,
            "closed",
            Level.STOP,
            sleep.day,
            says,
            about,
            fixes=fixes + later,
            source="the house's own closing days",
        )
    elif closed is None:
        says = to_say(
            "{house} is closed {season_words}; without a date nobody can tell whether it is open. "
            "Set the date.",
            house=house.name,
            season_words=season_words(text),
        )
        yield day_finding(ID, "no_date", Level.NOTE, sleep.day, says, about, unknown=True)


def _closed_on(house: Lodging, on: date) -> bool:
    return any(season(text).covers(on) for text in house.closed)
