"""How findings say figures and people: the house's one wording, in English and metric."""

from collections.abc import Sequence

from lacet.checks.case import Case
from lacet.wording import ENGLISH, listed

clock = ENGLISH.clock
duration = ENGLISH.duration
kilometres = ENGLISH.length
metres = ENGLISH.height
share = ENGLISH.share

__all__ = ["begun", "clock", "duration", "guests", "kilometres", "listed", "metres", "share"]


def guests(case: Case, travellers: Sequence[str]) -> str:
    """Who is meant: 'everybody', or their names, or 'guest 3' for those without one."""
    if len(travellers) == len(case.trip.party.travellers):
        return "everybody"
    return listed([case.trip.party.name_of(who) for who in travellers])


def begun(text: str) -> str:
    """A text that begins a sentence: its first letter large, the rest as it is."""
    return text[:1].upper() + text[1:]
