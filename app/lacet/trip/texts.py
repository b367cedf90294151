"""Whose words a text of a trip holds, said by its type, and a walk through all texts of a value.

What must not outlive a client (in a standard trip, after guest data were erased) is told by these marks
and by nothing else, so a new text can't be overlooked: a test refuses a text without a mark.
"""

import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from functools import cache
from re import findall
from types import NoneType
from typing import Annotated, Any, TypeAlias, TypeVar, get_args, get_origin, get_type_hints

Value = TypeVar("Value")


class Holds(Enum):
    """Whose words they are. KEY: an id; GUEST: ids of guests; LIBRARY: a term or a name of the library."""

    KEY = "key"
    GUEST = "guest"
    LIBRARY = "library"
    OFFICE = "office"
    CLIENT = "client"


Key: TypeAlias = Annotated[str, Holds.KEY]
GuestKey: TypeAlias = Annotated[str, Holds.GUEST]
LibraryText: TypeAlias = Annotated[str, Holds.LIBRARY]
# What the house chose and would choose again: what a variant or a visit is called.
OfficeText: TypeAlias = Annotated[str, Holds.OFFICE]
# What was typed for this client, or about them.
ClientText: TypeAlias = Annotated[str, Holds.CLIENT]

Change: TypeAlias = Callable[[Holds, str], str]


def rewritten(value: Value, change: Change) -> Value:
    """The same value with each of its marked texts passed through `change(whose, text)`."""
    if not is_dataclass(value) or isinstance(value, type):
        return value
    marks = marks_of(type(value))
    new = {name: _part(getattr(value, name), mark, change) for name, mark in marks.items()}
    return replace(value, **new)


def _part(part: Any, mark: Holds | None, change: Change) -> Any:
    if isinstance(part, tuple):
        return tuple(_part(each, mark, change) for each in part)
    if isinstance(part, str) and mark is not None:
        return change(mark, part)
    return rewritten(part, change)


@cache
def marks_of(kind: type) -> dict[str, Holds | None]:
    """Each field of a dataclass with the mark of its texts; None where it holds none, or none is marked."""
    hints = get_type_hints(kind, include_extras=True)
    return {field.name: _mark(hints[field.name]) for field in fields(kind)}


def _mark(hint: Any) -> Holds | None:
    if get_origin(hint) is Annotated:
        return next((each for each in get_args(hint)[1:] if isinstance(each, Holds)), None)
    found = (_mark(part) for part in get_args(hint) if part not in (Ellipsis, NoneType))
    return next((mark for mark in found if mark is not None), None)


def words_in(text: str) -> tuple[str, ...]:
    """The words of a text, whole, without case or accents: 'Märkwardt's' -> ('markwardt', 's')."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return tuple(findall(r"[^\W_]+", plain))
