"""The texts of what a document is made from."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass


def texts_of(value: object) -> Iterator[str]:
    """All texts within a value of dataclasses and tuples; drawings say nothing else."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from texts_of(each)
    elif is_dataclass(value):
        for each in fields(value):
            yield from texts_of(getattr(value, each.name))
