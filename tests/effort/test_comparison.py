"""All rules beside each other for one stage."""

import numpy as np
import pytest

from lacet.effort.bikes import BikeFigures
from lacet.effort.comparison import HEIGHTS_MISSING, energies_beside, rules_beside
from lacet.effort.ebike import LOWEST_ASSIST
from lacet.effort.leg import Walker, walk_leg
from lacet.effort.riders import RiderClass
from lacet.effort.walking import RULES
from tests.effort.profiles import even_slope, up_and_down


def test_every_rule_and_every_rider_has_a_row_with_a_source() -> None:
    rows = rules_beside(*up_and_down())
    assert len(rows) == len(RULES) + len(RiderClass)
    assert len({row.name for row in rows}) == len(rows)
    for row in rows:
        assert row.seconds > 0.0
        assert row.source
        assert row.note


def test_the_rows_are_what_the_rules_say() -> None:
    rows = {row.name: row for row in rules_beside(*up_and_down())}
    # 10 km with 500 m up and down, from the published formulas
    assert rows["DIN 33466"].seconds / 3600.0 == pytest.approx(2.6667 + 2.5 / 2.0, abs=0.001)
    assert rows["Naismith"].seconds / 3600.0 == pytest.approx(2.8333, abs=0.001)
    assert rows["Scarf"].seconds / 3600.0 == pytest.approx((10.0 + 8.0 * 0.5) / 5.0)
    assert rows["trained rider"].seconds < rows["leisure rider"].seconds


def test_the_stage_totals_replace_the_profiles_own() -> None:
    rows = {row.name: row.seconds for row in rules_beside(*up_and_down(), ascent_m=600.0, descent_m=600.0)}
    assert rows["Naismith"] / 3600.0 == pytest.approx(3.0)
    assert rows["Scarf"] / 3600.0 == pytest.approx((10.0 + 8.0 * 0.6) / 5.0)


def test_pace_multiplies_every_row() -> None:
    plain, slow = rules_beside(*up_and_down()), rules_beside(*up_and_down(), pace=1.3)
    assert [row.seconds for row in slow] == pytest.approx([1.3 * row.seconds for row in plain])


def test_assist_is_told_and_quickens_the_riders() -> None:
    bike = BikeFigures(mass_kg=25.0, capacity_wh=500.0)
    alone = rules_beside(*up_and_down(), bike=bike)[-1]
    helped = rules_beside(*up_and_down(), bike=bike, assist=LOWEST_ASSIST)[-1]
    assert helped.seconds < alone.seconds
    assert "assist lowest" in helped.note
    assert "without a motor" in alone.note


def test_pushing_is_told() -> None:
    leisure = next(row for row in rules_beside(*up_and_down(2000.0)) if row.name == "leisure rider")
    assert "pushes 2.0 km" in leisure.note


def test_missing_heights_are_told_on_every_row() -> None:
    distance_m, height_m = up_and_down()
    height_m[3] = np.nan
    notes = [row.note for row in rules_beside(distance_m, height_m)]
    notes += [row.note for row in energies_beside(distance_m, height_m, Walker())]
    assert all(HEIGHTS_MISSING in note for note in notes)


def test_energies_of_a_level_hour_are_those_of_the_published_costs() -> None:
    # 4 km on the level in an hour (DIN 33466) with 80 kg
    rows = {row.name: row.energy_kj for row in energies_beside(*even_slope(0.0, 4000.0), Walker())}
    assert rows["Minetti"] == pytest.approx(800.0)
    assert rows["Herzog"] == pytest.approx(524.8)
    assert rows["ACSM"] == pytest.approx((0.1 * 4000.0 / 60.0 + 3.5) * 80.0 / 1000.0 * 60.0 * 5.0 * 4.184)
    assert rows["Compendium, hiking"] == pytest.approx(6.0 * 80.0 * 4.184)
    assert rows["Pandolf"] == pytest.approx((1.5 * 80.0 + 80.0 * 1.5 * (4.0 / 3.6) ** 2) * 3.6)


def test_the_energy_row_is_the_legs_own() -> None:
    minetti = next(row for row in energies_beside(*up_and_down(), Walker()) if row.name == "Minetti")
    assert minetti.energy_kj == pytest.approx(walk_leg(*up_and_down(), Walker()).energy_kj)
