"""Texts of a GPX file turned into numbers, whole columns at once.

`float` alone is too kind: it reads '4_6.5', full-width digits, 'nan' and 'inf'. A column is therefore
checked to hold nothing but the signs of a decimal number first; only when it doesn't is it read entry by
entry.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import UTC, datetime, timedelta, timezone

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.track import Floats

EARLIEST_S = datetime(1980, 1, 6, tzinfo=UTC).timestamp()
LATEST_S = datetime(2100, 1, 1, tzinfo=UTC).timestamp()

# XML Schema allows no exponent in a decimal; recorders write one all the same.
_NUMBER_SIGNS = b"0123456789.+-eE \t\r\n"
_NUMBER = re.compile(r"[ \t\r\n]*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?[ \t\r\n]*")
_TIME = re.compile(
    r"\s*([0-9]{4})-([0-9]{2})-([0-9]{2})[T ]([0-9]{2}):([0-9]{2}):([0-9]{2})(\.[0-9]+)?"
    r"\s*(Z|z|[+-][0-9]{2}:?[0-9]{2})?\s*"
)
_POINTS = {"\u066b": ".", "\uff0e": "."}
_DIGIT_AT = np.array((0, 1, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15, 17, 18))
_SIGN_AT = np.array((4, 7, 10, 13, 16))
_SIGNS = np.frombuffer(b"--T::", dtype=np.uint8)
_TO_FOUR = np.array((1000, 100, 10, 1))
_TO_TWO = np.array((10, 1))


def numbers(texts: list[str]) -> Floats:
    """Return the numbers of a column, NaN for whatever isn't a plain decimal number."""
    joined = "".join(texts).encode("utf-8", "replace")
    if not joined.translate(None, _NUMBER_SIGNS):
        try:
            return _finite(np.array(list(map(float, texts)), dtype=np.float64))
        except ValueError:
            pass
    return _finite(np.array([_number(text) for text in texts], dtype=np.float64))


def western_digits(text: str) -> str:
    """Return a text with the digits of other scripts as 0 to 9, the Arabic decimal sign as a point."""
    return "".join(
        str(unicodedata.decimal(sign)) if sign.isdecimal() else _POINTS.get(sign, sign) for sign in text
    )


def times_s(texts: list[str]) -> Floats:
    """Return the seconds since 1970 (UTC) of a column of XML times, NaN for whatever isn't one.

    A time without a zone is UTC, as GPX says.
    """
    widths = set(map(len, texts))
    if len(widths) == 1 and (width := widths.pop()) >= 20:
        letters = np.frombuffer("".join(texts).encode("ascii", "replace"), dtype=np.uint8)
        plain = _plain_times_s(letters.reshape(len(texts), width))
        if plain is not None:
            return plain
    return np.array([_time_s(text) for text in texts], dtype=np.float64)


def _finite(column: Floats) -> Floats:
    column[np.isinf(column)] = np.nan
    return column


def _number(text: str) -> float:
    return float(text) if _NUMBER.fullmatch(text) else np.nan


def _plain_times_s(letters: NDArray[np.uint8]) -> Floats | None:
    """Read a block of equally wide '2024-06-01T08:00:00Z' or '...00.123Z'; None when any entry differs."""
    digits = letters[:, _DIGIT_AT].astype(np.int64) - ord("0")
    fraction = letters[:, 20:-1].astype(np.int64) - ord("0")
    looks_plain = (
        np.all(letters[:, _SIGN_AT] == _SIGNS)
        and np.all(letters[:, -1] == ord("Z"))
        and (letters.shape[1] == 20 or (letters.shape[1] > 21 and np.all(letters[:, 19] == ord("."))))
        and np.all((digits >= 0) & (digits <= 9))
        and np.all((fraction >= 0) & (fraction <= 9))
    )
    if not looks_plain:
        return None
    month = (digits[:, :4] @ _TO_FOUR - 1970) * 12 + digits[:, 4:6] @ _TO_TWO - 1
    day = digits[:, 6:8] @ _TO_TWO
    hour, minute, second = (digits[:, at : at + 2] @ _TO_TWO for at in (8, 10, 12))
    date = month.astype("datetime64[M]").astype("datetime64[D]") + (day - 1)
    month_of_year = digits[:, 4:6] @ _TO_TWO
    in_range = (
        (month_of_year >= 1) & (month_of_year <= 12) & (date.astype("datetime64[M]").astype(int) == month)
    )
    if not np.all(in_range & (hour <= 24) & (minute <= 59) & (second <= 60)):
        return None
    whole = date.astype(np.int64) * 86_400 + hour * 3600 + minute * 60 + second
    return np.asarray(whole + fraction @ (0.1 ** np.arange(1, fraction.shape[1] + 1)))


def _time_s(text: str) -> float:
    parts = _TIME.fullmatch(text)
    if not parts:
        return np.nan
    year, month, day, hour, minute, second = (int(parts[group]) for group in range(1, 7))
    try:
        moment = datetime(year, month, day, hour, minute, min(second, 59), tzinfo=_zone(parts[8]))
    except ValueError:
        return np.nan
    # Arithmetic on timestamps, since shifting the year 0001 or 9999 by a zone leaves the calendar.
    since = moment.replace(tzinfo=UTC) - datetime(1970, 1, 1, tzinfo=UTC)
    offset = moment.utcoffset() or timedelta(0)
    return since.total_seconds() - offset.total_seconds() + max(second - 59, 0) + float(parts[7] or 0)


def _zone(written: str | None) -> timezone:
    if written is None or written in "Zz":
        return UTC
    minutes = int(written[1:3]) * 60 + int(written[-2:])
    if minutes >= 24 * 60:
        raise ValueError(written)
    return timezone(timedelta(minutes=-minutes if written[0] == "-" else minutes))
