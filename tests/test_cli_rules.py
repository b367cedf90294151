"""`lacet rules`: times, energies, grade and range of one stage; one rule object is enough everywhere."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from lacet.assess import assess
from lacet.cli import main
from lacet.effort import walking
from lacet.effort.rule import Needs, WalkingRule
from lacet.inputs import Inputs
from lacet.trip.house_rules import HouseRules
from tests.small_library import day, small_catalogue, small_trip, walk, write_small_project

STROLL = WalkingRule(
    id="stroll",
    name="A stroll",
    source="this test",
    note="a metre a second, whatever the ground",
    needs=frozenset({Needs.FALL}),
    step_s=lambda ground: ground.steps.run_m,
)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    return path


def told(project: Path, capfd: pytest.CaptureFixture[str]) -> dict[str, list[dict[str, object]]]:
    assert main(["rules", str(project), "climb", "--json"]) == 0
    found: dict[str, list[dict[str, object]]] = json.loads(capfd.readouterr().out)
    return found


def test_times_energies_grades_and_ranges_stand_in_the_answer(
    project: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    found = told(project, capfd)
    times = {row["name"]: row for row in found["rules"]}
    # 9 km with 300 m up: DIN 33466 2.25 h + 1 h / 2, Naismith 1.8 h + 0.5 h
    assert times["DIN 33466"]["moving_s"] == pytest.approx(2.75 * 3600, rel=2e-3)
    assert times["DIN 33466"]["needs"] == ["climb", "fall"]
    assert times["Naismith"]["moving_s"] == pytest.approx(2.3 * 3600, rel=2e-3)
    assert {row["name"] for row in found["energies"]} >= {"Minetti", "Pandolf", "ACSM"}
    on_foot, by_bike = found["grades"]
    assert (on_foot["way"], on_foot["grade"]) == ("walking", "easy")
    assert on_foot["says"] == "An easy day on even ground; no steep drops."
    assert by_bike["way"] == "cycling"
    low, high = found["battery_ranges"]
    assert (low["bike"], low["assist"], high["assist"]) == ("E-bike, medium", "low", "high")
    assert isinstance(low["range_m"], float)
    assert isinstance(high["range_m"], float)
    assert low["range_m"] > high["range_m"] > 10_000.0


def test_people_read_the_same_with_its_caution(project: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", str(project), "Over the hill"]) == 0
    text = capfd.readouterr().out
    assert "As a day on foot: easy, by its time and distance and climb and ground and exposure." in text
    assert "Energy on foot with 80 kg" in text
    assert "E-bike, medium" in text
    assert "Estimates for planning" in text


def test_one_rule_object_is_enough_for_times_tables_and_house_rules(
    project: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(walking, "RULES", (*walking.RULES, STROLL))
    (row,) = [row for row in told(project, capfd)["rules"] if row["name"] == "A stroll"]
    assert row["moving_s"] == pytest.approx(9_000, rel=2e-3)
    assert (row["source"], row["needs"]) == ("this test", ["fall"])
    rules = replace(HouseRules(), walking_rule="stroll")
    trip = small_trip(day("d1", walk("i1")))
    found = assess(Inputs(trip, "v1", small_catalogue(), rules, as_of=date(2026, 11, 25)))
    assert found.figures.totals.moving_s == pytest.approx(9_000, rel=2e-3)
