"""Values to the text that is kept, and back: compact JSON by way of `trip.plain`, and its digest."""

import hashlib
import re
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, TypeVar

import orjson

from lacet.language import to_say
from lacet.store.errors import CannotBeKept, DamagedPart
from lacet.trip.plain import NotPlain, from_plain, to_plain
from lacet.trip.printable import clean_plain, without_commands

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
# Controls as JSON escapes them; what it doesn't escape, as UTF-8: DEL, U+0080-9F, U+202A-E, U+2066-9.
_MAY_HOLD_COMMANDS = re.compile(rb"\\[bfru]|\x7f|\xc2[\x80-\x9f]|\xe2\x80[\xaa-\xae]|\xe2\x81[\xa6-\xa9]")


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


def as_kept(value: Value) -> Value:
    """The value as a file keeps it: its texts without controls and turns of the reading direction.

    Whoever lets a value wait to be saved asks first: what can never be kept would stop all behind it.

    Raises
    ------
    CannotBeKept
    """
    plain = to_plain(value)
    if _MAY_HOLD_COMMANDS.search(json_of(plain)) is None:
        return value
    return from_plain(type(value), clean_plain(plain, without_commands))


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
        raise DamagedPart(
            to_say(
                "{what} can't be read ({kind}: {error})",
                what=what,
                kind=type(error).__name__,
                error=str(error)[:200],
            )
        ) from error


def stamp(at: datetime | None = None) -> str:
    """An instant as it is kept: UTC to the second; None = now."""
    return (datetime.now(UTC) if at is None else at.astimezone(UTC)).isoformat(timespec="seconds")


def digest_of(data: bytes | str) -> str:
    """32 hexadecimal digits that tell contents apart (BLAKE2b, 128 bits)."""
    return hashlib.blake2b(data.encode() if isinstance(data, str) else data, digest_size=16).hexdigest()
