"""Thousands of damaged files: each is read or refused in a sentence, and none takes long.

LACET_MUTATIONS sets how many (400 by default); they are the same in every run. If LACET_SAMPLES names a
folder, its files are damaged too.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from pathlib import Path

from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.packing import pack, unpack
from lacet.tracks.problem import GpxRefused
from lacet.tracks.profile import profile
from tests.tracks.lines import CLIMB_POINTS, gpx, trk

COUNT = int(os.environ.get("LACET_MUTATIONS", "400"))
LARGEST_SEED_BYTES = 60_000
PIECES = (
    *(
        b"<trkpt lat='1' lon='2'>",
        b"</trkpt>",
        b"<trkseg>",
        b"</trkseg>",
        b"<!--",
        b"-->",
        b"<![CDATA[",
        b"]]>",
    ),
    *(b"&amp;", b"&#x10FFFF;", b"&#0;", b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b"nan", b"1e999", b"-", b"x:"),
    *(b"<!DOCTYPE x>", b"<?xml?>", b' xmlns="urn:x"', b"<ele>-9999</ele>", b"\r", b"<", b">", b'"', b"'"),
    b"<time>9999-99-99T99:99:99Z</time>",
)
ROUTE = '<rte><rtept lat="1" lon="2"/><rtept lat="2" lon="2"/></rte>'
EXTENDED = CLIMB_POINTS.replace("</ele>", "</ele><extensions><a:b xmlns:a='urn:a'>1</a:b></extensions>")


def seeds() -> list[bytes]:
    own = [
        gpx(trk(CLIMB_POINTS, "Überschreitung")),
        gpx(trk(CLIMB_POINTS)).decode().encode("utf-16"),
        gpx('<wpt lat="1" lon="2"><name>A</name></wpt>' + ROUTE),
        gpx(trk(EXTENDED)),
    ]
    folder = os.environ.get("LACET_SAMPLES")
    if folder:
        files = sorted((Path(folder) / "gpx").rglob("*.gpx"))
        own += [file.read_bytes() for file in files if file.stat().st_size < LARGEST_SEED_BYTES]
    return own


def flip(data: bytearray, rng: random.Random) -> None:
    for _ in range(rng.randint(1, 8)):
        data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)


def cut_off(data: bytearray, rng: random.Random) -> None:
    del data[rng.randrange(len(data)) :]


def cut_out(data: bytearray, rng: random.Random) -> None:
    start = rng.randrange(len(data))
    del data[start : start + rng.randint(1, 200)]


def insert(data: bytearray, rng: random.Random) -> None:
    start = rng.randrange(len(data))
    data[start:start] = rng.choice(PIECES) * rng.choice((1, 1, 1, 2, 50))


def repeat(data: bytearray, rng: random.Random) -> None:
    start = rng.randrange(len(data))
    part = bytes(data[start : start + rng.randint(1, 400)])
    data[start:start] = part * rng.randint(1, 20)


def swap_digits(data: bytearray, rng: random.Random) -> None:
    for _ in range(rng.randint(1, 30)):
        index = rng.randrange(len(data))
        if chr(data[index]).isdigit():
            data[index] = rng.choice(b"0123456789.-eE,")


DAMAGES: tuple[Callable[[bytearray, random.Random], None], ...] = (
    flip,
    cut_off,
    cut_out,
    insert,
    repeat,
    swap_digits,
    swap_digits,
)


def damaged(document: bytes, rng: random.Random) -> bytes:
    data = bytearray(document)
    for _ in range(rng.randint(1, 3)):
        if data:
            rng.choice(DAMAGES)(data, rng)
    return bytes(data)


def check_sentence(refused: GpxRefused) -> None:
    sentence = str(refused)
    assert sentence.startswith("damaged.gpx")
    assert sentence.endswith(".")
    assert sentence.isprintable()
    assert len(sentence) < 300


def take_in(document: bytes) -> bool:
    """Take a document in as the library does; tell whether it was read."""
    try:
        file = read_gpx(document, "damaged.gpx")
    except GpxRefused as refused:
        check_sentence(refused)
        return False
    for line in file.lines:
        unpack(pack(line.track))
        profile(line.track)
    return True


def test_damaged_files_are_read_or_refused_and_nothing_else() -> None:
    rng = random.Random(20)
    documents = seeds()
    read = sum(take_in(damaged(rng.choice(documents), rng)) for _ in range(COUNT))
    # Both must happen, or the damages would show nothing.
    assert 0.02 * COUNT < read < 0.98 * COUNT
