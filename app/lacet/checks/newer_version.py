"""The library holds a newer version of something the trip uses."""

from collections.abc import Iterator
from functools import partial
from typing import Any, TypeAlias

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.kept import Kept
from lacet.trip.library import Bike, Lodging, Ref, Restaurant, Stage, Transfer
from lacet.trip.trip import Day

ID = "newer_version"
SAYS = "What the trip uses is the library's newest version, and not retired."
_KINDS: tuple[Any, ...] = (Stage, Lodging, Restaurant, Transfer, Bike)


Used: TypeAlias = tuple[type, str, int]

_OF_DAY: Kept[frozenset[Used]] = Kept(1024)
_JUDGED: Kept[tuple[Finding, ...]] = Kept(64)


def check(case: Case) -> Iterator[Finding]:
    used: set[Used] = {
        (Bike, hire.bike.id, hire.bike.version) for hire in case.variant.hires if hire.bike is not None
    }
    for day in case.variant.days:
        used.update(_OF_DAY.get(case.catalogue, (day,), None, partial(_of_day, day)))
    asked = (case.variant_id, frozenset(used))
    yield from _JUDGED.get(case.catalogue, (), asked, partial(_judged, case, used))


def _of_day(day: Day) -> frozenset[Used]:
    """What a day points at: the kind of item, its id and its version."""
    return frozenset((kind, ref.id, ref.version) for kind in _KINDS for ref in edits.uses_on(day, kind))


def _judged(case: Case, used: set[Used]) -> tuple[Finding, ...]:
    """By kind and id: moving a stage changes nothing of what is used, nor of what is told."""
    in_order = sorted(used, key=lambda each: (_KINDS.index(each[0]), each[1], each[2]))
    return tuple(
        finding
        for kind, item_id, version in in_order
        for finding in _judge(case, kind, Ref(item_id, version))
    )


def _judge(case: Case, kind: Any, ref: Ref) -> Iterator[Finding]:
    used, newest = case.catalogue.get(kind, ref), case.catalogue.latest(kind, ref.id)
    word = kind.__name__.lower()
    about = f"{word} {ref.id} {ref.version}"
    if newest is None or used is None:
        says = (
            f"The library doesn't hold {word} '{ref.id}' (version {ref.version}). "
            "Take it in again, or choose another."
        )
        yield Finding(check=ID, level=Level.WARN, subject=about, says=says, unknown=True)
    elif newest.retired:
        says = f"{newest.name} was retired from the library. Choose another."
        yield Finding(check=ID, level=Level.WARN, subject=f"{about} retired", says=says)
    elif newest.version > ref.version:
        yield Finding(
            check=ID,
            level=Level.NOTE,
            subject=about,
            says=f"A newer version of {newest.name} exists. Take it, or leave what was sold.",
            figure=float(ref.version),
            limit=float(newest.version),
            unit="version",
            worse_is_more=False,
            fixes=(fix("Take the newer version", edits.use_version, case, kind, ref.id, newest.version),),
        )
