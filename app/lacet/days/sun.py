"""Daylight: sunrise, sunset and civil twilight at a place on a day.

The rule of this module: the horizon is the flat one at sea level. Height of the observer and mountains around
are left out (a valley loses the sun earlier than told here), and air is the standard air of the almanacs.

Why our own formulas: `astral` adds a refraction of its own and lies 12 to 80 s off (minutes near the polar
day); libraries that agree with the almanacs to the second cost over 130 microseconds a day or bring an
ephemeris of megabytes, while a dragged leg asks for fourteen days inside a frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Literal

from lacet.days.zones import zone as zone_of

Polar = Literal["day", "night"]

# Upper limb on the horizon: 34' of refraction and 16' of half the sun's disc (Explanatory Supplement to the
# Astronomical Almanac, 3rd ed., 2013, section 12.2); civil twilight: centre 6 degrees below.
SUNRISE_ALTITUDE_DEG = -50 / 60
CIVIL_TWILIGHT_ALTITUDE_DEG = -6.0

# Formulas give the sun as seen from the middle of the earth; from the ground it stands 8.794" lower at the
# horizon.
_PARALLAX_DEG = 8.794 / 3600

_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_DAY_S = 86_400
_ONE_DAY = timedelta(days=1)
# Terrestrial time is ahead of universal time by 64 s (2000) to about 70 s (2030): 10 s move sunrise by 0.03
# s.
_DELTA_T_DAYS = 69 / _DAY_S
_TURN = 2 * math.pi
# Where the sun's position is worked out, in days from clock noon: solar noon and both midnights lie within
# one day.
_NODES = (-0.75, 0.0, 0.75)
_POSITION_DECIMALS = 3
_SETTLED_DAYS = 0.1 / _DAY_S
_MOST_STEPS = 60


@dataclass(frozen=True, slots=True)
class Sun:
    """The daylight of one day at one place, as aware local times to the second.

    A time is None where the event doesn't happen. `polar` says 'day' when the sun doesn't set and 'night'
    when it doesn't rise; `twilight_polar` says 'day' when it never gets darker than civil twilight and
    'night' when civil twilight is never reached. Around the change to the polar day one event can be missing
    with `polar` None.
    """

    sunrise: datetime | None
    sunset: datetime | None
    civil_dawn: datetime | None
    civil_dusk: datetime | None
    polar: Polar | None = None
    twilight_polar: Polar | None = None


def sun(latitude_deg: float, longitude_deg: float, day: date, zone: str) -> Sun:
    """Return the daylight that belongs to a day.

    A day's light is the one around its solar noon: where the sun sets after midnight, that sunset (with the
    date of tomorrow) ends today's light. The position is rounded to 0.001 degrees (about 100 m, under 0.5 s)
    so that places near each other share one answer.

    Parameters
    ----------
    latitude_deg, longitude_deg
        Position [degrees], north and east positive.
    day
        Local date.
    zone
        Zone of the answer, as `lacet.days.zones.zone` takes it.

    Raises
    ------
    ZoneRefused
        If the zone is unknown.
    ValueError
        If the position is not on earth.

    Notes ----- Against positions computed from a planetary theory of arc-second accuracy (3 000 random places
    and days of 1990 to 2060): median 0.6 s, at most 5 s below 60 degrees of latitude. Where the sun grazes
    the horizon, near the polar day, a second of arc is some seconds of time.

    References
    ----------
    Meeus, J. (1998), Astronomical Algorithms, 2nd ed.: chapters 12 (sidereal time), 22 (nutation, obliquity),
    25 (position of the sun, low accuracy: 0.01 degrees), 15 (rising and setting).
    """
    if not (-90 <= latitude_deg <= 90 and -180 <= longitude_deg <= 180):
        raise ValueError(f"no position on earth: {latitude_deg}, {longitude_deg}")
    return _sun(round(latitude_deg, _POSITION_DECIMALS), round(longitude_deg, _POSITION_DECIMALS), day, zone)


@lru_cache(maxsize=8192)
def _sun(latitude_deg: float, longitude_deg: float, day: date, zone: str) -> Sun:
    rules = zone_of(zone)
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=rules).astimezone(UTC)
    sky = _Sky(latitude_deg, longitude_deg, (noon - _J2000) / _ONE_DAY)

    def clock(days: float | None) -> datetime | None:
        if days is None:
            return None
        return (noon + timedelta(seconds=round(days * _DAY_S))).astimezone(rules)

    sunrise, sunset, polar = sky.rise_and_set(SUNRISE_ALTITUDE_DEG)
    dawn, dusk, twilight_polar = sky.rise_and_set(CIVIL_TWILIGHT_ALTITUDE_DEG)
    return Sun(clock(sunrise), clock(sunset), clock(dawn), clock(dusk), polar, twilight_polar)


class _Sky:
    """The sun over one place around one clock noon. Times are days from that noon.

    Hour angle and declination come from three positions and a parabola through them (Meeus, chapter 3), which
    is good to a few hundredths of a second within the day and spares a position for every step of the search.
    """

    __slots__ = ("_angle", "_bend", "_cos_latitude", "_sin_latitude", "_sine", "_speed", "_times")

    def __init__(self, latitude_deg: float, longitude_deg: float, noon_days: float) -> None:
        self._sin_latitude = math.sin(math.radians(latitude_deg))
        self._cos_latitude = math.cos(math.radians(latitude_deg))
        angles, sines = zip(*(_greenwich_sun(noon_days + node) for node in _NODES), strict=True)
        drift = [
            _half_turn(angle - angles[1] - _TURN * node) for node, angle in zip(_NODES, angles, strict=True)
        ]
        _, speed, self._bend = _parabola(*drift)
        self._speed = _TURN + speed
        self._angle = _half_turn(angles[1] + math.radians(longitude_deg))
        self._sine = _parabola(*sines)
        self._times = tuple(self._time_of(angle) for angle in (-math.pi, 0.0, math.pi))

    def rise_and_set(self, altitude_deg: float) -> tuple[float | None, float | None, Polar | None]:
        """Return when the sun passes an altitude upwards and downwards, or why it never does."""
        sine = math.sin(math.radians(altitude_deg + _PARALLAX_DEG))
        midnight, noon, next_midnight = self._times
        if self._height(noon, sine) <= 0:
            return None, None, "night"
        rises = self._height(midnight, sine) < 0
        falls = self._height(next_midnight, sine) < 0
        if not rises and not falls:
            return None, None, "day"
        return (
            self._crossing(midnight, noon, sine) if rises else None,
            self._crossing(next_midnight, noon, sine) if falls else None,
            None,
        )

    def _time_of(self, hour_angle_rad: float) -> float:
        """Return when the sun stands at an hour angle; the parabola is so flat that two steps settle it."""
        missing = hour_angle_rad - self._angle
        days = missing / self._speed
        for _ in range(2):
            days = (missing - self._bend * days * days) / self._speed
        return days

    def _height(self, days: float, sine_wanted: float) -> float:
        """Return sin(altitude) - sin(altitude wanted) (Meeus, equation 13.6)."""
        level, slope, bend = self._sine
        sine = level + days * (slope + days * bend)
        angle = self._angle + days * (self._speed + days * self._bend)
        cosine = math.sqrt(1 - sine * sine)
        return self._sin_latitude * sine + self._cos_latitude * cosine * math.cos(angle) - sine_wanted

    def _crossing(self, below: float, above: float, sine_wanted: float) -> float:
        """Return when the height is zero between a time below and a time above (regula falsi, Illinois)."""
        height_below, height_above = self._height(below, sine_wanted), self._height(above, sine_wanted)
        days = below
        for _ in range(_MOST_STEPS):
            previous = days
            days = below - height_below * (above - below) / (height_above - height_below)
            height = self._height(days, sine_wanted)
            if abs(days - previous) < _SETTLED_DAYS:
                break
            if height < 0:
                below, height_below, height_above = days, height, height_above / 2
            else:
                above, height_above, height_below = days, height, height_below / 2
        return days


def _greenwich_sun(days: float) -> tuple[float, float]:
    """Return the sun's apparent hour angle at Greenwich [rad] and the sine of its declination.

    Parameters
    ----------
    days
        Universal time since 2000-01-01 12:00 [days].
    """
    century = (days + _DELTA_T_DAYS) / 36_525
    # Meeus, equations 25.2 to 25.4: mean longitude, mean anomaly, equation of the centre [degrees].
    mean_longitude = 280.46646 + century * (36_000.76983 + 0.0003032 * century)
    anomaly = math.radians(357.52911 + century * (35_999.05029 - 0.0001537 * century))
    centre = (
        (1.914602 - century * (0.004817 + 0.000014 * century)) * math.sin(anomaly)
        + (0.019993 - 0.000101 * century) * math.sin(2 * anomaly)
        + 0.000289 * math.sin(3 * anomaly)
    )
    # Nutation by its largest term alone (chapter 22), aberration (chapter 25), obliquity (equation 22.2).
    node = math.radians(125.04 - 1934.136 * century)
    nutation = -0.00478 * math.sin(node)
    longitude = math.radians(mean_longitude + centre - 0.00569 + nutation)
    obliquity = math.radians(23.4392911 - 0.0130042 * century + 0.00256 * math.cos(node))
    sine_longitude = math.sin(longitude)
    right_ascension = math.atan2(math.cos(obliquity) * sine_longitude, math.cos(longitude))
    # Equation 12.4, mean sidereal time [degrees], made apparent by the nutation in right ascension.
    sidereal = 280.46061837 + 360.98564736629 * days + nutation * math.cos(obliquity)
    return math.radians(sidereal % 360) - right_ascension, math.sin(obliquity) * sine_longitude


def _parabola(before: float, middle: float, after: float) -> tuple[float, float, float]:
    """Return level, slope and bend of the parabola through values at the three nodes."""
    node = _NODES[2]
    return middle, (after - before) / (2 * node), (after + before - 2 * middle) / (2 * node * node)


def _half_turn(angle_rad: float) -> float:
    return (angle_rad + math.pi) % _TURN - math.pi
