"""Lines days of two variants up by where the party is.

Global alignment after Needleman and Wunsch (1970): the order of days stays, and the sum of likenesses is the
greatest possible when each day stands beside one of the other variant or beside a gap. So a day inserted
early does not put every later day out of step.

References
----------
Needleman, S. B., Wunsch, C. D. (1970), A general method applicable to the search for similarities in the
amino acid sequence of two proteins, Journal of Molecular Biology 48(3), 443-453.
doi:10.1016/0022-2836(70)90057-4
"""

from collections.abc import Sequence
from dataclasses import dataclass

GAP = -1
SAME_STAGE = 4
SAME_END = 3
SAME_START = 1
BOTH_STAY = 1
ONE_STAYS = -4
UNLIKE = -2

Pair = tuple[int | None, int | None]


@dataclass(frozen=True, slots=True)
class DayKey:
    """What a day is told by: its stages, and where it begins and ends."""

    stages: frozenset[str]
    start: str | None
    end: str | None

    @property
    def stays(self) -> bool:
        """Whether nobody walks or rides: a rest, an arrival, a transfer."""
        return not self.stages


def likeness(one: DayKey, other: DayKey) -> int:
    """How alike two days are; below twice the gap they are better apart."""
    shared = len(one.stages & other.stages)
    score = SAME_STAGE * shared
    if one.end is not None and one.end == other.end:
        score += SAME_END
    if one.start is not None and one.start == other.start:
        score += SAME_START
    if one.stays and other.stays:
        score += BOTH_STAY
    if not score:
        return UNLIKE
    # Who stays stands beside who is on the move only where both end in one place.
    return score if one.stays is other.stays else score + ONE_STAYS


def align(base: Sequence[DayKey], other: Sequence[DayKey]) -> tuple[Pair, ...]:
    """Indexes of days that stand beside each other, in order; None = nothing stands there."""
    score = [[GAP * (row + column) for column in range(len(other) + 1)] for row in range(len(base) + 1)]
    for row in range(1, len(base) + 1):
        for column in range(1, len(other) + 1):
            beside = score[row - 1][column - 1] + likeness(base[row - 1], other[column - 1])
            score[row][column] = max(beside, score[row - 1][column] + GAP, score[row][column - 1] + GAP)
    return _traced(score, base, other)


def _traced(score: list[list[int]], base: Sequence[DayKey], other: Sequence[DayKey]) -> tuple[Pair, ...]:
    """From the end back to the beginning; days beside each other are preferred to gaps."""
    row, column = len(base), len(other)
    pairs: list[Pair] = []
    while row or column:
        here = score[row][column]
        if row and column and here == score[row - 1][column - 1] + likeness(base[row - 1], other[column - 1]):
            row, column = row - 1, column - 1
            pairs.append((row, column))
        elif row and here == score[row - 1][column] + GAP:
            row -= 1
            pairs.append((row, None))
        else:
            column -= 1
            pairs.append((None, column))
    return tuple(reversed(pairs))


def line_up(base: Sequence[DayKey], others: Sequence[Sequence[DayKey]]) -> tuple[tuple[int | None, ...], ...]:
    """All variants lined up to the base: each row holds the day of the base, then of every other variant.

    Days that stand beside no day of the base get rows of their own, where they come in their own order.
    """
    aligned = [align(base, other) for other in others]
    rows: list[tuple[int | None, ...]] = []
    waiting = [list(pairs) for pairs in aligned]
    for index in range(len(base) + 1):
        for which, pairs in enumerate(waiting):
            while pairs and pairs[0][0] is None:
                alone: list[int | None] = [None] * (len(others) + 1)
                alone[which + 1] = pairs.pop(0)[1]
                rows.append(tuple(alone))
        if index < len(base):
            rows.append((index, *(pairs.pop(0)[1] for pairs in waiting)))
    return tuple(rows)
