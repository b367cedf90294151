"""What several findings say: people, and seasons."""

import re
from collections.abc import Sequence
from datetime import date

from lacet.checks.case import Ground
from lacet.language import Text, to_say

_YEARLY = re.compile(r"(\d\d)-(\d\d)\.\.(\d\d)-(\d\d)")


EVERYBODY = to_say("everybody")


def guests(case: Ground, travellers: Sequence[str]) -> Text | tuple[str, ...]:
    """Who is meant: everybody, or their names, or 'guest 3' for those without one."""
    if len(travellers) == len(case.trip.party.travellers):
        return EVERYBODY
    return tuple(case.trip.party.name_of(who) for who in travellers)


def season_words(text: str) -> Text:
    """A yearly season as people say it ('from 1 December to 15 March'); other forms as they are written."""
    found = _YEARLY.fullmatch(text)
    if found is None:
        return to_say("{season}", season=text)
    return to_say(
        "from {first:day} to {last:day}", first=_day(*found.groups()[:2]), last=_day(*found.groups()[2:])
    )


def season_end(text: str) -> Text:
    """The last day of a yearly season ('15 March'); other forms as they are written."""
    found = _YEARLY.fullmatch(text)
    return (
        to_say("{season}", season=text)
        if found is None
        else to_say("{last:day}", last=_day(*found.groups()[2:]))
    )


def _day(month: str, day: str) -> date:
    # Any leap year: only day and month are said.
    return date(2028, int(month), int(day))
