"""A text as its difference to the one before: what makes a revision cost half a kilobyte.

One edit changes one place of a trip's JSON. What is equal at both ends is counted, and the rest is
deflated with the replaced text (and what surrounds it) as the dictionary, so that a day moved elsewhere
costs next to nothing. A body without a previous text is deflated whole.

Layout: b"F" + deflate(text), or b"D" + two little-endian 32-bit lengths (equal head, equal tail) +
deflate(middle).
"""

import struct
import zlib

_WINDOW = 32_768  # as far back as deflate can see
_CONTEXT = 2_048
_LENGTHS = struct.Struct("<II")


def pack(text: bytes, previous: bytes | None = None) -> bytes:
    """The body that keeps `text`; given the previous text, as a difference to it."""
    if previous is None:
        return b"F" + zlib.compress(text)
    head = _equal_head(text, previous)
    tail = _equal_tail(text, previous, min(len(text), len(previous)) - head)
    deflate = zlib.compressobj(zdict=_dictionary(previous, head, tail))
    middle = deflate.compress(text[head : len(text) - tail]) + deflate.flush()
    return b"D" + _LENGTHS.pack(head, tail) + middle


def unpack(body: bytes, previous: bytes | None = None) -> bytes:
    """The text a body keeps.

    Raises
    ------
    zlib.error, struct.error, ValueError
        When the body is damaged, or the previous text is missing.
    """
    if body[:1] == b"F":
        return zlib.decompress(body[1:])
    if body[:1] != b"D" or previous is None:
        raise ValueError("a difference without what it differs from")
    head, tail = _LENGTHS.unpack_from(body, 1)
    inflate = zlib.decompressobj(zdict=_dictionary(previous, head, tail))
    middle = inflate.decompress(body[1 + _LENGTHS.size :]) + inflate.flush()
    return previous[:head] + middle + previous[len(previous) - tail :]


def _dictionary(previous: bytes, head: int, tail: int) -> bytes:
    return previous[max(head - _CONTEXT, 0) : len(previous) - tail + _CONTEXT][-_WINDOW:]


def _equal_head(one: bytes, other: bytes) -> int:
    """Length of the equal beginning, by halving: comparing slices is a hundred times faster than bytes."""
    low, high = 0, min(len(one), len(other))
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low


def _equal_tail(one: bytes, other: bytes, most: int) -> int:
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        if one[len(one) - middle : len(one) - low] == other[len(other) - middle : len(other) - low]:
            low = middle
        else:
            high = middle - 1
    return low
