"""GPX 1.0 and 1.1 into tracks, by a small reader on expat that trusts nothing.

No document type and no entities, so nothing is expanded or fetched. Size, depth, one token, names and
namespaces are bounded; with these the work is linear in the size of the file and needs no clock. The file
is fed in pieces of 64 KiB: between two pieces other threads run and the caller may stop the reading.

Only what stands where GPX puts it is read. Elements of other namespaces, extensions and unknown elements
are left out with all they hold. What was dropped or looks wrong is told in `GpxFile.problems`; nothing is
repaired silently.
"""

from __future__ import annotations

import codecs
import pyexpat
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

import numpy as np

from lacet.language import to_say
from lacet.tracks.doubts import alike_lines, line_doubts, looks_swapped, zero_heights_as_missing
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_parser import GpxParser, RawLine
from lacet.tracks.gpx_points import Columns
from lacet.tracks.gpx_source import PIECE_BYTES, encoding_of, opened, utf8_pieces
from lacet.tracks.gpx_words import one_line, paragraph, refusal_for
from lacet.tracks.problem import GpxRefused, Problem, ReadingStopped
from lacet.tracks.track import Track

Progress = Callable[[int, int], bool]

_HEAD_BYTES = 4_096


@dataclass(frozen=True, slots=True, eq=False)
class GpxFile:
    """What a file holds, and what a person should know about it."""

    lines: tuple[GpxLine, ...]
    waypoints: tuple[Waypoint, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Manner:
    """How a document is read: as it says, or more kindly after that failed."""

    encoding: str
    declares_prefixes: bool = True
    problems: tuple[Problem, ...] = ()


def read_gpx(
    source: Path | bytes,
    name: str | None = None,
    progress: Progress | None = None,
    region_deg: tuple[float, float] | None = None,
) -> GpxFile:
    """Read a GPX file.

    Parameters
    ----------
    source
        The file, or its bytes.
    name
        How sentences name it; the file's own name by default.
    progress
        Called with (bytes done, bytes in all) after each piece; returning False stops the reading.
    region_deg
        Latitude and longitude about which the office works, if known. A line far from it that would lie there
        with the two swapped is told.

    Raises
    ------
    GpxRefused
        When it isn't GPX, is damaged, or names positions none of which is valid.
    ReadingStopped
        When `progress` returned False.
    """
    shown = name or (source.name if isinstance(source, Path) else "the file")
    with opened(source, shown) as (stream, size):
        manner: _Manner | None = _Manner(encoding_of(stream.read(_HEAD_BYTES), shown))
        while manner is not None:
            parser = GpxParser(shown, declares_prefixes=manner.declares_prefixes)
            try:
                _feed(parser, stream, size, manner.encoding, progress)
            except pyexpat.ExpatError as error:
                kinder = _kinder(manner, error, stream)
                if kinder is None:
                    raise refusal_for(error, shown) from error
                manner = kinder
            else:
                return _assembled(parser, manner.problems, region_deg)
    raise AssertionError("unreachable: the loop returns or raises")


def _feed(parser: GpxParser, stream: BinaryIO, size: int, encoding: str, progress: Progress | None) -> None:
    stream.seek(0)
    for piece, done in utf8_pieces(stream, encoding, parser.name):
        parser.feed(piece)
        if progress is not None and not progress(done, size):
            raise ReadingStopped("The reading of {parser} was stopped.", parser=parser.name)
    parser.close()


def _kinder(manner: _Manner, error: pyexpat.ExpatError, stream: BinaryIO) -> _Manner | None:
    """Return another manner of reading after an error that hand-made files often have, else None."""
    complaint = pyexpat.ErrorString(error.code) or ""
    if complaint == "unbound prefix" and manner.declares_prefixes:
        says = "A tag uses a prefix that is declared nowhere; tags with a prefix were left out."
        problem = Problem(error.lineno, says)
        return replace(manner, declares_prefixes=False, problems=(*manner.problems, problem))
    if "invalid token" in complaint and manner.encoding == "utf-8" and not _is_utf8(stream):
        says = "The text isn't the UTF-8 it should be; it was read as Latin-1, so accents may be wrong."
        problem = Problem(error.lineno, says)
        return replace(manner, encoding="latin-1", problems=(*manner.problems, problem))
    return None


def _is_utf8(stream: BinaryIO) -> bool:
    stream.seek(0)
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        while piece := stream.read(PIECE_BYTES):
            decoder.decode(piece)
    except UnicodeDecodeError:
        return False
    # A character cut off by the end is the sign of a file cut off, not of another encoding.
    return True


def _assembled(
    parser: GpxParser, earlier: tuple[Problem, ...], region_deg: tuple[float, float] | None
) -> GpxFile:
    lines: list[GpxLine] = []
    problems = [*earlier, *parser.problems]
    for raw in parser.lines:
        line = _line(raw, problems)
        if line is None:
            continue
        lines.append(line)
        if region_deg is not None and looks_swapped(line.track, region_deg):
            says = "latitude and longitude look swapped, for it lies far from the other stages"
            problems.append(Problem(raw.line_number, f"{_shown_name(raw)}: {says}."))
    problems.extend(alike_lines(lines))
    waypoints = tuple(_waypoints(parser, problems))
    if not lines and not waypoints:
        _refuse_or_tell_nothing(parser, problems)
    return GpxFile(tuple(lines), waypoints, tuple(problems))


def _line(raw: RawLine, problems: list[Problem]) -> GpxLine | None:
    shown = _shown_name(raw)
    columns = raw.points.columns()
    problems.extend(raw.points.problems(shown))
    if not len(columns):
        if not len(raw.points):
            problems.append(Problem(raw.line_number, f"{shown} has no points and was left out.", "note"))
        return None
    track, all_zero = zero_heights_as_missing(_track(columns))
    if all_zero:
        says = f"{shown}: every elevation is 0, which was taken as missing."
        problems.append(Problem(raw.line_number, says))
    times = None if np.all(np.isnan(columns.time_s)) else columns.time_s
    problems.extend(
        Problem(raw.line_number, f"{shown}: {doubt.says}.", doubt.weight)
        for doubt in line_doubts(track, times)
    )
    description = paragraph(raw.texts.get("desc") or raw.texts.get("cmt") or "")
    return GpxLine(one_line(raw.texts.get("name", "")), description, raw.kind, track, times)


def _shown_name(raw: RawLine) -> str:
    name = one_line(raw.texts.get("name", ""))
    return f"{raw.kind.capitalize()} “{name}”" if name else f"Unnamed {raw.kind}"


def _track(columns: Columns) -> Track:
    return Track(columns.latitude_deg, columns.longitude_deg, columns.height_m, columns.segment_start)


def _waypoints(parser: GpxParser, problems: list[Problem]) -> Iterator[Waypoint]:
    columns = parser.waypoints.columns()
    problems.extend(parser.waypoints.problems("Waypoints"))
    kept = [texts for texts, keep in zip(parser.waypoint_texts, columns.kept.tolist(), strict=True) if keep]
    places = zip(
        columns.latitude_deg.tolist(),
        columns.longitude_deg.tolist(),
        columns.height_m.tolist(),
        kept,
        strict=True,
    )
    for latitude, longitude, height, texts in places:
        yield Waypoint(
            latitude_deg=latitude,
            longitude_deg=-180.0 if longitude == 180.0 else longitude,
            height_m=None if np.isnan(height) else height,
            name=one_line(texts.get("name", "")),
            description=paragraph(texts.get("desc") or texts.get("cmt") or ""),
            symbol=one_line(texts.get("sym", "")),
            kind=one_line(texts.get("type", "")),
        )


def _refuse_or_tell_nothing(parser: GpxParser, problems: list[Problem]) -> None:
    """Refuse a document none of whose positions is valid; tell of one that never named any.

    An empty document is a device's way of saying 'nothing recorded yet'. One with a track or route and not
    a single thing in it was meant to hold a line, and lost it.
    """
    named = sum(len(raw.points) for raw in parser.lines) + len(parser.waypoint_texts)
    if named:
        first = next(problem for problem in problems if problem.line_number and "dropped" in problem.says)
        reason = f"none of its {named} positions is valid ({first.says.rstrip('.')})."
        raise GpxRefused(parser.name, reason, first.line_number)
    hollow = next((raw for raw in parser.lines if raw.is_hollow), None)
    if hollow is not None:
        raise GpxRefused(
            parser.name, to_say("the {kind} has no points.", kind=hollow.kind), hollow.line_number
        )
    problems.append(Problem(None, "The file holds no track, route or waypoint."))
