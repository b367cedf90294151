"""What is packed comes back; what is damaged is refused."""

from __future__ import annotations

import struct
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.tracks.geodesy import length_m
from lacet.tracks.packing import (
    PackingDamaged,
    outline,
    pack,
    sparkline,
    sparkline_heights_m,
    unpack,
)
from lacet.tracks.profile import profile
from lacet.tracks.track import Track, track
from tests.tracks.lines import northward, wandering


@st.composite
def tracks(draw: st.DrawFn) -> Track:
    count = draw(st.integers(1, 40))
    latitude = draw(st.lists(st.floats(-90, 90), min_size=count, max_size=count))
    longitude = draw(st.lists(st.floats(-180, 180), min_size=count, max_size=count))
    height = draw(st.lists(st.floats(-500, 9000) | st.just(np.nan), min_size=count, max_size=count))
    starts = draw(st.sets(st.integers(1, count - 1))) if count > 1 else set()
    return track(latitude, longitude, height, sorted({0, *starts}))


@given(tracks())
def test_a_track_comes_back_within_a_centimetre(line: Track) -> None:
    back = unpack(pack(line))
    off_longitude = np.abs((back.longitude_deg - line.longitude_deg + 180) % 360 - 180)
    assert np.max(np.abs(back.latitude_deg - line.latitude_deg)) <= 0.5000001e-7
    assert np.max(off_longitude) <= 0.5000001e-7
    assert np.array_equal(np.isnan(back.height_m), np.isnan(line.height_m))
    assert np.all(np.abs(np.nan_to_num(back.height_m - line.height_m)) <= 0.0050001)
    assert np.array_equal(back.segment_start, line.segment_start)


@given(tracks())
def test_packing_again_changes_nothing(line: Track) -> None:
    packed = pack(line)
    assert pack(unpack(packed)) == packed


def test_positions_of_seven_decimals_and_heights_of_two_come_back_to_the_last_bit() -> None:
    line = track([44.1234567, -12.7654321], [-24.6000001, 179.9999999], [1234.56, -3.21])
    back = unpack(pack(line))
    assert np.array_equal(back.latitude_deg, line.latitude_deg)
    assert np.array_equal(back.longitude_deg, line.longitude_deg)
    assert np.array_equal(back.height_m, line.height_m)


def test_a_recorded_line_takes_under_ten_bytes_a_point() -> None:
    line = wandering(3, 5_000)
    assert len(pack(line)) < 10 * len(line)


def test_bytes_cut_anywhere_are_refused() -> None:
    packed = pack(wandering(1, 30))
    for length in range(len(packed)):
        with pytest.raises(PackingDamaged):
            unpack(packed[:length])


def test_any_single_changed_byte_is_refused() -> None:
    packed = pack(wandering(2, 20))
    for index in range(len(packed)):
        changed = bytearray(packed)
        changed[index] ^= 0x41
        with pytest.raises(PackingDamaged):
            unpack(bytes(changed))


def test_bytes_after_the_end_are_refused() -> None:
    with pytest.raises(PackingDamaged, match="damaged"):
        unpack(pack(wandering(2, 20)) + b"\0")


def test_a_bomb_is_refused_before_it_unfolds() -> None:
    body = zlib.compress(bytes(50_000_000))
    with pytest.raises(PackingDamaged):
        unpack(struct.pack("<4sII", b"lct1", 2, 1) + body)
    with pytest.raises(PackingDamaged):
        unpack(struct.pack("<4sII", b"lct1", 4_000_000_000, 1) + body)


def test_an_outline_keeps_the_line_within_its_tolerance_with_fewer_points() -> None:
    line = wandering(5, 2_000)
    thin = unpack(outline(line))
    assert len(thin) < len(line) / 2
    assert abs(length_m(thin) / length_m(line) - 1) < 0.2


def test_a_sparkline_keeps_both_ends_and_what_is_unknown() -> None:
    along = np.arange(0.0, 5_001.0, 50.0)
    height = np.where((along > 2_000) & (along < 3_500), np.nan, 100 + along / 10)
    small = sparkline_heights_m(sparkline(profile(northward(along, height))))
    assert len(small) == 48
    assert (small[0], small[-1]) == (100, 600)
    assert np.isnan(small[24])


def test_a_sparkline_of_odd_length_is_refused() -> None:
    with pytest.raises(PackingDamaged, match="small profile"):
        sparkline_heights_m(b"abc")
