"""How findings say figures: rounded as people say them, in the words of the trade."""

from collections.abc import Sequence

from lacet.checks.case import Case


def clock(seconds: float) -> str:
    """Seconds after midnight as 14:05; past midnight as '01:20 the next day'."""
    minutes = round(seconds / 60)
    said = f"{minutes // 60 % 24}:{minutes % 60:02d}"
    return said if minutes < 24 * 60 else f"{said} the next day"


def duration(seconds: float) -> str:
    """A length of time as '4 h 20' or '45 min', to five minutes from an hour up."""
    if seconds < 3600:
        return f"{round(seconds / 60)} min"
    minutes = round(seconds / 300) * 5
    return f"{minutes // 60} h {minutes % 60:02d}"


def kilometres(metres: float) -> str:
    """A length as '13.6 km'."""
    return f"{metres / 1000:.1f} km"


def share(value: float) -> str:
    """A share as '48 %'."""
    return f"{value * 100:.0f} %"


def listed(names: Sequence[str]) -> str:
    """Names as 'Ann, Ben and Cleo'."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))


def guests(case: Case, travellers: Sequence[str]) -> str:
    """Who is meant: 'everybody', or their names, or 'guest 3' for those without one."""
    if len(travellers) == len(case.trip.party.travellers):
        return "everybody"
    return listed([case.trip.party.name_of(who) for who in travellers])
