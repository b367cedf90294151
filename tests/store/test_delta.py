"""Differences of texts: whatever was packed comes out again, and one edit costs little."""

import struct
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.store import delta

PIECES = st.lists(st.sampled_from([b"day", b"night", b'{"a":1}', b"\x00", b"x" * 40]), max_size=12).map(
    b"".join
)


@given(PIECES, PIECES)
def test_a_difference_gives_back_the_text(text: bytes, previous: bytes) -> None:
    assert delta.unpack(delta.pack(text, previous), previous) == text


@given(st.binary(max_size=300), st.binary(max_size=300))
def test_unlike_texts_come_back_too(text: bytes, previous: bytes) -> None:
    assert delta.unpack(delta.pack(text, previous), previous) == text


@given(PIECES)
def test_a_complete_body_needs_nothing_else(text: bytes) -> None:
    assert delta.unpack(delta.pack(text)) == text


def test_a_part_moved_in_a_long_text_costs_under_a_hundred_bytes() -> None:
    days = [b'{"id":"d%d","note":"%s"}' % (n, zlib.compress(b"%d" % n).hex().encode() * 4) for n in range(90)]
    moved = [*days[:20], *days[25:40], *days[20:25], *days[40:]]
    assert len(delta.pack(b",".join(moved), b",".join(days))) < 100


def test_a_difference_without_its_text_is_refused() -> None:
    with pytest.raises(ValueError, match="differs"):
        delta.unpack(delta.pack(b"one", b"two"))


@pytest.mark.parametrize("body", [b"", b"X", b"D\x01", b"Fnonsense"])
def test_nonsense_is_refused(body: bytes) -> None:
    with pytest.raises((ValueError, zlib.error, struct.error)):
        delta.unpack(body, b"text")
