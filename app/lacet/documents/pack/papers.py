"""The sheets of a pack: route notes for every leg, those of other ways as well, and the card.

File names hold the day, the leg and at most a group's letter: never a guest's name.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lacet.documents.material.others import REASONS
from lacet.documents.material.telling import Telling
from lacet.documents.names import all_different, day_name
from lacet.documents.pack.card import write_card
from lacet.documents.pack.companions import companions, said
from lacet.documents.pack.route_notes import leg_title, route_notes, write_route_notes
from lacet.documents.texts import texts_of
from lacet.documents.typeset.glyphs import missing_glyphs
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS, Theme
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.tracks.raster import ElevationRaster


@dataclass(frozen=True, slots=True)
class Sheet:
    """One file, and what the office should know about it."""

    name: str
    content: bytes
    lacks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Travelled:
    """A leg with all who travel it on a day; `number` counts the day's legs from 1, 0 where it is alone."""

    day: DayFigures
    leg: LegFigures
    travellers: tuple[str, ...]
    number: int = 0
    instead: str = ""


def sheets(
    telling: Telling,
    paper: Paper = Paper.A4,
    theme: Theme = OURS,
    rasters: tuple[ElevationRaster, ...] = (),
) -> Iterator[Sheet]:
    """Yield the sheets as they are made: each takes a moment."""
    legs = list(travelled(telling))
    names = list(all_different([_name(telling, each) for each in legs]))
    for name, each in zip(names, legs, strict=True):
        notes = route_notes(
            telling, each.day, each.leg, each.travellers, instead=each.instead, rasters=rasters
        )
        if notes is None:
            yield Sheet("", b"", (f"'{each.leg.stage_name}' has no line, so there are no notes for it.",))
            continue
        lost = missing_glyphs(texts_of(notes), theme.folder)
        lacks = (notes.lacks,) if notes.lacks else ()
        yield Sheet(f"{name}.pdf", write_route_notes(telling, notes, paper, theme), (*lacks, *lost))
    card = telling.speech.say("card")
    yield Sheet(f"00 {card}.pdf", write_card(telling, paper, theme))


def count(telling: Telling) -> int:
    """How many sheets there will be."""
    return sum(1 for _ in travelled(telling)) + 1


def travelled(telling: Telling) -> Iterator[Travelled]:
    """Every leg of a variant once a day, with the figures of its slowest; then those of other ways."""
    for day in telling.figures.days:
        own = list(_shared(day, day.groups))
        for number, each in enumerate(own, start=1):
            yield Travelled(day, *each, number=number if len(own) > 1 else 0)
        planned = {each.id: each for each in telling.day_of(day).alternatives}
        for other in day.alternatives:
            reason = telling.speech.word(REASONS[planned[other.id].reason])
            for leg, travellers in _shared(day, other.groups):
                yield Travelled(day, leg, travellers, instead=reason)


def _shared(day: DayFigures, groups: Sequence[GroupFigures]) -> Iterator[tuple[LegFigures, tuple[str, ...]]]:
    legs: dict[str, list[tuple[LegFigures, tuple[str, ...]]]] = {}
    for group in groups:
        for leg in group.legs:
            legs.setdefault(leg.leg.id, []).append((leg, group.travellers))
    for found in legs.values():
        slowest = max((leg for leg, _ in found), key=lambda leg: leg.moving_s)
        yield slowest, tuple(dict.fromkeys(who for _, travellers in found for who in travellers))


def _name(telling: Telling, each: Travelled) -> str:
    title = leg_title(telling, each.leg)
    if len(each.day.groups) > 1:
        groups = companions(telling.trip.party, telling.figures.days)
        letters = said(groups, each.travellers, telling.speech)
        title = f"{title} ({letters})" if letters else title
    if each.instead:
        title = f"{each.instead} {title}"
    number, _, text = day_name(each.day.number, len(telling.figures.days), title).partition(" ")
    return f"{number}.{each.number} {text}" if each.number else f"{number} {text}"
