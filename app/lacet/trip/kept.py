"""Answers kept by the very objects they were made from, for the libraries used last.

Frozen values that an edit leaves alone stay the same objects, so asking 'is it the same?' costs nothing
where comparing or hashing a whole day would cost more than pricing it.
"""

from collections.abc import Callable
from typing import Any, Generic, TypeVar
from weakref import WeakSet

from lacet.trip.catalogue import Catalogue

Answer = TypeVar("Answer")

KEPT_LIBRARIES = 2
"""An old library goes, with all that was made from it, when the second after it is used."""

_EVERYTHING: "WeakSet[Kept[Any]]" = WeakSet()


class Kept(Generic[Answer]):
    """Answers, each with the objects it rests on: holding these keeps their ids from being reused.

    Parameters
    ----------
    most
        How many answers are kept for a library before all of them are let go.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._libraries: dict[int, tuple[Catalogue, dict[object, tuple[tuple[object, ...], Answer]]]] = {}
        _EVERYTHING.add(self)

    def get(
        self, catalogue: Catalogue, objects: tuple[object, ...], values: object, make: Callable[[], Answer]
    ) -> Answer:
        """The answer made from these very objects and equal values, made now if it isn't kept."""
        library = self._libraries.get(id(catalogue))
        answers = self._opened(catalogue) if library is None else library[1]
        key = (*map(id, objects), values)
        found = answers.get(key)
        if found is None:
            if len(answers) >= self._most:
                # Starting over is simpler than growing old one by one, and safe when two threads do it.
                answers.clear()
            found = answers[key] = (objects, make())
        return found[1]

    def _opened(self, catalogue: Catalogue) -> dict[object, tuple[tuple[object, ...], Answer]]:
        """Room for a library not met before; the oldest makes way."""
        answers: dict[object, tuple[tuple[object, ...], Answer]] = {}
        newest = list(self._libraries.items())[1 - KEPT_LIBRARIES :]
        self._libraries = {**dict(newest), id(catalogue): (catalogue, answers)}
        return answers

    def clear(self) -> None:
        """Keep nothing."""
        self._libraries = {}


def forget_kept() -> None:
    """Keep nothing anywhere: what is asked next is worked out anew."""
    for kept in tuple(_EVERYTHING):
        kept.clear()
