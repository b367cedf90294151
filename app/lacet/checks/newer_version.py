"""The library holds a newer version of something the trip uses."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Bike, Lodging, Ref, Restaurant, Stage, Transfer

ID = "newer_version"
SAYS = "What the trip uses is the library's newest version, and not retired."
_KINDS: tuple[Any, ...] = (Stage, Lodging, Restaurant, Transfer, Bike)


def check(case: Case) -> Iterator[Finding]:
    for kind in _KINDS:
        for ref in edits.uses(case.trip, case.variant_id, kind):
            yield from _judge(case, kind, ref)


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
