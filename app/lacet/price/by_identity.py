"""Answers kept by the very objects they were made from.

Frozen values that an edit leaves alone stay the same objects, so asking 'is it the same?' costs nothing
where comparing or hashing a whole day would cost more than pricing it.
"""

from collections.abc import Callable
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class ByIdentity(Generic[Answer]):
    """Answers, each with the objects it rests on: holding these keeps their ids from being reused."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: dict[object, tuple[tuple[object, ...], Answer]] = {}

    def get(self, objects: tuple[object, ...], values: object, make: Callable[[], Answer]) -> Answer:
        """The answer made from these very objects and equal values, made now if it isn't kept."""
        key = (*map(id, objects), values)
        kept = self._kept.get(key)
        if kept is None:
            if len(self._kept) >= self._most:
                # Starting over is simpler than growing old one by one, and safe when two threads do it.
                self._kept.clear()
            kept = self._kept[key] = (objects, make())
        return kept[1]
