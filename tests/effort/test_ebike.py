"""The law of assisted bikes, the battery, and how far it lasts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.effort import epac
from lacet.effort.battery_range import (
    RangeAssumptions,
    range_m,
    wh_per_km,
)
from lacet.effort.cycling import Rider, ride
from lacet.effort.ebike import (
    HIGHEST_ASSIST,
    LOWEST_ASSIST,
    MIDDLE_ASSIST,
    AssistLevel,
    Battery,
    available_wh,
    below_reserve_at_m,
    cold_share,
    share_left,
    usable_wh,
)
from lacet.effort.quantity import GRAVITY_M_S2, JOULES_PER_WH, KMH_PER_M_S, METRES_PER_MILE, EffortError
from lacet.trip.house_rules import HouseRules
from tests.effort.profiles import even_slope, rolling_profile

MPH = 3600.0 / METRES_PER_MILE


def test_the_european_law_is_250_watts_and_25_km_an_hour() -> None:
    # EN 15194:2017+A1, scope, read on the standards body's page; tolerance and start-up aid on a summary page
    assert epac.EUROPE.motor_power_w == 250.0
    assert epac.EUROPE.cut_off_m_s * KMH_PER_M_S == pytest.approx(25.0)
    assert epac.EUROPE.tolerated_cut_off_m_s * KMH_PER_M_S == pytest.approx(27.5)
    assert pytest.approx(6.0) == epac.START_UP_AID_M_S * KMH_PER_M_S


def test_the_british_law_is_15_5_miles_an_hour_from_fourteen() -> None:
    # UK Department for Transport, EAPC information sheet, 22 June 2015
    assert epac.GREAT_BRITAIN.cut_off_m_s * MPH == pytest.approx(15.5)
    assert epac.GREAT_BRITAIN.least_age == 14


def test_the_american_law_is_28_miles_an_hour_and_750_watts() -> None:
    # 36 CFR 1.4, class 3
    assert epac.UNITED_STATES_CLASS_3.cut_off_m_s * MPH == pytest.approx(28.0)
    assert epac.UNITED_STATES_CLASS_3.motor_power_w == 750.0


@pytest.mark.parametrize(
    ("temperature_c", "share"), [(-40, 0.6), (-20, 0.6), (-10, 0.7), (0, 0.8), (25, 1.0), (40, 1.0)]
)
def test_cold_takes_its_share_of_the_battery(temperature_c: float, share: float) -> None:
    # Samsung SDI, INR18650-15L, section 7.5 at -20, 0 and 25 degrees: one cell at a high rate, a lower limit
    # for an e-bike; straight between, held beyond
    assert cold_share(temperature_c) == pytest.approx(share)


def test_a_thousand_metres_with_110_kg_are_300_watt_hours_of_height() -> None:
    # m g h = 299.75 Wh. Alone the motor would take more; at the lowest assist it does 3/8 of the work
    height_wh = 110.0 * GRAVITY_M_S2 * 1000.0 / JOULES_PER_WH
    assert height_wh == pytest.approx(299.75, abs=0.01)
    given = RangeAssumptions()
    climb = ride(
        *even_slope(0.05, 20_000.0), Rider(mass_kg=80.0, luggage_kg=5.0), given.bike, assist=LOWEST_ASSIST
    )
    assert climb.battery_wh_used is not None
    share = LOWEST_ASSIST.share / (1.0 + LOWEST_ASSIST.share)
    assert height_wh * share < climb.battery_wh_used[-1] < 3.0 * height_wh * share


def test_at_the_highest_assist_on_the_level_a_kilometre_takes_seven_watt_hours() -> None:
    # VCD (Verkehrsclub Deutschland): 0.7 kWh for 100 km at maximum assistance, +- 1; one figure for city
    # riding, so a look at the order of size. 500 Wh would last 71 km
    assert wh_per_km(HIGHEST_ASSIST, *rolling_profile(0.0)) == pytest.approx(7.0, abs=1.0)


def reach_m(assist: AssistLevel, climb_m_per_km: float, capacity_wh: float = 500.0) -> float:
    found = range_m(capacity_wh, assist, *rolling_profile(climb_m_per_km))
    assert found is not None
    return found


def test_a_full_battery_at_the_lowest_assist_lasts_about_70_km_in_rolling_country() -> None:
    # common practice, no source: 15 m of climb a kilometre; the assumptions are those of `battery_range`
    assert 60_000.0 < reach_m(LOWEST_ASSIST, 15.0) < 80_000.0


def test_where_a_bike_is_pushed_no_range_is_promised() -> None:
    assert range_m(500.0, LOWEST_ASSIST, *even_slope(0.25)) is None
    distance_m, height_m = rolling_profile(10.0)
    height_m[5] = np.nan
    assert range_m(500.0, LOWEST_ASSIST, distance_m, height_m) is None


def test_the_reserve_assumed_is_the_house_rule() -> None:
    assert (
        RangeAssumptions().reserve_share == HouseRules().battery_reserve_share == Battery(1.0).reserve_share
    )


def test_a_range_falls_with_climb_and_with_assist() -> None:
    assists, climbs = (LOWEST_ASSIST, MIDDLE_ASSIST, HIGHEST_ASSIST), (10.0, 15.0, 20.0, 30.0)
    for assist in assists:
        hilly = [reach_m(assist, climb) for climb in climbs]
        assert hilly == sorted(hilly, reverse=True)
    for climb in (0.0, *climbs):
        helped = [reach_m(assist, climb) for assist in assists]
        assert helped == sorted(helped, reverse=True)


def test_range_grows_with_capacity_alone() -> None:
    half = reach_m(LOWEST_ASSIST, 10.0, 400.0)
    assert reach_m(LOWEST_ASSIST, 10.0, 800.0) == pytest.approx(2.0 * half)


@pytest.mark.parametrize("climb", [0.0, 10.0, 30.0])
def test_rolling_country_climbs_what_it_says(climb: float) -> None:
    distance_m, height_m = rolling_profile(climb)
    assert np.maximum(np.diff(height_m), 0.0).sum() == pytest.approx(climb * distance_m[-1] / 1000.0)


def test_usable_charge_is_capacity_times_health_times_cold() -> None:
    battery = Battery(500.0, health_share=0.8, start_share=0.5)
    assert usable_wh(battery, 0.0) == pytest.approx(500.0 * 0.8 * 0.8)
    assert available_wh(battery, 0.0) == pytest.approx(160.0)


def test_the_share_left_starts_where_it_was_charged_to_and_ends_at_nothing() -> None:
    battery = Battery(500.0, start_share=0.9)
    left = share_left(battery, np.array([0.0, 225.0, 10_000.0]), 25.0)
    assert left == pytest.approx([0.9, 0.45, 0.0])


def test_a_dead_battery_has_nothing_left() -> None:
    assert share_left(Battery(500.0, health_share=0.0), np.array([0.0, 1.0])).tolist() == [0.0, 0.0]


def test_the_reserve_is_passed_where_the_use_says() -> None:
    distance_m, used_wh = np.array([0.0, 10_000.0, 20_000.0]), np.array([0.0, 300.0, 500.0])
    battery = Battery(500.0, reserve_share=0.2)
    assert below_reserve_at_m(distance_m, used_wh, battery, 25.0) == pytest.approx(15_000.0)
    assert below_reserve_at_m(distance_m, used_wh * 0.5, battery, 25.0) is None
    assert below_reserve_at_m(distance_m, used_wh, Battery(500.0, start_share=0.1), 25.0) == 0.0


@given(
    used=st.floats(0.0, 1000.0),
    health=st.floats(0.1, 1.0),
    start=st.floats(0.0, 1.0),
    temperature=st.floats(-30.0, 40.0),
)
def test_below_the_reserve_and_share_left_tell_the_same(
    used: float, health: float, start: float, temperature: float
) -> None:
    battery = Battery(500.0, health, start)
    distance_m, used_wh = np.array([0.0, 1000.0]), np.array([0.0, used])
    left = float(share_left(battery, used_wh, temperature)[-1])
    below = below_reserve_at_m(distance_m, used_wh, battery, temperature)
    if abs(left - battery.reserve_share) > 1e-9:
        assert (below is not None) == (left < battery.reserve_share)


def test_batteries_that_cannot_be_are_refused() -> None:
    with pytest.raises(EffortError, match="capacity"):
        Battery(0.0)
    with pytest.raises(EffortError, match="health share"):
        Battery(500.0, health_share=1.1)
    with pytest.raises(EffortError, match="start share"):
        Battery(500.0, start_share=float("nan"))
