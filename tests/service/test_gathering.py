"""What an assessment rests on is gathered whole, from one moment, by the names people use."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from lacet.assess import assess
from lacet.service.gathering import assessed, every_trip, gather, standard_of
from lacet.service.opening import NotFound, project_at
from lacet.service.session import Session
from lacet.store import Project
from lacet.trip import edits
from lacet.trip.house_rules import HouseRules
from tests.small_library import small_trip, write_small_project

TODAY = date(2026, 11, 25)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[Project]:
    write_small_project(tmp_path / "small.lacet")
    with project_at(tmp_path / "small.lacet") as opened:
        yield opened


def test_a_variant_is_gathered_as_the_session_has_it_open(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.settings.save(HouseRules(sunset_warn_s=9_000.0))
        unit.commit()
    session = Session(project, today=lambda: TODAY)
    session.open_trip("trip")
    assert session.opened is not None
    inputs, revision = gather(project, "trip", "A", TODAY)
    assert inputs == session.inputs(session.opened.trip, session.opened.variant_id)
    assert revision == session.opened.revision
    assert assessed(project, "1", "1", TODAY).found == session.opened.assessment


def test_whoever_asks_again_sees_what_others_changed(project: Project) -> None:
    _, before = gather(project, "trip", "A", TODAY)
    with project.unit_of_work() as unit:
        trip, revision = unit.trips.load("trip")
        unit.trips.save(edits.rename_variant(trip, "v1", "Slower"), revision, "slower")
        unit.commit()
    inputs, revision = gather(project, "trip", "Slower", TODAY)
    assert (inputs.variant.name, revision) == ("Slower", before + 1)


def test_every_variant_of_every_trip_is_gathered_with_what_the_others_hold(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(replace(edits.copy_variant(small_trip(), "v1", "B"), id="second"), 0, "second")
        unit.commit()
    found = every_trip(project, TODAY)
    assert {trip.id: len(each) for trip, each in found} == {"trip": 1, "second": 2}
    for trip, each in found:
        for inputs in each:
            alone, _ = gather(project, trip.id, inputs.variant_id, TODAY)
            assert assess(inputs) == assess(alone)


def test_a_trip_begun_from_nothing_has_no_standard_to_stand_beside(project: Project) -> None:
    inputs, _ = gather(project, "trip", "A", TODAY)
    with pytest.raises(NotFound, match="not begun from a standard trip"):
        standard_of(project, inputs)


def test_a_name_that_is_missing_is_told_with_those_there_are(project: Project) -> None:
    with pytest.raises(NotFound, match="no trip called 'nowhere'"):
        gather(project, "nowhere", "A", TODAY)
    with pytest.raises(NotFound, match="no variant of"):
        gather(project, "trip", "Q", TODAY)
