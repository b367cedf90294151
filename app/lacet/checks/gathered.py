"""Findings gathered by their cause: what window, command line and documents show, one line a cause.

Nothing gets lost: each line holds the findings it is made of, with their fixes. Findings of one code that
differ only in day or kitchen become one line; so do those that say the same. A day that is too long leads,
and what comes of its length (dark, thirst) follows it, unless it weighs more.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lacet.checks import day_within_limits
from lacet.checks.registry import CHECKS
from lacet.checks.several import Several
from lacet.language import Text
from lacet.trip.finding import Finding, Level
from lacet.trip.trip import Overrule

_SEVERAL: dict[tuple[str, str], Several] = {
    (module.ID, code): several
    for module in CHECKS
    for code, several in getattr(module, "SEVERAL", {}).items()
}
_WEIGHT = {Level.STOP: 0, Level.WARN: 1, Level.NOTE: 2}
_LEADS = (day_within_limits.ID, "over")
_FOLLOWS = frozenset(
    {
        ("done_by_sunset", "late"),
        ("water_and_food", "water"),
        ("water_and_food", "food"),
        ("hard_days", "two_on_end"),
        ("hard_days", "hardest_first"),
        ("reception_open", "closed"),
        ("arrival_and_departure", "too_late"),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """One line: a cause, the days it shows on, the findings it is made of and those that come of it."""

    says: Text
    level: Level
    days: tuple[int, ...]
    parts: tuple[Finding, ...]
    follows: tuple[Finding, ...] = ()

    @property
    def whole(self) -> tuple[Finding, ...]:
        """Every finding in it."""
        return (*self.parts, *self.follows)

    @property
    def overruled_by(self) -> Overrule | None:
        return self.parts[0].overruled_by


def gathered(findings: Sequence[Finding]) -> tuple[Gathered, ...]:
    """The findings by cause, each in exactly one line; lines in the order of their first finding."""
    leads: dict[int, list[Finding]] = {}
    for finding in findings:
        if finding.day is not None and _key(finding) == _LEADS and finding.overruled_by is None:
            leads.setdefault(finding.day, []).append(finding)
    following = {day: [each for each in findings if _comes_of(each, lead)] for day, lead in leads.items()}
    folded = {id(each) for day in leads for each in (*leads[day], *following[day])}
    lines = [_too_long(lead, tuple(following[day])) for day, lead in leads.items()]
    lines += _by_cause(each for each in findings if id(each) not in folded)
    place = {id(finding): index for index, finding in enumerate(findings)}
    return tuple(sorted(lines, key=lambda line: min(place[id(each)] for each in line.parts)))


def _key(finding: Finding) -> tuple[str, str]:
    return finding.check, finding.code


def _comes_of(finding: Finding, lead: Sequence[Finding]) -> bool:
    """Whether a finding is there because its day is too long, and weighs no more than that."""
    return (
        _key(finding) in _FOLLOWS
        and finding.day == lead[0].day
        and finding.overruled_by is None
        and not finding.unknown
        and _WEIGHT[finding.level] >= min(_WEIGHT[each.level] for each in lead)
    )


def _too_long(lead: list[Finding], follows: tuple[Finding, ...]) -> Gathered:
    says = lead[0].says if len(lead) == 1 else day_within_limits.over_in_one(lead)
    return _line(says, lead, follows)


def _line(says: Text, parts: Sequence[Finding], follows: tuple[Finding, ...] = ()) -> Gathered:
    return Gathered(
        says=says,
        level=min((each.level for each in parts), key=_WEIGHT.__getitem__),
        days=tuple(sorted({each.day for each in parts if each.day is not None})),
        parts=tuple(parts),
        follows=follows,
    )


def _by_cause(findings: Iterable[Finding]) -> list[Gathered]:
    causes: dict[object, list[Finding]] = {}
    for finding in findings:
        causes.setdefault(_cause(finding), []).append(finding)
    return [_of_one_cause(parts) for parts in causes.values()]


def _cause(finding: Finding) -> object:
    if finding.overruled_by is not None:
        return id(finding)
    several = _SEVERAL.get(_key(finding))
    values = finding.says.named
    same: object = finding.says if several is None else tuple(str(values.get(name)) for name in several.by)
    return finding.check, finding.code, finding.level, finding.unknown, finding.may_overrule, same


def _of_one_cause(parts: list[Finding]) -> Gathered:
    several = _SEVERAL.get(_key(parts[0]))
    if several is None or len({each.says for each in parts}) == 1:
        return _line(parts[0].says, parts)
    names = dict.fromkeys(name for each in parts for name, _ in each.says.values)
    values = {name: _put_together(name, parts, several) for name in names}
    return _line(Text(several.says, tuple(values.items())), parts)


def _put_together(name: str, parts: list[Finding], several: Several) -> object:
    found = [each.says.named[name] for each in parts if name in each.says.named]
    if name in several.most:
        return max(value for value in found if isinstance(value, int | float))
    distinct = dict.fromkeys(
        each for value in found for each in (value if isinstance(value, tuple) else (value,))
    )
    return next(iter(distinct)) if len(distinct) == 1 else tuple(distinct)
