"""Who goes together: guests who take the same way on every day are one group, with a letter of its own.

Files of a parted day carry the letter, never a name: a folder is passed on, shown and mailed. Whose letter it
is stands inside the files.
"""

import string
from collections.abc import Iterable
from dataclasses import dataclass

from lacet.figures.values import DayFigures
from lacet.language import Language
from lacet.trip.party import Party


@dataclass(frozen=True, slots=True)
class Companions:
    """Guests who never part, in the order of the party."""

    letter: str
    travellers: tuple[str, ...]


def companions(party: Party, days: Iterable[DayFigures]) -> tuple[Companions, ...]:
    """Return the groups of a variant; a single one without a letter where nobody ever parts."""
    ways: dict[str, list[int]] = {guest.id: [] for guest in party.travellers}
    for day in days:
        # Who isn't there that day parts from nobody by it only if the others aren't, either.
        for who, way in ways.items():
            way.append(next((index for index, each in enumerate(day.groups) if who in each.travellers), -1))
    together: dict[tuple[int, ...], list[str]] = {}
    for who, way in ways.items():
        together.setdefault(tuple(way), []).append(who)
    if len(together) < 2:
        return tuple(Companions("", tuple(each)) for each in together.values())
    return tuple(Companions(_letter(index), tuple(each)) for index, each in enumerate(together.values()))


def said(groups: Iterable[Companions], travellers: Iterable[str], speech: Language) -> str:
    """Return 'group A' or 'groups A and C' for guests of one day; empty where nobody ever parts."""
    there = set(travellers)
    letters = [each.letter for each in groups if each.letter and there & set(each.travellers)]
    if not letters:
        return ""
    if len(letters) == 1:
        return speech.say("group {letter}", letter=letters[0])
    return speech.say("groups {letters}", letters=speech.listed(letters))


def _letter(index: int) -> str:
    """A to Z, then A2, B2: more than 26 ways are nobody's holiday, but they must have names."""
    turn, place = divmod(index, 26)
    return string.ascii_uppercase[place] + (str(turn + 1) if turn else "")
