"""The material of a document with all its texts clean, as `trip.printable` cleans them."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from lacet.documents.material.values import Drawn, Shown
from lacet.trip.printable import clean

Value = TypeVar("Value")


def cleaned(value: Value) -> Value:
    """A value of the material with all its texts clean; drawings and pictures are as they were made."""
    made: Value = _cleaned(value)
    return made


def _cleaned(value: Any) -> Any:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, tuple):
        return tuple(_cleaned(each) for each in value)
    if isinstance(value, Mapping):
        return {key: _cleaned(each) for key, each in value.items()}
    if is_dataclass(value) and not isinstance(value, type | Drawn):
        kept = ("payload",) if isinstance(value, Shown) else ()
        parts = {each.name: getattr(value, each.name) for each in fields(value) if each.name not in kept}
        return replace(value, **{name: _cleaned(part) for name, part in parts.items()})
    return value
