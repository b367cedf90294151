"""The bytes of a GPX file on their way to the XML parser: bounded, in pieces, always UTF-8.

The encoding is settled here and not by the parser: expat knows four, Python about a hundred. Whatever isn't
UTF-8 is decoded piece by piece, so a large file never lies in memory twice.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from lacet.files import FileRefused
from lacet.files import opened as opened_file
from lacet.language import to_say
from lacet.tracks.problem import GpxRefused

PIECE_BYTES = 65_536
LARGEST_FILE_BYTES = 100 * 1024 * 1024

_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
    # No mark, but the first sign of a document can only be '<'.
    (b"<\0", "utf-16-le"),
    (b"\0<", "utf-16-be"),
)
_DECLARED = re.compile(rb"\s*<\?xml[^>]{0,200}?encoding\s*=\s*[\"']([^\"'>]{1,60})[\"']")
_LATE_DECLARATION = re.compile(rb"\s+<\?xml[^>]{0,300}\?>")
_NOT_XML = (
    (b"PK\3\4", "this is a ZIP archive; unpack it first"),
    (b"\x1f\x8b", "this is a gzip archive; unpack it first"),
    (b"7z\xbc\xaf\x27\x1c", "this is a 7-Zip archive; unpack it first"),
    (b"\x89PNG", "this is a PNG picture, not GPX"),
    (b"\xff\xd8\xff", "this is a JPEG picture, not GPX"),
    (b"%PDF", "this is a PDF document, not GPX"),
)
# Stateful or made for other ends: in these, plain bytes can hide markup from whoever looks at the file.
_NEVER_READ = frozenset({"utf-7", "unicode_escape", "raw_unicode_escape", "idna", "punycode", "undefined"})
# A document whose declaration could be read as plain bytes isn't in one of these, whatever it says.
_WIDE = ("utf-16", "utf-32", "utf_16", "utf_32")


@contextmanager
def opened(source: Path | bytes, name: str) -> Iterator[tuple[BinaryIO, int]]:
    """Open a file or bytes for reading, with the size in bytes.

    Raises
    ------
    GpxRefused
        When the file can't be opened, is no plain file, is empty or too large.
    """
    if isinstance(source, bytes):
        _refuse_size(len(source), name)
        yield BytesIO(source), len(source)
        return
    try:
        with opened_file(source, LARGEST_FILE_BYTES) as (stream, size):
            _refuse_size(size, name)
            yield stream, size
    except FileRefused as refusal:
        raise GpxRefused(name, to_say("{reason}.", reason=refusal.reason)) from refusal


def encoding_of(head: bytes, name: str) -> str:
    """Return the encoding of a document by its first bytes.

    Raises
    ------
    GpxRefused
        When the bytes are plainly something other than XML, or the declared encoding isn't known.
    """
    for beginning, reason in _NOT_XML:
        if head.startswith(beginning):
            raise GpxRefused(name, to_say("{reason}.", reason=reason))
    for mark, encoding in _BYTE_ORDER_MARKS:
        if head.startswith(mark):
            return encoding
    if b"<" not in head:
        raise GpxRefused(name, "this is not a GPX file (no XML text).")
    declared = _DECLARED.match(head)
    return _known_encoding(declared[1].decode("ascii", "replace"), name) if declared else "utf-8"


def utf8_pieces(stream: BinaryIO, encoding: str, name: str) -> Iterator[tuple[bytes, int]]:
    """Yield the document as UTF-8 in pieces, each with the number of bytes read so far.

    Raises
    ------
    GpxRefused
        When bytes don't fit the encoding. Bytes of a UTF-8 document are passed on as they are: the parser
        checks them and knows the line.
    """
    if encoding == "utf-8":
        done = 0
        while piece := stream.read(PIECE_BYTES):
            yield (piece if done else _forgiven(piece)), done + len(piece)
            done += len(piece)
        return
    decoder = codecs.getincrementaldecoder(encoding)()
    done = 0
    line_number = 1
    while True:
        piece = stream.read(PIECE_BYTES)
        done += len(piece)
        try:
            text = decoder.decode(piece, final=not piece)
        except (UnicodeError, ValueError) as error:
            raise GpxRefused(
                name, to_say("the text is damaged: it isn't {encoding}.", encoding=encoding), line_number
            ) from error
        line_number += text.count("\n")
        yield text.encode("utf-8", "replace"), done
        if not piece:
            return


def _forgiven(first_piece: bytes) -> bytes:
    """Blank out an XML declaration that doesn't stand first, as copying and pasting leaves it.

    The encoding is settled already, and blanks keep the numbers of the lines.
    """
    late = _LATE_DECLARATION.match(first_piece)
    return re.sub(rb"[^\r\n]", b" ", late[0]) + first_piece[late.end() :] if late else first_piece


def _known_encoding(declared: str, name: str) -> str:
    try:
        found = codecs.lookup(declared)
    except (LookupError, ValueError) as error:
        raise GpxRefused(
            name,
            to_say("the encoding {declared!r} isn't known; save the file as UTF-8.", declared=declared),
            1,
        ) from error
    if found.name in _NEVER_READ or not getattr(found, "_is_text_encoding", True):
        raise GpxRefused(
            name,
            to_say("the encoding {declared!r} isn't read; save the file as UTF-8.", declared=declared),
            1,
        )
    if found.name.startswith(_WIDE) or found.name == "ascii":
        return "utf-8"
    return found.name


def _refuse_size(size: int, name: str) -> None:
    if size == 0:
        raise GpxRefused(name, "the file is empty.")
    if size > LARGEST_FILE_BYTES:
        limit = LARGEST_FILE_BYTES // 1024**2
        raise GpxRefused(
            name, to_say("the file is larger than {limit} MB; split it or thin out its points.", limit=limit)
        )
