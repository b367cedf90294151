"""The power balance against published terms, and rides against hand-reckoned and recorded ones."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.effort import cycling, epac
from lacet.effort.acsm import acsm_cycling_ml_kg_min, oxygen_energy_w
from lacet.effort.bikes import SURFACES, BikeFigures, resistance_of
from lacet.effort.compendium import met_energy_kj
from lacet.effort.cycling import LOWEST_RIDING_M_S, ride
from lacet.effort.ebike import (
    HIGHEST_ASSIST,
    LOWEST_ASSIST,
    MIDDLE_ASSIST,
    AssistLevel,
    Battery,
    available_wh,
)
from lacet.effort.power_balance import (
    Resistance,
    air_power_w,
    bearing_power_w,
    climbing_power_w,
    martin_power_w,
    martin_speed_m_s,
)
from lacet.effort.quantity import KMH_PER_M_S, EffortError
from lacet.effort.riders import RIDERS, Rider, RiderClass, power_and_rise, rider_power_w
from lacet.effort.speed_table import place_of, speed_table
from lacet.effort.tobler import OFF_PATH_FACTOR, tobler_speed_m_s
from lacet.trip.library import SurfaceStretch
from lacet.trip.words import Surface
from tests.effort.profiles import Profile, drawn, even_slope, up_and_down

BIKE = BikeFigures()
E_BIKE = BikeFigures(mass_kg=25.0, capacity_wh=500.0)
every_class = pytest.mark.parametrize("rider_class", list(RiderClass))
every_surface = pytest.mark.parametrize("surface", list(Surface))
ASSISTS = [None, LOWEST_ASSIST, MIDDLE_ASSIST, HIGHEST_ASSIST]
every_assist = pytest.mark.parametrize("assist", ASSISTS)

# van Druenen & Blocken (2021), Sports Engineering 24, table 1: 6 m/s at 7.5 %; their parameters, results
# computed
DRUENEN = Resistance(72.0, 0.473, 0.0032, 1.225, 0.98)


def test_the_terms_of_the_balance_are_those_of_the_printed_parameters() -> None:
    assert float(air_power_w(DRUENEN, 6.0)) == pytest.approx(63.16, abs=0.01)
    assert float(bearing_power_w(6.0)) == pytest.approx(0.859, abs=0.01)
    assert float(climbing_power_w(DRUENEN, 6.0, 0.075)) == pytest.approx(316.954, abs=0.01)


# Martin et al. (1998); computed from the published terms
MARTIN_POWER = [
    (Resistance(95.0, 0.55, 0.006), 5.555556, 0.0, None, 91.06),  # flat touring
    (Resistance(100.0, 0.55, 0.006, 1.1), 2.222222, 0.06, None, 150.83),  # climb
    (Resistance(90.0, 0.5, 0.005), 5.0, 0.0, 10.0, 178.35),  # headwind of 5 m/s
]
MARTIN_SPEED = [
    (Resistance(95.0, 0.55, 0.006), 150.0, 0.0, 24.67),
    (Resistance(110.0, 0.55, 0.008, 1.1), 200.0, 0.08, 7.318),
]


@pytest.mark.parametrize(("resistance", "speed", "slope", "air", "watts"), MARTIN_POWER)
def test_martin_gives_the_power_for_a_speed(
    resistance: Resistance, speed: float, slope: float, air: float | None, watts: float
) -> None:
    assert float(martin_power_w(resistance, speed, slope, air)) == pytest.approx(watts, abs=0.05)


@pytest.mark.parametrize(("resistance", "watts", "slope", "kmh"), MARTIN_SPEED)
def test_martin_gives_the_speed_for_a_power(
    resistance: Resistance, watts: float, slope: float, kmh: float
) -> None:
    assert float(martin_speed_m_s(resistance, watts, slope)) * KMH_PER_M_S == pytest.approx(kmh, abs=0.01)


def test_surfaces_have_the_published_rolling_resistance() -> None:
    # list of a cycling-physics page: asphalt road 0.004, rough but paved road 0.008
    assert SURFACES[Surface.ASPHALT].rolling_coefficient == 0.004
    assert SURFACES[Surface.COMPACTED_GRAVEL].rolling_coefficient == 0.008
    coefficients = [SURFACES[surface].rolling_coefficient for surface in Surface]
    assert coefficients == sorted(coefficients)


@given(
    watts=st.floats(0.0, 600.0, allow_subnormal=False),
    slope=st.floats(-0.5, 0.5),
    mass=st.floats(40.0, 200.0),
    rolling=st.floats(0.0, 0.05),
)
def test_the_speed_found_takes_the_power_given(
    watts: float, slope: float, mass: float, rolling: float
) -> None:
    resistance = Resistance(mass, 0.55, rolling)
    speed = float(martin_speed_m_s(resistance, watts, slope))
    assert speed >= 0.0
    if speed > 0.0:
        taken = float(martin_power_w(resistance, speed, slope))
        scale = float(air_power_w(resistance, speed)) + mass * 9.81 * speed + watts
        assert taken == pytest.approx(watts, abs=1e-9 * scale)


@given(watts=st.floats(1.0, 600.0), slope=st.floats(-0.5, 0.5))
def test_speeds_are_the_same_for_numbers_and_arrays(watts: float, slope: float) -> None:
    resistance = Resistance(95.0, 0.55, 0.006)
    many = martin_speed_m_s(resistance, np.array([watts, 100.0]), np.array([slope, 0.0]))
    assert float(many[0]) == pytest.approx(float(martin_speed_m_s(resistance, watts, slope)), rel=1e-12)


def test_without_power_a_bike_stands_or_coasts() -> None:
    resistance = Resistance(95.0, 0.55, 0.006)
    standing, coasting = martin_speed_m_s(resistance, 0.0, np.array([0.02, -0.05]))
    assert standing == 0.0
    assert float(martin_power_w(resistance, coasting, -0.05)) == pytest.approx(0.0, abs=1e-9)


def test_a_power_below_zero_is_refused() -> None:
    with pytest.raises(EffortError, match="power"):
        martin_speed_m_s(DRUENEN, -1.0)


@every_class
@every_surface
def test_tabled_speeds_are_within_0_03_ppm_of_the_solved_balance(
    rider_class: RiderClass, surface: Surface
) -> None:
    figures, resistance = RIDERS[rider_class], resistance_of(Rider(rider_class=rider_class), BIKE, surface)
    table = speed_table(resistance, lambda slope: power_and_rise(figures, slope))
    slope_ratio = np.random.default_rng(7).uniform(-0.4, 0.5, 4000)
    solved = martin_speed_m_s(resistance, rider_power_w(figures, slope_ratio), slope_ratio)
    ridden = solved >= LOWEST_RIDING_M_S  # slower ones are pushed, so never looked up
    cap = SURFACES[surface].cap_m_s
    tabled = np.minimum(table.speed_m_s(place_of(slope_ratio)), cap)
    assert tabled[ridden] == pytest.approx(np.minimum(solved, cap)[ridden], rel=3e-8)


@every_class
def test_rider_power_has_no_kink(rider_class: RiderClass) -> None:
    slope_ratio = np.linspace(-0.1, 0.1, 20_001)
    power, rise = power_and_rise(RIDERS[rider_class], slope_ratio)
    assert rise == pytest.approx(np.gradient(power, slope_ratio), abs=2.0)
    assert power[[0, 10_000, -1]].tolist() == [
        0.0,
        RIDERS[rider_class].level_power_w,
        RIDERS[rider_class].climbing_power_w,
    ]


def test_a_regular_rider_on_the_level_goes_as_fast_as_recorded_commuters() -> None:
    # Berntsen et al. (2017), table 2, conventional bike, flat 8.2 km: 20.7 km/h, the median of 8 adults
    ridden = ride(*even_slope(0.0, 8200.0), Rider(rider_class=RiderClass.REGULAR), BIKE)
    assert 8200.0 / ridden.moving_s * KMH_PER_M_S == pytest.approx(20.7, rel=0.05)


def test_a_helped_leisure_rider_in_hills_goes_as_fast_as_recorded_commuters() -> None:
    # Berntsen et al. (2017), table 2, e-bike, hilly 7.1 km: 22.7 km/h, the median of 8 adults; the hills' own
    # climb was not read, 20 m a kilometre is taken
    ridden = ride(*up_and_down(3550.0, 0.04), Rider(), E_BIKE, assist=HIGHEST_ASSIST)
    assert 7100.0 / ridden.moving_s * KMH_PER_M_S == pytest.approx(22.7, rel=0.15)


def test_riders_burn_what_published_equations_and_recorded_commuters_burn() -> None:
    # ACSM leg cycling (table 6.3) for 100 W and 75 kg, rest included, from 50 to 200 W; Berntsen et al.
    # (2017), table 2: 8.4 MET on conventional bikes, the median of 8 adults, who rode at a sporty rider's
    # power
    regular = ride(*even_slope(0.0), Rider(rider_class=RiderClass.REGULAR), BIKE)
    acsm_w = oxygen_energy_w(acsm_cycling_ml_kg_min(100.0, 75.0), 75.0)
    assert regular.burnt_kj * 1000.0 / regular.moving_s == pytest.approx(acsm_w, rel=0.25)
    sporty = ride(*even_slope(0.0), Rider(rider_class=RiderClass.SPORTY), BIKE)
    commuters_kj = met_energy_kj(8.4, 75.0, sporty.moving_s)
    assert sporty.burnt_kj == pytest.approx(commuters_kj, rel=0.2)


@every_class
@every_surface
@every_assist
def test_a_steeper_climb_is_never_faster(
    rider_class: RiderClass, surface: Surface, assist: AssistLevel | None
) -> None:
    speeds = [
        float(ride(*even_slope(slope), Rider(rider_class=rider_class), E_BIKE, surface, assist).speed_m_s[0])
        for slope in np.linspace(0.0, 0.6, 121)
    ]
    assert np.all(np.diff(speeds) <= 1e-9)


@given(profile=drawn(), mass=st.floats(45.0, 120.0), assist=st.sampled_from(ASSISTS))
def test_rides_are_finite_forward_and_within_every_cap(
    profile: Profile, mass: float, assist: AssistLevel | None
) -> None:
    ridden = ride(*profile, Rider(mass_kg=mass, rider_class=RiderClass.SPORTY), E_BIKE, assist=assist)
    assert np.all(np.isfinite(ridden.time_s))
    assert np.all(np.diff(ridden.time_s) >= 0.0)
    assert np.all(ridden.speed_m_s <= RIDERS[RiderClass.SPORTY].downhill_cap_m_s)
    assert 0.0 <= ridden.pushed_m <= profile[0][-1] + 1e-9
    assert ridden.rider_energy_j >= 0.0


@given(profile=drawn(), mass=st.floats(45.0, 120.0))
def test_more_assist_is_never_slower(profile: Profile, mass: float) -> None:
    rides = [ride(*profile, Rider(mass_kg=mass), E_BIKE, assist=assist) for assist in ASSISTS]
    times = [ridden.moving_s for ridden in rides]
    assert all(later <= earlier + 1e-6 for earlier, later in pairwise(times))


def test_a_heavier_rider_is_slower_uphill() -> None:
    light, heavy = (ride(*even_slope(0.04), Rider(mass_kg=mass), BIKE) for mass in (60.0, 90.0))
    assert heavy.moving_s > light.moving_s


def test_rougher_ground_is_never_faster() -> None:
    times = [ride(*up_and_down(), Rider(), BIKE, surface).moving_s for surface in Surface]
    assert times == sorted(times)


def test_too_steep_a_climb_is_pushed_at_toblers_speed_off_the_path() -> None:
    ridden = ride(*even_slope(0.2), Rider(), BIKE)
    assert ridden.pushed_m == pytest.approx(1000.0)
    assert ridden.speed_m_s == pytest.approx(float(tobler_speed_m_s(0.2, OFF_PATH_FACTOR)))
    assert ridden.rider_energy_j == 0.0
    assert ridden.burnt_kj > 0.0


def test_a_climb_is_ridden_down_to_five_km_an_hour_and_no_slower() -> None:
    for slope in np.linspace(0.0, 0.2, 81):
        ridden = ride(*even_slope(float(slope)), Rider(), BIKE)
        assert (ridden.pushed_m == 0.0) == (float(ridden.speed_m_s[0]) >= LOWEST_RIDING_M_S)


@every_class
def test_descents_are_capped_by_rider_and_by_surface(rider_class: RiderClass) -> None:
    rider = Rider(rider_class=rider_class)
    for surface in Surface:
        speed = float(ride(*even_slope(-0.12), rider, BIKE, surface).speed_m_s[0])
        assert speed == min(RIDERS[rider_class].downhill_cap_m_s, SURFACES[surface].cap_m_s)


def test_nothing_is_pedalled_down_a_steep_hill() -> None:
    ridden = ride(*even_slope(-0.12), Rider(), E_BIKE, assist=HIGHEST_ASSIST)
    assert ridden.rider_energy_j == 0.0
    assert ridden.battery_wh_used is not None
    # the display alone
    assert ridden.battery_wh_used[-1] == pytest.approx(5.0 * ridden.moving_s / 3600.0)


def test_the_work_of_a_climb_is_at_least_the_height_won() -> None:
    ridden = ride(*even_slope(0.04), Rider(mass_kg=75.0, luggage_kg=8.0), BIKE)
    assert ridden.rider_energy_j > 98.0 * 9.81 * 40.0
    assert ridden.rider_energy_j < 1.5 * 98.0 * 9.81 * 40.0


def test_the_motor_stops_at_the_cut_off_of_the_law() -> None:
    # EN 15194: 25 km/h. The strongest rider passes it alone and then the motor gives nothing
    strong = Rider(rider_class=RiderClass.TRAINED)
    helped = ride(*even_slope(0.0), strong, E_BIKE, assist=HIGHEST_ASSIST)
    alone = ride(*even_slope(0.0), strong, E_BIKE)
    assert helped.moving_s == alone.moving_s
    assert helped.battery_wh_used is not None
    assert helped.battery_wh_used[-1] == pytest.approx(5.0 * helped.moving_s / 3600.0)
    weak = ride(*even_slope(0.0), Rider(), E_BIKE, assist=HIGHEST_ASSIST)
    assert weak.speed_m_s == pytest.approx(25.0 / KMH_PER_M_S)


def test_the_motor_never_gives_more_than_its_rated_power() -> None:
    # EN 15194: 250 W
    steep = ride(*even_slope(0.12), Rider(rider_class=RiderClass.TRAINED), E_BIKE, assist=HIGHEST_ASSIST)
    resistance = resistance_of(Rider(), E_BIKE, Surface.ASPHALT)
    whole_w = float(martin_power_w(resistance, steep.speed_m_s[0], 0.12))
    rider_w = steep.rider_energy_j / steep.moving_s
    assert rider_w == pytest.approx(RIDERS[RiderClass.TRAINED].climbing_power_w)
    assert whole_w - rider_w == pytest.approx(epac.EUROPE.motor_power_w)


def test_below_its_power_the_motor_gives_its_share_of_the_riders() -> None:
    ridden = ride(*even_slope(0.03), Rider(), E_BIKE, assist=LOWEST_ASSIST)
    resistance = resistance_of(Rider(), E_BIKE, Surface.ASPHALT)
    whole_w = float(martin_power_w(resistance, ridden.speed_m_s[0], 0.03))
    rider_w = ridden.rider_energy_j / ridden.moving_s
    assert whole_w / rider_w == pytest.approx(1.0 + LOWEST_ASSIST.share)


def test_an_empty_battery_leaves_the_rider_alone() -> None:
    climb = even_slope(0.05, 10_000.0, 1001)
    full = ride(*climb, Rider(), E_BIKE, assist=LOWEST_ASSIST)
    battery = Battery(50.0)
    ridden = ride(*climb, Rider(), E_BIKE, assist=LOWEST_ASSIST, battery=battery)
    alone = ride(*climb, Rider(), E_BIKE)
    assert full.battery_wh_used is not None
    assert ridden.battery_wh_used is not None
    assert ridden.empty_at_m == pytest.approx(10_000.0 * available_wh(battery) / full.battery_wh_used[-1])
    assert ridden.battery_wh_used[-1] == pytest.approx(available_wh(battery))
    assert full.moving_s < ridden.moving_s < alone.moving_s
    assert ridden.speed_m_s[0] == full.speed_m_s[0]
    assert ridden.speed_m_s[-1] == alone.speed_m_s[-1]


def test_a_battery_that_lasts_changes_nothing() -> None:
    with_battery = ride(*up_and_down(), Rider(), E_BIKE, assist=LOWEST_ASSIST, battery=Battery(500.0))
    without = ride(*up_and_down(), Rider(), E_BIKE, assist=LOWEST_ASSIST)
    assert with_battery.empty_at_m is None
    assert with_battery.time_s.tolist() == without.time_s.tolist()


def test_surfaces_by_stretch_are_the_sum_of_their_parts() -> None:
    rough = (SurfaceStretch(300.0, 700.0, Surface.LOOSE_GRAVEL),)
    mixed = ride(*even_slope(0.01), Rider(), BIKE, stretches=rough).moving_s
    asphalt = ride(*even_slope(0.01), Rider(), BIKE).moving_s
    gravel = ride(*even_slope(0.01), Rider(), BIKE, Surface.LOOSE_GRAVEL).moving_s
    assert mixed == pytest.approx(0.6 * asphalt + 0.4 * gravel)


def test_without_heights_the_ride_is_level_and_told() -> None:
    distance_m, _ = even_slope(0.0)
    ridden = ride(distance_m, np.full_like(distance_m, np.nan), Rider(), BIKE)
    assert ridden.assumed_flat
    assert ridden.moving_s == pytest.approx(ride(*even_slope(0.0), Rider(), BIKE).moving_s)


def test_slopes_beyond_the_table_are_held_and_never_break_a_ride() -> None:
    for slope in (-5.0, 5.0):
        assert np.isfinite(ride(*even_slope(slope), Rider(), BIKE).moving_s)


def test_a_table_is_kept_for_the_next_leg() -> None:
    ride(*even_slope(0.0), Rider(mass_kg=81.25), BIKE)
    before = cycling._table.cache_info()
    ride(*even_slope(0.02), Rider(mass_kg=81.25), BIKE)
    after = cycling._table.cache_info()
    assert (after.hits, after.misses) == (before.hits + 1, before.misses)


def test_figures_that_cannot_be_are_refused() -> None:
    with pytest.raises(EffortError, match="mass"):
        Rider(mass_kg=0.0)
    with pytest.raises(EffortError, match="pace"):
        Rider(pace=float("nan"))
    with pytest.raises(EffortError, match="motor"):
        BikeFigures(motor_power_w=0.0)
    with pytest.raises(EffortError, match="efficiency"):
        BikeFigures(motor_efficiency_share=1.5)
    with pytest.raises(EffortError, match="share"):
        ride(*even_slope(0.0), Rider(), E_BIKE, assist=AssistLevel("backwards", -0.5))
    with pytest.raises(EffortError, match="air density"):
        Resistance(90.0, 0.5, 0.005, 0.0)
    with pytest.raises(EffortError, match="chain"):
        Resistance(90.0, 0.5, 0.005, 1.2, 1.5)
