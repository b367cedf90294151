"""The shelf's order: asked for piece by piece it is that of the whole library, sorted."""

from pathlib import Path
from random import Random

import pytest

from lacet.service.ranking import continuing, ranked, with_transfer
from lacet.store import Project, StageFilter, open_project
from lacet.trip.words import Way
from tests.store.things import place, stage

MOST = 12
FILTERS = (
    StageFilter(),
    StageFilter(words="moor"),
    StageFilter(words="nothing"),
    StageFilter(way=Way.CYCLING),
)


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """Sixty places strewn over an ocean, denser here than there, and stages between any two."""
    chance = Random(5)
    path: Path = tmp_path_factory.mktemp("ranking") / "strewn.lacet"
    with open_project(path, create=True) as project:
        with project.unit_of_work() as unit:
            for n in range(60):
                spread = chance.choice((0.05, 0.5, 10.0))
                at = {
                    "latitude_deg": chance.uniform(-spread, spread),
                    "longitude_deg": chance.uniform(179, 181),
                }
                at["longitude_deg"] = (at["longitude_deg"] + 180.0) % 360.0 - 180.0
                unit.library.add_version(place(f"p{n}", **at))
            for n in range(150):
                ends = {"from_place": f"p{chance.randrange(61)}", "to_place": f"p{chance.randrange(60)}"}
                unit.library.add_version(
                    stage(f"s{n:03}", name=f"{chance.choice(('Moor', 'Lane'))} {n}", **ends)
                )
            unit.library.retire(type(stage("s000")), "s000")
            unit.commit()
        return project


@pytest.mark.parametrize("chosen", FILTERS)
def test_what_is_asked_for_by_place_is_what_sorting_the_whole_library_gives(
    project: Project, chosen: StageFilter
) -> None:
    catalogue = project.catalogue()
    with project.reading() as unit:
        ask = unit.library.stage_rows
        for n in range(60):
            near, far = ranked(ask(chosen), f"p{n}", catalogue)
            assert continuing(ask, chosen, f"p{n}", catalogue) == near
            assert with_transfer(ask, chosen, f"p{n}", catalogue, most=MOST) == far[:MOST]


def test_without_a_place_the_first_by_name_are_offered_and_nothing_needs_a_transfer(project: Project) -> None:
    catalogue = project.catalogue()
    with project.reading() as unit:
        ask = unit.library.stage_rows
        for nowhere in (None, "unheard-of"):
            offered = continuing(ask, StageFilter(), nowhere, catalogue)
            assert [each.row for each in offered] == ask(StageFilter())
            assert with_transfer(ask, StageFilter(), nowhere, catalogue, most=MOST) == []
        assert len(ask(StageFilter(most=7))) == 7
