"""The demo: built from its sources, whole, and worth looking at."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from lacet.assess import assess
from lacet.demo import demo_items, demo_tracks, demo_trips, write_demo
from lacet.demo.building import demo_settings
from lacet.demo.journeys import SourceRefused, read_trip
from lacet.inputs import Inputs
from lacet.store import open_project
from lacet.tracks.track import Track
from lacet.trip.catalogue import catalogue_of
from lacet.trip.edits import uses
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Lodging, Place, Restaurant, Stage, Tariff, Transfer

AS_OF = date(2026, 11, 25)


class Tracks(dict[str, Track]):
    """Tracks by id."""


def test_the_island_has_what_a_consultant_needs() -> None:
    counts = dict.fromkeys((Place, Stage, Lodging, Restaurant, Transfer, Bike, Tariff), 0)
    for item in demo_items():
        counts[type(item)] += 1
    assert counts[Place] >= 25
    assert counts[Stage] >= 60
    assert counts[Lodging] >= 20
    assert counts[Restaurant] >= 15
    assert counts[Transfer] >= 3
    assert counts[Bike] >= 6
    assert counts[Tariff] >= counts[Lodging]


def test_every_trip_uses_only_what_the_library_holds_and_is_priced() -> None:
    region, office = demo_settings()
    catalogue = catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)
    for trip in demo_trips():
        for variant in trip.variants:
            kinds: list[Any] = [Stage, Lodging, Restaurant, Transfer, Bike]
            used = [(kind, ref) for kind in kinds for ref in uses(trip, variant.id, kind)]
            assert [ref for kind, ref in used if catalogue.get(kind, ref) is None] == []
            found = assess(Inputs(trip, variant.id, catalogue, HouseRules(), as_of=AS_OF))
            assert found.figures.totals.unknown_days == 0
            assert found.quote.total.amount > 0


def test_the_trips_are_those_of_the_scenario() -> None:
    trips = {trip.id: trip for trip in demo_trips()}
    assert len(trips["coast-to-crater"].variants[0].days) == 9
    assert any(day.parted for day in trips["ridge-and-lane"].variants[0].days)
    assert sum((guest.age or 40) < 18 for guest in trips["salt-and-apples"].party.travellers) == 2
    assert trips["round-verrin"].start is None
    assert all(2 <= len(trip.variants) <= 3 for trip in trips.values())


def test_the_project_is_written_once_and_then_left_alone(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    path = write_demo(tmp_path, lambda done, of: told.append((done, of)))
    assert told[-1][0] == told[-1][1]
    stamp = path.stat().st_mtime_ns
    assert write_demo(tmp_path) == path
    assert path.stat().st_mtime_ns == stamp
    with open_project(path) as project, project.reading() as unit:
        assert len(unit.trips.rows()) == len(demo_trips())
        assert len(unit.library.stage_rows()) >= 60


def test_a_slip_in_a_source_names_file_and_row(tmp_path: Path) -> None:
    (tmp_path / "places.csv").write_text("id,name,kind,latitude,longitude,height_m\nx,X,castle,1,2,3\n")
    with pytest.raises(SourceRefused, match=r"places\.csv, row 2"):
        demo_items(tmp_path)
    (tmp_path / "trip.toml").write_text(
        'id = "x"\nname = "X"\n[[variants]]\nname = "A"\n[[variants.days]]\ndo = ["fly x"]\n'
    )
    with pytest.raises(SourceRefused, match=r"trip\.toml: 'fly x' begins with no known word"):
        read_trip(tmp_path / "trip.toml")
