"""A track keeps its promises: valid columns, read-only, unknown heights as NaN."""

from __future__ import annotations

import numpy as np
import pytest

from lacet.tracks.track import Track, TrackRefused, track


def test_a_track_without_heights_has_unknown_ones() -> None:
    assert np.all(np.isnan(track([44.0, 44.1], [-24.0, -24.1]).height_m))


def test_its_arrays_cannot_be_written_and_do_not_follow_their_source() -> None:
    latitude = np.array([44.0, 44.1])
    line = track(latitude, [-24.0, -24.1])
    latitude[0] = 10.0
    assert line.latitude_deg[0] == 44.0
    with pytest.raises(ValueError, match="read-only"):
        line.latitude_deg[0] = 1.0


def test_180_degrees_east_is_kept_as_west() -> None:
    assert track([1.0], [180.0]).longitude_deg[0] == -180.0


def test_an_infinite_height_is_unknown() -> None:
    assert np.isnan(track([1.0], [1.0], [np.inf]).height_m[0])


def test_segments_are_slices_that_cover_all_points() -> None:
    line = track([0.0, 1.0, 2.0, 3.0], [0.0] * 4, segment_start=(0, 1, 3))
    assert line.segments == (slice(0, 1), slice(1, 3), slice(3, 4))
    assert line.is_gap.tolist() == [True, False, True]
    assert len(line) == 4


@pytest.mark.parametrize(
    ("latitude", "longitude", "start", "says"),
    [
        ([], [], (0,), "at least one point"),
        ([1.0, 2.0], [1.0], (0,), "differ in number"),
        ([91.0], [1.0], (0,), "outside"),
        ([1.0], [180.5], (0,), "outside"),
        ([np.nan], [1.0], (0,), "outside"),
        ([1.0, 2.0], [1.0, 2.0], (1,), "segments"),
        ([1.0, 2.0], [1.0, 2.0], (0, 0), "segments"),
        ([1.0, 2.0], [1.0, 2.0], (0, 2), "segments"),
        ([1.0, 2.0], [1.0, 2.0], (), "segments"),
    ],
)
def test_columns_that_make_no_track_are_refused(
    latitude: list[float], longitude: list[float], start: tuple[int, ...], says: str
) -> None:
    with pytest.raises(TrackRefused, match=says):
        Track(
            np.array(latitude), np.array(longitude), np.full(len(latitude), np.nan), np.array(start, np.int64)
        )
