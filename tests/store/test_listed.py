"""Long tables: parts of the kept value come as columns; words, positions and retired things as elsewhere."""

from dataclasses import replace

import orjson

from lacet.store import Project, box_around
from lacet.trip.library import Lodging, Place
from tests.store.things import house


def test_parts_of_the_value_come_with_the_row_and_a_default_is_none(project: Project) -> None:
    with project.reading() as unit:
        (row,) = unit.library.listed(Lodging, ("rooms", "breakfast"))
        item = unit.library.latest(Lodging, row.id)
    assert item is not None
    assert (row.name, row.version, row.place) == (item.name, item.version, item.place)
    assert [room["count"] for room in orjson.loads(row.parts[0])] == [room.count for room in item.rooms]
    assert row.parts[1] == (item.breakfast or None)


def test_words_a_box_and_retired_things_are_heeded(project: Project) -> None:
    with project.unit_of_work() as unit:
        unit.library.add_version(
            replace(house("far", name="Far House"), latitude_deg=10.0, longitude_deg=10.0)
        )
        unit.library.add_version(house("gone", name="Gone House", retired=True))
        assert [row.id for row in unit.library.listed(Lodging, words="far")] == ["far"]
        assert [row.id for row in unit.library.listed(Lodging, box=box_around(10.0, 10.0, 500.0))] == ["far"]
        assert "gone" not in {row.id for row in unit.library.listed(Lodging)}
        assert "gone" in {row.id for row in unit.library.listed(Lodging, retired=True)}
        names = [row.name for row in unit.library.listed(Place)]
    assert names == sorted(names, key=str.casefold)
