"""Values as plain data (dictionaries, lists, text, numbers) and back, so that JSON can keep them.

Defaults are left out, so what is stored is small; a new field therefore needs a default that means
'as before'. Reading is strict: an unknown key, a missing one or a wrong type is refused and its place
named, since a typing error silently dropped is a wrong trip. The items of a day carry their type under
`kind`; dates, times, decimals and money ("12.50 EUR") are text.
"""

import math
from collections.abc import Callable
from dataclasses import is_dataclass
from datetime import date, time
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import Any, TypeVar, get_args, get_origin

from cattrs import Converter, transform_error
from cattrs.cols import homogenous_tuple_structure_factory
from cattrs.errors import BaseValidationError, ForbiddenExtraKeysError
from cattrs.gen import make_dict_structure_fn
from cattrs.strategies import configure_tagged_union

from lacet.language import Text, to_say
from lacet.trip.errors import LacetError
from lacet.trip.money import Money
from lacet.trip.trip import Item

Value = TypeVar("Value")


class NotPlain(LacetError):
    """Stored data that isn't what it should be; the sentence names the place.

    Attributes
    ----------
    place
        Where in the data, as in "trip.variants[0].days[2].items[1].way".
    """

    def __init__(self, sentence: str | Text, place: str) -> None:
        super().__init__(sentence)
        self.place = place


class _Unreadable(ValueError):
    """A single value of the wrong sort; the text says what was expected."""


def to_plain(value: Any) -> Any:
    """A value as data that JSON can hold."""
    return _CONVERTER.unstructure(value)


def from_plain(kind: type[Value], data: object) -> Value:
    """The value of this type that the data describes.

    Raises
    ------
    NotPlain
        When a key is unknown or missing, or a value is of the wrong type or out of its vocabulary.
    """
    try:
        return _CONVERTER.structure(data, kind)
    except (BaseValidationError, _Unreadable) as error:
        raise _refusal(error, kind.__name__.lower()) from error


def _refusal(error: BaseException, root: str) -> NotPlain:
    # The library tells all places, deepest first within each; a person mends one at a time.
    says, _, place = transform_error(error, root, _said)[0].rpartition(" @ ")
    return NotPlain(to_say("The data can't be read at {place}: {says}.", place=place, says=says), place)


def _said(error: BaseException, kind: type | None) -> str:
    if isinstance(error, ForbiddenExtraKeysError):
        return f"unknown {', '.join(repr(key) for key in sorted(map(str, error.extra_fields)))}"
    if isinstance(error, KeyError):
        return f"{error.args[0]!r} is missing"
    if isinstance(error, _Unreadable):
        return str(error)
    return "the value is not what is expected there"


def _exactly(kind: type, says: str) -> Callable[[Any, Any], Any]:
    def read(value: Any, _: Any) -> Any:
        # True is an int to Python; here it isn't.
        if type(value) is not kind:
            raise _Unreadable(f"expected {says}, found {value!r:.40}")
        return value

    return read


def _read_float(value: Any, _: Any) -> float:
    if type(value) not in (int, float):
        raise _Unreadable(f"expected a number, found {value!r:.40}")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise _Unreadable("expected a finite number")
    return number


def _from_text(read: Callable[[str], Any], says: str) -> Callable[[Any, Any], Any]:
    def checked(value: Any, _: Any) -> Any:
        if not isinstance(value, str):
            raise _Unreadable(f"expected {says}, found {value!r:.40}")
        try:
            return read(value)
        except (ValueError, InvalidOperation):
            raise _Unreadable(f"expected {says}, found {value!r:.40}") from None

    return checked


def _time_of(text: str) -> time:
    clock = time.fromisoformat(text)
    if clock.tzinfo is not None:
        raise ValueError(text)
    return clock


def _time_text(clock: time) -> str:
    return clock.isoformat("minutes" if not clock.second and not clock.microsecond else "auto")


def _decimal_of(text: str) -> Decimal:
    number = Decimal(text)
    if not number.is_finite():
        raise ValueError(text)
    return number


def _money_of(text: str) -> Money:
    amount, currency = text.split(" ")
    if not (len(currency) == 3 and currency.isascii() and currency.isupper()):
        raise ValueError(text)
    return Money(_decimal_of(amount), currency)


def _tuple_reader(kind: Any, converter: Converter) -> Callable[[Any, Any], Any]:
    parts = get_args(kind)
    if len(parts) == 2 and parts[1] is Ellipsis:
        read = homogenous_tuple_structure_factory(kind, converter)
    else:
        readers = [(converter.get_structure_hook(part), part) for part in parts]

        def read(value: Any, _: Any) -> Any:
            if len(value) != len(readers):
                raise _Unreadable(f"expected {len(readers)} values, found {len(value)}")
            return tuple(hook(one, part) for one, (hook, part) in zip(value, readers, strict=True))

    def checked(value: Any, _: Any) -> Any:
        # A text would otherwise be taken apart into letters.
        if not isinstance(value, list | tuple):
            raise _Unreadable(f"expected a list, found {value!r:.40}")
        return read(value, kind)

    return checked


def _dataclass_reader(kind: Any, converter: Converter) -> Callable[[Any, Any], Any]:
    read = make_dict_structure_fn(kind, converter, _cattrs_forbid_extra_keys=True)

    def checked(value: Any, _: Any) -> Any:
        if not isinstance(value, dict):
            raise _Unreadable(f"expected the parts of a {kind.__name__.lower()}, found {value!r:.40}")
        return read(value, kind)

    return checked


def _add_item_union(converter: Converter) -> None:
    tags = {member.__name__.lower() for member in get_args(Item)}
    configure_tagged_union(Item, converter, lambda member: member.__name__.lower(), "kind")
    read = converter.get_structure_hook(Item)

    def checked(value: Any, _: Any) -> Any:
        tag = value.get("kind") if isinstance(value, dict) else None
        if not isinstance(tag, str) or tag not in tags:
            raise _Unreadable(f"expected an item whose 'kind' is one of {', '.join(sorted(tags))}")
        return read(value, Item)

    converter.register_structure_hook(Item, checked)


def _is_tuple(kind: Any) -> bool:
    origin: Any = get_origin(kind)
    return origin is tuple


def _read_word(value: Any, kind: type[StrEnum]) -> StrEnum:
    try:
        return kind(value)
    except ValueError:
        raise _Unreadable(f"expected one of {', '.join(kind)}, found {value!r:.40}") from None


_READERS: dict[type, Callable[[Any, Any], Any]] = {
    StrEnum: _read_word,
    str: _exactly(str, "a text"),
    int: _exactly(int, "a whole number"),
    bool: _exactly(bool, "true or false"),
    float: _read_float,
    date: _from_text(date.fromisoformat, "a date such as 2026-06-30"),
    time: _from_text(_time_of, "a time such as 09:30"),
    Decimal: _from_text(_decimal_of, "a decimal number as text"),
    Money: _from_text(_money_of, "an amount such as '12.50 EUR'"),
}
_WRITERS: dict[type, Callable[[Any], str]] = {
    StrEnum: lambda member: str(member.value),
    date: date.isoformat,
    time: _time_text,
    Decimal: str,
    Money: lambda money: f"{money.amount} {money.currency}",
}


def _make_converter() -> Converter:
    converter = Converter(
        omit_if_default=True, forbid_extra_keys=True, unstruct_collection_overrides={tuple: list}
    )
    converter.register_structure_hook_factory(is_dataclass)(_dataclass_reader)
    converter.register_structure_hook_factory(_is_tuple)(_tuple_reader)
    for kind, read in _READERS.items():
        converter.register_structure_hook(kind, read)
    for kind, write in _WRITERS.items():
        converter.register_unstructure_hook(kind, write)
    _add_item_union(converter)
    return converter


_CONVERTER = _make_converter()
