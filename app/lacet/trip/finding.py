"""What a check has to say. A finding names a figure, a limit and where the limit comes from."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum

from lacet.trip.bookings import Act, as_they_are
from lacet.trip.money import Money
from lacet.trip.trip import Overrule, Trip

COMMON_PRACTICE = "common practice, no source"


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

    says: str
    edit: Callable[[Trip], Trip] = field(default=unchanged, compare=False, repr=False)
    act: Act = field(default=as_they_are, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvedFix:
    """A remedy that was applied and assessed: what it settles and what it changes in price."""

    says: str
    result: str
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
    subject
        What within the variant it is about ("day d4", "night d4 weir-farm", "traveller t2"): with the
        check it identifies the finding from one assessment to the next, and an overrule binds to it.
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
    level: Level
    subject: str
    says: str
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
    def open_stop(self) -> bool:
        """Whether it stands in the way of a day that works."""
        return self.level is Level.STOP and self.overruled_by is None
