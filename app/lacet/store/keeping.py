"""Values to the text that is kept, and back: compact JSON by way of `trip.plain`, and its digest."""

import hashlib
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

import orjson

from lacet.store.errors import CannotBeKept, DamagedPart
from lacet.trip.plain import NotPlain, from_plain, to_plain

Value = TypeVar("Value")

# orjson's error is a ValueError, and so are those of dates, enumerations and UTF-8.
_TRIPS_OVER = (
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    ArithmeticError,
    RecursionError,
    struct.error,
    zlib.error,
)


def json_of(data: Any) -> bytes:
    """Plain data as compact JSON; keys keep their order, so equal values give equal bytes.

    Raises
    ------
    CannotBeKept
        For half a character (a lone surrogate) or a whole number beyond 64 bits.
    """
    try:
        return orjson.dumps(data)
    except TypeError as error:
        raise CannotBeKept(
            "A text or number can't be kept: it holds half a character or more than 19 digits. "
            "Type it again and save once more."
        ) from error


def text_of(value: Any) -> str:
    """A value as the text that is kept."""
    return json_of(to_plain(value)).decode()


def refuse_what_no_file_keeps(value: Any) -> None:
    """Look at a value before it waits to be saved: what can never be kept would stop all behind it.

    Raises
    ------
    CannotBeKept
    """
    json_of(to_plain(value))


def value_of(kind: type[Value], text: str | bytes) -> Value:
    """The value a kept text describes.

    Raises
    ------
    DamagedPart
        When the text isn't what this program, or an older one, would have written.
    """
    with decoding(f"a {kind.__name__.lower()}"):
        return from_plain(kind, orjson.loads(text))


@contextmanager
def decoding(what: str) -> Iterator[None]:
    """Around what makes values of kept rows and texts: whatever it trips over is damage of that part.

    Raises
    ------
    DamagedPart
    """
    try:
        yield
    except (NotPlain, *_TRIPS_OVER) as error:
        raise DamagedPart(f"{what} can't be read ({type(error).__name__}: {str(error)[:200]})") from error


def digest_of(data: bytes | str) -> str:
    """32 hexadecimal digits that tell contents apart (BLAKE2b, 128 bits)."""
    return hashlib.blake2b(data.encode() if isinstance(data, str) else data, digest_size=16).hexdigest()
