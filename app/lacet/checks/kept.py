"""Answers kept for as long as a snapshot of the library lives: a drag asks the same again at every move.

A catalogue never changes, so what follows from it alone holds until it is thrown away; the key is weak, so
that keeping answers doesn't keep old libraries.
"""

from collections.abc import Callable, Hashable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar
from weakref import WeakKeyDictionary

from lacet.trip.catalogue import Catalogue

Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")


def per_catalogue(
    work: Callable[Concatenate[Catalogue, Asked], Answer],
) -> Callable[Concatenate[Catalogue, Asked], Answer]:
    """Keep what `work` answers, by catalogue and its other arguments (positional and hashable).

    The answer must not refer to the catalogue itself, or neither would ever be let go.
    """
    kept: WeakKeyDictionary[Catalogue, dict[Hashable, Answer]] = WeakKeyDictionary()

    @wraps(work)
    def asked(catalogue: Catalogue, /, *more: Asked.args, **named: Asked.kwargs) -> Answer:
        answers = kept.setdefault(catalogue, {})
        if more not in answers:
            answers[more] = work(catalogue, *more, **named)
        return answers[more]

    return asked
