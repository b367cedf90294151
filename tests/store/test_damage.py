"""A damaged project answers every read with one sentence; no error of a library gets through."""

import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from random import Random

import pytest

from lacet.cli import main
from lacet.store import Project, open_project
from lacet.store.errors import DamagedFile
from lacet.trip.errors import LacetError
from lacet.trip.library import Place, Stage


def _spoil(path: Path, sql: str) -> None:
    """What no program of ours lets happen: triggers and references look away."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'trigger'").fetchall():
            connection.execute(f'DROP TRIGGER "{name}"')
        connection.execute(sql)


def _read_all(project: Project) -> None:
    catalogue = project.catalogue()
    for kind in catalogue.items:
        catalogue.current(kind)
    for stage in catalogue.current(Stage):
        catalogue.tracks[stage.track_id]
    with project.reading() as unit:
        unit.library.stage_rows()
        for row in unit.trips.rows():
            unit.trips.load(row.id)
            unit.trips.history(row.id)
            unit.bookings.of(row.id)
            unit.bookings.history(row.id)
        unit.commitments("")
        unit.documents.rows()
        unit.settings.house_rules()


DAMAGED = r"'mine\.lacet' is damaged|Revision 1 of this trip is damaged"
DAMAGE = {
    "an item that is no JSON": "UPDATE items SET body = 'x'",
    "an item whose text isn't UTF-8": "UPDATE items SET body = CAST(x'7B22C3FF' AS TEXT)",
    "an item of a kind nobody knows": "UPDATE items SET kind = 'villa' WHERE kind = 'lodging'",
    "an id that isn't UTF-8": "UPDATE items SET id = id || CAST(x'C3FE' AS TEXT)",
    "a track that is cut short": "UPDATE tracks SET packed = x'00'",
    "a party that is no JSON": "UPDATE parties SET rest = '['",
    "a traveller whose needs aren't UTF-8": "UPDATE travellers SET needs = CAST(x'5BFF' AS TEXT)",
    "a list of variants that is none": "UPDATE trips SET variants = '[1]'",
    "a start that is no date": "UPDATE trips SET start = 'May'",
    "an instant that is none": "UPDATE revisions SET saved_at = 'now'",
    "a body that is nothing": "UPDATE revisions SET body = x''",
    "settings that are a list": "INSERT INTO settings VALUES ('HouseRules', 99, '', '[]')",
    "a booking that is no JSON": "UPDATE bookings SET body = '{'",
    "an act that is no JSON": "UPDATE booking_steps SET body = '['",
    "no table of bookings": "DROP TABLE bookings",
    "no table of items": "DROP TABLE items",
    "no counters": "DROP TABLE counters",
    "no settings": "DROP TABLE settings",
}  # fmt: skip


@pytest.mark.parametrize("sql", DAMAGE.values(), ids=DAMAGE)
def test_damaged_contents_are_told_with_the_name_of_the_file(path: Path, sql: str) -> None:
    _spoil(path, sql)
    with (
        pytest.raises(DamagedFile, match=r"'mine\.lacet' is damaged|Revision 1 of this trip is damaged"),
        open_project(path) as project,
    ):
        _read_all(project)


def test_a_missing_item_is_damage_and_not_a_bug(project: Project, path: Path) -> None:
    items = project.catalogue().items[Place]
    _spoil(path, "DELETE FROM items WHERE kind = 'place'")
    with pytest.raises(DamagedFile, match=r"'mine\.lacet' is damaged"):
        [dict(versions) for versions in items.values()]


@pytest.mark.parametrize("fill", [lambda size: bytes(size), Random(7).randbytes], ids=["zeroed", "random"])
def test_a_page_that_is_lost_is_told_whichever_it_is(
    path: Path, tmp_path: Path, fill: Callable[[int], bytes], capsys: pytest.CaptureFixture[str]
) -> None:
    """Every fourth page of the file in turn: each command answers or refuses in a line."""
    whole = path.read_bytes()
    for page in range(1, len(whole) // 4096, 4):
        torn = tmp_path / "torn.lacet"
        torn.write_bytes(whole[: page * 4096] + fill(4096) + whole[(page + 1) * 4096 :])
        with suppress(LacetError), open_project(torn) as project:
            _read_all(project)
    assert main(["trips", str(tmp_path / "torn.lacet")]) in (0, 1)
    assert "Traceback" not in capsys.readouterr().err
