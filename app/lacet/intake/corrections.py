"""What a person corrects about proposals before they are taken: pure, each returns the proposals anew.

A place that several lines meet in is one place: naming it for one names it for all.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Literal

from lacet.intake.ends import End, free_id
from lacet.intake.proposals import Proposal
from lacet.tracks.edit import position_at
from lacet.tracks.geodesy import distance_m
from lacet.trip.errors import LacetError
from lacet.trip.library import Place, StagePoint
from lacet.trip.words import Way

Which = Literal["start", "end"]
Proposals = tuple[Proposal, ...]


class CorrectionRefused(LacetError):
    """A correction that has no meaning."""


def with_take(proposals: Proposals, indexes: Sequence[int], take: bool) -> Proposals:
    """Take these lines, or leave them."""
    return _each(proposals, indexes, lambda each: replace(each, take=take))


def with_name(proposals: Proposals, index: int, name: str) -> Proposals:
    """Give a stage another name."""
    if not name.strip():
        raise CorrectionRefused("A stage needs a name.")
    return _each(proposals, (index,), lambda each: replace(each, name=name.strip()))


def with_ways(proposals: Proposals, indexes: Sequence[int], ways: tuple[Way, ...]) -> Proposals:
    """Say on which ways stages are travelled."""
    return _each(proposals, indexes, lambda each: replace(each, ways=ways))


def with_points(proposals: Proposals, index: int, points: tuple[StagePoint, ...]) -> Proposals:
    """Take these of the file's marks as points of the stage."""
    return _each(proposals, (index,), lambda each: replace(each, points=points))


def with_place(proposals: Proposals, index: int, which: Which, place: Place, *, new: bool) -> Proposals:
    """Let a line begin or end at a place; a round begins and ends there."""
    here = _position(proposals[index], which)
    off_m = distance_m(here, (place.latitude_deg, place.longitude_deg))
    end = End(place=place, off_m=off_m, is_new=new)
    return _each(proposals, (index,), lambda each: _ended(each, which, end))


def with_place_called(
    proposals: Proposals, index: int, which: Which, name: str, known: Sequence[Place]
) -> Proposals:
    """Let a line begin or end at the place of this name: one known, one proposed, else a new one there."""
    called = name.strip()
    if not called:
        raise CorrectionRefused("A stage begins and ends somewhere; choose a place or name a new one.")
    new = new_places(proposals)
    place = _nearest_called(called, (*known, *new), _position(proposals[index], which))
    if place is not None:
        return with_place(proposals, index, which, place, new=place in new)
    now: End = getattr(proposals[index], which)
    if now.is_new:
        return tuple(_renamed(each, now.place, replace(now.place, name=called)) for each in proposals)
    return with_place(proposals, index, which, _made(proposals[index], which, called, known, new), new=True)


def new_places(proposals: Sequence[Proposal]) -> tuple[Place, ...]:
    """The places that taking these lines would make, by name."""
    ends = (end for each in proposals for end in (each.start, each.end) if end.is_new)
    return tuple(sorted(dict.fromkeys(end.place for end in ends), key=lambda place: place.name.casefold()))


def _each(proposals: Proposals, indexes: Sequence[int], change: Callable[[Proposal], Proposal]) -> Proposals:
    chosen = set(indexes)
    return tuple(change(each) if number in chosen else each for number, each in enumerate(proposals))


def _ended(proposal: Proposal, which: Which, end: End) -> Proposal:
    if proposal.shape != "point to point":
        return replace(proposal, start=end, end=end)
    return replace(proposal, start=end) if which == "start" else replace(proposal, end=end)


def _renamed(proposal: Proposal, old: Place, new: Place) -> Proposal:
    start, end = (
        replace(each, place=new) if each.place == old else each for each in (proposal.start, proposal.end)
    )
    return replace(proposal, start=start, end=end)


def _position(proposal: Proposal, which: Which) -> tuple[float, float]:
    at = position_at(proposal.track, 0.0 if which == "start" else proposal.length_m)
    return at.latitude_deg, at.longitude_deg


def _nearest_called(name: str, places: Sequence[Place], here: tuple[float, float]) -> Place | None:
    same = [place for place in places if place.name.casefold() == name.casefold()]
    return min(
        same, key=lambda place: distance_m(here, (place.latitude_deg, place.longitude_deg)), default=None
    )


def _made(proposal: Proposal, which: Which, name: str, known: Sequence[Place], new: Sequence[Place]) -> Place:
    at = position_at(proposal.track, 0.0 if which == "start" else proposal.length_m)
    return Place(
        id=free_id(name, {place.id for place in (*known, *new)}),
        name=name,
        latitude_deg=round(at.latitude_deg, 6),
        longitude_deg=round(at.longitude_deg, 6),
        height_m=None if at.height_m is None else float(round(at.height_m)),
    )
