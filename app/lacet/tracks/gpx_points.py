"""Points as the GPX reader gathers them: texts at first, columns of numbers after each piece of the file.

So memory is bounded by the numbers. A point without a valid position is dropped here, counted and told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import isnan

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.gpx_columns import EARLIEST_S, LATEST_S, numbers, times_s, western_digits
from lacet.tracks.problem import Problem
from lacet.tracks.track import Floats, Integers

# The lowest shore on land is the Dead Sea's (about -440 m), the highest summit 8 849 m. What lies outside,
# such as -9999, -32768 or 65535, is a recorder's or a raster's way of saying that it doesn't know.
LOWEST_HEIGHT_M = -500.0
HIGHEST_HEIGHT_M = 9_000.0


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """The valid points of one line, where its segments begin, and which of the file's points were kept."""

    latitude_deg: Floats
    longitude_deg: Floats
    height_m: Floats
    time_s: Floats
    segment_start: Integers
    kept: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.latitude_deg)


class Points:
    """Points of one line, or one waypoint, in the order of the file."""

    def __init__(self) -> None:
        self.latitudes: list[str] = []
        self.longitudes: list[str] = []
        self.heights: list[str] = []
        self.times: list[str] = []
        self.line_numbers: list[int] = []
        self._segment_starts: list[int] = []
        self._blocks: list[tuple[Floats, Floats, Floats, Floats]] = []
        self._valid: list[NDArray[np.bool_]] = []
        self._flushed = 0
        self._told: dict[str, tuple[int, int, str]] = {}

    def __len__(self) -> int:
        return self._flushed + len(self.latitudes)

    def begin_segment(self) -> None:
        """Let the next point begin a segment."""
        self._segment_starts.append(len(self))

    def flush(self, *, keep_last: bool = False) -> None:
        """Turn the texts gathered so far into numbers, but for a last point that is still open."""
        count = len(self.latitudes) - keep_last
        if count <= 0:
            return
        latitude, longitude = self._positions(count)
        height, time = _optional(self.heights[:count], numbers), _optional(self.times[:count], times_s)
        valid = (np.abs(latitude) <= 90) & (np.abs(longitude) <= 180)
        self._tell_positions(latitude, longitude, valid)
        self._tell_values(self.heights, height, valid, "elevation", "read as a number")
        self._tell_values(self.times, time, valid, "time", "read")
        self._settle_heights(height, valid)
        self._settle_times(time, valid)
        self._blocks.append((latitude, longitude, height, time))
        self._valid.append(valid)
        self._flushed += count
        del self.latitudes[:count], self.longitudes[:count], self.heights[:count], self.times[:count]
        del self.line_numbers[:count]

    def columns(self) -> Columns:
        """Return the valid points; nothing should be added afterwards."""
        self.flush()
        if not self._blocks:
            none = np.zeros(0)
            return Columns(none, none, none, none, np.zeros(0, dtype=np.int64), np.zeros(0, dtype=bool))
        valid = np.concatenate(self._valid)
        latitude, longitude, height, time = (
            np.concatenate(column)[valid] for column in zip(*self._blocks, strict=True)
        )
        kept_before = np.concatenate(([0], np.cumsum(valid)))
        start = np.unique(kept_before[[0, *self._segment_starts]])
        return Columns(latitude, longitude, height, time, start[start < len(latitude)], valid)

    def problems(self, what: str) -> Iterator[Problem]:
        """Yield what was dropped or ignored, one sentence for each reason."""
        for reason, (count, line_number, example) in self._told.items():
            sentence = reason.format(count=count, s="" if count == 1 else "s", example=example)
            yield Problem(line_number, f"{what}: {sentence}.")

    def _tell(self, reason: str, indexes: list[int], example: str) -> None:
        count, line_number, shown = self._told.get(reason, (0, self.line_numbers[indexes[0]], example))
        self._told[reason] = (count + len(indexes), line_number, shown)

    def _positions(self, count: int) -> tuple[Floats, Floats]:
        """Return the positions; digits of other scripts are read as well, but told."""
        for column in (self.latitudes, self.longitudes):
            if "".join(column[:count]).isascii():
                continue
            foreign = [index for index in range(count) if not column[index].isascii()]
            reason = "{count} position{s} not written in the digits 0 to 9 ({example})"
            self._tell(reason, foreign, _shown(column[foreign[0]]))
            column[:count] = [western_digits(text) for text in column[:count]]
        return numbers(self.latitudes[:count]), numbers(self.longitudes[:count])

    def _tell_positions(self, latitude: Floats, longitude: Floats, valid: NDArray[np.bool_]) -> None:
        for index in np.flatnonzero(~valid).tolist():
            written = (self.latitudes[index], self.longitudes[index])
            reason, example = _why_dropped(written, float(latitude[index]), float(longitude[index]))
            self._tell(reason, [index], example)

    def _tell_values(
        self, texts: list[str], values: Floats, valid: NDArray[np.bool_], noun: str, verb: str
    ) -> None:
        unread = np.flatnonzero(np.isnan(values) & valid).tolist()
        wrong = [index for index in unread if texts[index].strip()]
        if wrong:
            reason = f"{{count}} {noun}{{s}} could not be {verb} ({{example}})"
            self._tell(reason, wrong, _shown(texts[wrong[0]]))

    def _settle_heights(self, height: Floats, valid: NDArray[np.bool_]) -> None:
        void = np.flatnonzero(((height < LOWEST_HEIGHT_M) | (height > HIGHEST_HEIGHT_M)) & valid).tolist()
        if void:
            reason = (
                "{count} point{s} without elevation: {example} is impossible on land "
                f"({LOWEST_HEIGHT_M:.0f}..{HIGHEST_HEIGHT_M:.0f} m) and taken as missing"
            )
            self._tell(reason, void, f"{height[void[0]]:.10g}")
            height[void] = np.nan

    def _settle_times(self, time: Floats, valid: NDArray[np.bool_]) -> None:
        strange = np.flatnonzero(((time < EARLIEST_S) | (time > LATEST_S)) & valid).tolist()
        if strange:
            reason = "{count} time{s} ignored, the date is implausible ({example})"
            self._tell(reason, strange, _shown(self.times[strange[0]]))
            time[strange] = np.nan


def _optional(texts: list[str], convert: Callable[[list[str]], Floats]) -> Floats:
    if "" not in texts:
        return convert(texts)
    column = np.full(len(texts), np.nan)
    given = [index for index, text in enumerate(texts) if text]
    if given:
        column[given] = convert([texts[index] for index in given])
    return column


def _why_dropped(written: tuple[str, str], latitude_deg: float, longitude_deg: float) -> tuple[str, str]:
    """Return the sentence for a point without a valid position, and what the file says there."""
    latitude, longitude = written
    if not (latitude.strip() and longitude.strip()):
        return "{count} point{s} dropped, without a position", ""
    if isnan(latitude_deg) or isnan(longitude_deg):
        pair = _shown(f"{latitude}, {longitude}")
        return "{count} point{s} dropped, the position is not a number ({example})", pair
    if abs(latitude_deg) > 90:
        return "{count} point{s} dropped, latitude outside -90..90 ({example})", _shown(latitude)
    return "{count} point{s} dropped, longitude outside -180..180 ({example})", _shown(longitude)


def _shown(text: str) -> str:
    """Return what a file says, short and on one line, to be quoted in a sentence."""
    line = " ".join(text.split())
    return repr(line if len(line) <= 40 else f"{line[:40]}…")
