"""The library holds a newer version of something the trip uses."""

from collections.abc import Iterator
from functools import partial
from typing import Any, TypeAlias

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.checks.several import Several
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level, subject
from lacet.trip.kept import Kept
from lacet.trip.library import Bike, Lodging, Ref, Restaurant, Stage, Transfer
from lacet.trip.trip import Day

ID = "newer_version"
SAYS = "What the trip uses is the library's newest version, and not retired."
_KINDS: tuple[Any, ...] = (Stage, Lodging, Restaurant, Transfer, Bike)


Used: TypeAlias = tuple[type, str, int]

_OF_DAY: Kept[frozenset[Used]] = Kept(1024)
_JUDGED: Kept[tuple[Finding, ...]] = Kept(64)


SEVERAL = {
    "newer": Several(
        says=marked("Newer versions of {newest:some} exist. Take them, or leave what was sold.")
    ),
}


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
    about = subject({word: ref.id, "version": str(ref.version)})
    if newest is None or used is None:
        says = to_say(
            "The library doesn't hold {word} '{id}' (version {version}). Take it in again, or "
            "choose another.",
            word=word,
            id=ref.id,
            version=ref.version,
        )
        yield Finding(check=ID, code="missing", level=Level.WARN, subject=about, says=says, unknown=True)
    elif newest.retired:
        says = to_say("{newest} was retired from the library. Choose another.", newest=newest.name)
        yield Finding(check=ID, code="retired", level=Level.WARN, subject=about, says=says)
    elif newest.version > ref.version:
        yield Finding(
            check=ID,
            code="newer",
            level=Level.NOTE,
            subject=about,
            says=to_say(
                "A newer version of {newest} exists. Take it, or leave what was sold.", newest=newest.name
            ),
            figure=float(ref.version),
            limit=float(newest.version),
            unit="version",
            worse_is_more=False,
            fixes=(
                fix(to_say("Take the newer version"), edits.use_version, case, kind, ref.id, newest.version),
            ),
        )
