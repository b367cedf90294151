"""What a check has to say. A finding names a figure, a limit and where the limit comes from."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from lacet.language import Text
from lacet.trip.bookings import Act, as_they_are
from lacet.trip.money import Money
from lacet.trip.trip import About, Overrule, Trip

COMMON_PRACTICE = "common practice, no source"


Ids = str | Sequence[str]


def subject(ids: Mapping[str, Ids]) -> tuple[About, ...]:
    """What a finding is about, as {"day": "d4", "guest": ("t1", "t2")}; empty ids are left out."""
    return tuple(
        About(kind, each)
        for kind, found in ids.items()
        for each in ((found,) if isinstance(found, str) else found)
        if each
    )


class Level(StrEnum):
    """How much a finding weighs, worst first."""

    STOP = "stop"
    WARN = "warn"
    NOTE = "note"


def unchanged(trip: Trip) -> Trip:
    """The edit of a remedy that leaves the trip as it is."""
    return trip


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """A candidate remedy: what it is called, and a pure edit of the trip or an act on its bookings.

    Whether it helps is for `settle` to prove.
    """

    says: Text
    edit: Callable[[Trip], Trip] = field(default=unchanged, compare=False, repr=False)
    act: Act = field(default=as_they_are, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvedFix:
    """A remedy that was applied and assessed: what it settles and what it changes in price."""

    says: Text
    result: Text
    edit: Callable[[Trip], Trip] = field(default=unchanged, compare=False, repr=False)
    act: Act = field(default=as_they_are, compare=False, repr=False)
    settles: int = 0
    price_change: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a check has to say about a variant.

    Attributes
    ----------
    check
        The check's id, its file's name.
    code
        Which of the things its check may find this is, as programs know it.
    subject
        What within the variant it is about (day d4, lodging weir-farm, guest t2): with check and code it
        identifies the finding from one assessment to the next, and an overrule binds to it.
    says
        What is wrong and what to do, as a sentence with its values; said at the edge.
    day
        1-based day of the trip, or None when the whole variant is meant.
    figure, limit, unit
        The figure found and what it was held against, in `unit`; None where there is no number.
    worse_is_more
        Whether a larger figure is worse: an overrule lapses when the figure gets worse.
    unknown
        True for what nobody has said: with such a finding a day is not proved, neither good nor bad.
    may_overrule
        False where nobody in the office may decide (authority closures, overloaded bikes, minors).
    """

    check: str
    code: str
    level: Level
    subject: tuple[About, ...]
    says: Text
    day: int | None = None
    travellers: tuple[str, ...] = ()
    figure: float | None = None
    limit: float | None = None
    unit: str = ""
    worse_is_more: bool = True
    source: str = COMMON_PRACTICE
    unknown: bool = False
    may_overrule: bool = True
    overruled_by: Overrule | None = None
    fixes: tuple[Fix, ...] = ()

    @property
    def key(self) -> tuple[str, str, tuple[About, ...]]:
        """What it is known by from one assessment to the next."""
        return self.check, self.code, self.subject

    @property
    def open_stop(self) -> bool:
        """Whether it stands in the way of a day that works."""
        return self.level is Level.STOP and self.overruled_by is None
