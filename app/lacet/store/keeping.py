"""Values to the text that is kept, and back: compact JSON by way of `trip.plain`, and its digest."""

import hashlib
from typing import Any, TypeVar

import orjson

from lacet.store.errors import CannotBeKept, DamagedFile
from lacet.trip.plain import NotPlain, from_plain, to_plain

Value = TypeVar("Value")


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


def value_of(kind: type[Value], text: str | bytes) -> Value:
    """The value a kept text describes.

    Raises
    ------
    DamagedFile
        When the text isn't what this program, or an older one, would have written.
    """
    try:
        return from_plain(kind, orjson.loads(text))
    except (NotPlain, orjson.JSONDecodeError) as error:
        raise DamagedFile(
            f"Something kept in the file can't be read ({error}). Restore the newest backup."
        ) from error


def digest_of(data: bytes | str) -> str:
    """32 hexadecimal digits that tell contents apart (BLAKE2b, 128 bits)."""
    return hashlib.blake2b(data.encode() if isinstance(data, str) else data, digest_size=16).hexdigest()
