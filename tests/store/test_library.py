"""The library: versions are added and never change; lists, words and positions find the newest ones."""

import sqlite3
from dataclasses import replace
from pathlib import Path

import numpy as np
import orjson
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.store import Box, Project, StageFilter, as_kept, box_around
from lacet.store.errors import UnknownItemVersion, VersionExists
from lacet.store.kinds import KINDS
from lacet.tracks.packing import sparkline_heights_m, unpack
from lacet.tracks.profile import profile
from lacet.trip.library import LibraryItem, Lodging, Place, Ref, Stage, StageWay
from lacet.trip.words import Footing, Way
from tests.store.things import guests_trip, house, line, place, raw, stage
from tests.trip.strategies import of_type

SHARED_FILE = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


def names(project: Project, **chosen: object) -> list[str]:
    with project.reading() as unit:
        return [row.id for row in unit.library.stage_rows(StageFilter(**chosen))]  # type: ignore[arg-type]  # given by name


@SHARED_FILE
@given(st.one_of([of_type(kind) for kind in KINDS.values()]))
def test_any_item_comes_back_equal(project: Project, item: LibraryItem) -> None:
    item = as_kept(replace(item, id="new", version=1))
    with project.unit_of_work() as unit:
        assert unit.library.add_version(item) == item
        assert unit.library.latest(type(item), "new") == item


def test_what_is_kept_is_what_sql_reads(project: Project, path: Path) -> None:
    ((name, where, body),) = raw(path, "SELECT name, place, body FROM items WHERE id = 'weir'")
    assert (name, where) == ("Weir", "birch")
    assert orjson.loads(body)["rooms"] == [{"kind": "double", "sleeps": 2, "count": 3}]


def test_an_edit_adds_a_version_and_the_old_one_stays(project: Project) -> None:
    with project.unit_of_work() as unit:
        kept = unit.library.add_version(house("weir", name="Weir Farm", version=77))
        assert (kept.version, kept.name) == (2, "Weir Farm")
        assert [item.name for item in unit.library.versions(Lodging, "weir")] == ["Weir", "Weir Farm"]
        assert unit.library.get(Lodging, Ref("weir", 1)) == house("weir")


def test_an_edit_that_changes_nothing_adds_no_version(project: Project) -> None:
    with project.unit_of_work() as unit:
        before = unit.library.revision()
        assert unit.library.add_version(house("weir")).version == 1
        assert unit.library.revision() == before


def test_a_version_that_is_there_is_not_overwritten(project: Project) -> None:
    with project.unit_of_work() as unit:
        assert unit.library.keep(house("weir")) == house("weir")
        with pytest.raises(VersionExists, match="lodging 'weir'"):
            unit.library.keep(house("weir", name="Other"))


def test_the_file_itself_refuses_to_change_or_lose_a_version_in_use(project: Project, path: Path) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        raw(path, "UPDATE items SET body = '{}' WHERE id = 'moor'")
    with pytest.raises(sqlite3.IntegrityError, match="a trip uses"):
        raw(path, "DELETE FROM items WHERE id = 'weir'")


def test_a_version_only_history_uses_is_kept_too(project: Project, path: Path) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(variants=()), 1, "start again")
        unit.commit()
    assert raw(path, "SELECT current FROM uses WHERE id = 'weir'") == [(0,)]
    with pytest.raises(sqlite3.IntegrityError, match="a trip uses"):
        raw(path, "DELETE FROM items WHERE id = 'weir'")


def test_who_uses_an_item_is_known(project: Project) -> None:
    with project.reading() as unit:
        assert unit.library.used_by(Lodging, "weir") == [("may", guests_trip().name, 1)]
        assert unit.library.used_by(Stage, "lane") == []


def test_a_retired_item_leaves_the_list_and_stays_readable(project: Project) -> None:
    with project.unit_of_work() as unit:
        assert unit.library.retire(Stage, "moor").version == 2
        unit.commit()
    assert names(project) == ["lane"]
    assert names(project, retired=True) == ["lane", "moor"]
    with project.unit_of_work() as unit:
        assert unit.library.get(Stage, Ref("moor", 1)) is not None
        with pytest.raises(UnknownItemVersion, match="no stage 'nowhere'"):
            unit.library.retire(Stage, "nowhere")


def test_an_older_version_taken_in_late_does_not_become_the_newest(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.keep(place("cedar", version=3, name="Third"))
        unit.library.keep(place("cedar", version=2, name="Second"))
        newest = unit.library.latest(Place, "cedar")
        assert newest is not None
        assert newest.version == 3
        assert [row.name for row in unit.library.item_rows(Place, "second")] == []


def test_a_track_is_kept_once_with_the_figures_reckoned_from_it(project: Project, path: Path) -> None:
    with project.unit_of_work() as unit:
        again = unit.library.add_stage(stage("again"), line())
        kept = unit.library.track(again.track_id)
        (row,) = [row for row in unit.library.stage_rows() if row.id == "again"]
        small = unit.library.outline(again.track_id)
        unit.commit()
    assert raw(path, "SELECT count(*) FROM tracks") == [(2,)]
    assert kept is not None
    assert small is not None
    course = profile(kept)
    assert (row.distance_m, row.ascent_m, row.descent_m) == (
        course.length_m,
        course.ascent_m,
        course.descent_m,
    )
    assert np.allclose(kept.latitude_deg, line().latitude_deg, atol=1e-7)
    assert row.sparkline is not None
    assert len(unpack(small)) < len(kept)
    assert np.nanmax(sparkline_heights_m(row.sparkline)) == pytest.approx(180, abs=1)


def test_a_stage_without_a_track_has_unknown_figures(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_version(stage("vague"))
        (row,) = [row for row in unit.library.stage_rows() if row.id == "vague"]
    assert (row.distance_m, row.ascent_m, row.sparkline) == (None, None, None)


def test_rows_tell_names_and_ways(project: Project) -> None:
    with project.reading() as unit:
        lane, moor = unit.library.stage_rows()
    assert (lane.name, lane.from_name, lane.to_name, lane.ways) == ("Lane", "Birch", "Alder", (Way.CYCLING,))
    assert moor.ways == (Way.WALKING,)


@pytest.mark.parametrize(
    ("chosen", "found"),
    [
        ({}, ["lane", "moor"]),
        ({"way": Way.WALKING}, ["moor"]),
        ({"distance_to_m": 15_000}, ["moor"]),
        ({"distance_from_m": 15_000}, ["lane"]),
        ({"ascent_from_m": 500}, []),
        ({"footing": Footing.EVEN}, ["lane"]),
        ({"footing": Footing.UNEVEN}, ["lane", "moor"]),
        ({"footing": Footing.EVEN, "way": Way.WALKING}, []),
        ({"from_place": "alder"}, ["moor"]),
        ({"to_place": "alder"}, ["lane"]),
        ({"words": "PEAT ha"}, ["moor"]),
        ({"words": "birch lan"}, ["lane"]),
        ({"words": "peat lane"}, []),
        ({"words": '"-* OR ('}, []),
        ({"words": " - "}, ["lane", "moor"]),
        ({"box": Box(43.9, -24.7, 44.05, -24.5)}, ["moor"]),
        ({"box": Box(44.3, 170.0, 44.4, -20.0)}, ["lane"]),
        ({"box": Box(44.3, -24.59, 44.4, 170.0)}, []),
        ({"box": box_around(44.5, -24.6, 200.0), "words": "lane"}, ["lane"]),
    ],
)
def test_stages_are_found_by(project: Project, chosen: dict[str, object], found: list[str]) -> None:
    assert names(project, **chosen) == found


def test_unknown_footing_passes_only_where_asked_for(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_stage(stage("vague", ways=(StageWay(way=Way.WALKING),)), line(45.0))
        unit.commit()
    assert names(project, footing=Footing.ROCKY) == ["lane", "moor"]
    assert names(project, footing=Footing.ROCKY, with_unknown=True) == ["lane", "moor", "vague"]


def test_accents_and_case_do_not_matter(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_version(place("cafe", name="Café Étoile"))
        assert [row.id for row in unit.library.item_rows(Place, "cafe etoi")] == ["cafe"]


def test_a_place_with_a_new_name_is_told_to_what_lies_at_it(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_version(place("birch", name="Silverton"))
        assert {row.to_name for row in unit.library.stage_rows() if row.to_place == "birch"} == {"Silverton"}
        assert [row.id for row in unit.library.stage_rows(StageFilter(words="silverton"))] == ["lane", "moor"]
        assert [row.id for row in unit.library.item_rows(Lodging, "silverton")] == ["weir"]
        assert unit.library.item_rows(Lodging, "birch") == []
        assert unit.library.item_rows(Lodging)[0].place_name == "Silverton"


@given(
    st.floats(-89, 89), st.floats(-180, 180), st.floats(1, 500_000), st.floats(0, 6.28), st.floats(0, 0.99)
)
def test_a_box_around_holds_whatever_is_within(
    latitude: float, longitude: float, radius_m: float, bearing: float, share: float
) -> None:
    angle = share * radius_m / 6_371_000
    lat, lon = np.radians(latitude), np.radians(longitude)
    # Direct problem on the sphere (a textbook formula, e.g. Snyder 1987, equations 5-5 and 5-6).
    there = np.arcsin(np.sin(lat) * np.cos(angle) + np.cos(lat) * np.sin(angle) * np.cos(bearing))
    turned = lon + np.arctan2(
        np.sin(bearing) * np.sin(angle) * np.cos(lat), np.cos(angle) - np.sin(lat) * np.sin(there)
    )
    box = box_around(latitude, longitude, radius_m)
    east = (np.degrees(turned) + 180) % 360 - 180
    assert box.south_deg - 1e-9 <= np.degrees(there) <= box.north_deg + 1e-9
    if box.west_deg <= box.east_deg:
        assert box.west_deg - 1e-9 <= east <= box.east_deg + 1e-9
    else:
        assert east >= box.west_deg - 1e-9 or east <= box.east_deg + 1e-9


def test_settings_are_kept_by_version_and_only_when_they_differ(project: Project, path: Path) -> None:
    with project.unit_of_work() as unit:
        rules = replace(unit.settings.house_rules(), walking_limit_m=17_000.0)
        assert [unit.settings.save(rules), unit.settings.save(rules)] == [1, 1]
        assert unit.settings.save(replace(rules, markup_share=0.3)) == 2
        unit.commit()
    assert project.house_rules() == replace(rules, markup_share=0.3)
    assert raw(path, "SELECT version, body FROM settings WHERE version = 1") == [
        (1, '{"walking_limit_m":17000.0}')
    ]


def test_a_box_around_is_no_wider_than_it_must_be_and_ends_at_the_pole() -> None:
    box = box_around(44.0, -24.0, 111_000)
    assert box.north_deg - 44.0 == pytest.approx(44.0 - box.south_deg)
    assert box.north_deg == pytest.approx(45.0, abs=0.01)
    assert box_around(89.5, 0.0, 111_000).north_deg == 90.0
    assert box_around(-89.5, 0.0, 111_000).south_deg == -90.0
