"""What a reader has to tell about a file it could read, and the error for one it could not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lacet.language import Text
from lacet.trip.errors import LacetError


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that a person should know about a file that was read.

    Parameters
    ----------
    line_number
        Line of the file where it was first met, None when it concerns the whole.
    says
        One plain sentence.
    weight
        'warn' when figures or the line may be wrong, 'note' when nothing was lost.
    """

    line_number: int | None
    says: str
    weight: Literal["warn", "note"] = "warn"


class GpxRefused(LacetError):
    """A file that isn't read, with its name, the line if there is one, and the reason."""

    def __init__(self, name: str, reason: str | Text, line_number: int | None = None) -> None:
        where = f"{name}, line {line_number}" if line_number else name
        super().__init__("{where}: {reason}", where=where, reason=reason)
        self.name = name
        self.reason = reason
        self.line_number = line_number


class ReadingStopped(LacetError):
    """The person stopped the reading of a file."""
