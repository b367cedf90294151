"""Old files are brought up to date after a copy was made; what migrations make is what the tables say."""

import json
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from lacet.store import delta, making, migrate, open_project
from lacet.store.copies import copies_folder
from lacet.store.engine import WRITES, make_engine
from lacet.store.keeping import digest_of
from lacet.store.schema import APPLICATION_ID, SCHEMA
from lacet.store.tables import METADATA
from lacet.trip.bookings import change
from lacet.trip.plain import to_plain
from lacet.trip.region import EmergencyNumber
from lacet.trip.trip import About
from lacet.trip.words import BookingState, Service
from tests.store.things import glue_subjects, guests_trip, raw

MIGRATIONS = Path(migrate.__file__).parent / "migrations"


@pytest.fixture
def first_file(filled_file: Path, tmp_path: Path) -> Path:
    """The filled project as the first Lacet would have left it: made by the first migration alone."""
    path = tmp_path / "old.lacet"
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("PRAGMA journal_mode = WAL")
    engine = make_engine(path)
    with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        migrate.upgrade(connection, "0001")
    engine.dispose()
    tables = ["tracks", "items", "stages", "trips", "revisions", "parties", "travellers", "uses"]
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("ATTACH ? AS filled", (str(filled_file),))
        for table in (*tables, "search_text"):
            plain.execute(f"INSERT INTO {table} SELECT * FROM filled.{table}")
    glue_subjects(engine)
    engine.dispose()
    return path


def test_a_file_of_the_first_lacet_opens_with_all_it_held_and_a_copy_beside(first_file: Path) -> None:
    before = first_file.read_bytes()
    with open_project(first_file) as project, project.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(), 1)
        assert len(unit.library.stage_rows()) == 2
        assert unit.documents.rows() == []
    (copy,) = copies_folder(first_file).iterdir()
    assert copy.name.endswith(f"before schema-{SCHEMA}.lacet")
    assert raw(copy, "PRAGMA user_version") == [(1,)]
    assert raw(copy, "SELECT count(*) FROM items") == raw(first_file, "SELECT count(*) FROM items")
    assert before[:16] == copy.read_bytes()[:16]


def test_an_older_library_is_filed_by_place_and_subject_like_a_new_one(
    first_file: Path, filled_file: Path
) -> None:
    open_project(first_file).close()
    filed = "SELECT under, row_id FROM filed ORDER BY under, row_id"
    assert raw(first_file, filed) == raw(filled_file, filed) != []


def test_a_file_is_brought_up_to_date_once(first_file: Path) -> None:
    for _ in range(2):
        open_project(first_file).close()
    assert len(list(copies_folder(first_file).iterdir())) == 1


def test_the_tables_are_those_that_migrations_make(path: Path) -> None:
    engine = make_engine(path)
    with engine.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"include_name": _ours, "compare_type": True, "compare_server_default": True}
        )
        assert compare_metadata(context, METADATA) == []
    engine.dispose()


def _ours(name: str | None, kind: str, _: object) -> bool:
    return kind != "table" or not str(name).startswith("search_")


def test_the_newest_migration_is_the_number_the_program_knows(path: Path) -> None:
    scripts = ScriptDirectory(str(MIGRATIONS))
    numbers = [int(step.revision) for step in scripts.walk_revisions()]
    assert numbers == list(range(SCHEMA, 0, -1))
    assert raw(path, "PRAGMA user_version") == [(SCHEMA,)]
    assert raw(path, "PRAGMA application_id") == [(APPLICATION_ID,)]


def test_a_migration_that_fails_leaves_the_file_as_it_was(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "migrations"
    shutil.copytree(MIGRATIONS, folder)
    (folder / "versions" / f"v{SCHEMA + 1:04}_broken.py").write_text(
        dedent(f"""
            from alembic import op
            revision, down_revision = "{SCHEMA + 1:04}", "{SCHEMA:04}"
            def upgrade():
                op.execute("DROP TABLE pictures")
                op.execute("SELECT * FROM nowhere")
        """)
    )
    monkeypatch.setattr(
        migrate, "upgrade", lambda connection: migrate.upgrade_with(connection, ScriptDirectory(str(folder)))
    )
    with pytest.raises(Exception, match="nowhere"):
        making.bring_up_to_date(path)
    assert raw(path, "SELECT count(*) FROM pictures") == [(0,)]
    assert raw(path, "PRAGMA user_version") == [(SCHEMA,)]


def test_importing_is_light_and_opening_leaves_the_tool_of_migrations_out(path: Path) -> None:
    code = """
        import sys
        import lacet.store
        assert "sqlalchemy" not in sys.modules
        lacet.store.open_project(sys.argv[1]).close()
        assert "alembic" not in sys.modules
        assert "sqlalchemy.orm" not in sys.modules
    """
    subprocess.run(
        [sys.executable, "-c", dedent(code), str(path)],
        check=True,
        env={"PYTHONPATH": str(MIGRATIONS.parents[2]), "SYSTEMROOT": ""},
    )


def test_what_an_older_region_only_assumed_is_unset_and_what_was_typed_stays(first_file: Path) -> None:
    bodies = {
        1: '{"name":"Verrin"}',
        2: '{"name":"Verrin","zone":"Atlantic/Azores","emergency_number":"112","default_temperature_c":14.0}',
    }
    with closing(sqlite3.connect(first_file)) as plain, plain:
        for version, body in bodies.items():
            plain.execute("INSERT INTO settings VALUES ('Region', ?, '', ?)", (version, body))
    with open_project(first_file) as project, project.reading() as unit:
        region = unit.settings.region()
    assert (region.zone, region.currency) == ("Atlantic/Azores", None)
    assert region.emergency_numbers == (EmergencyNumber("112"),)
    assert region.monthly_temperature_c == (14.0,) * 12
    with open_project(first_file) as project, project.unit_of_work() as unit:
        assert unit.settings.save(region) == 2, "the digest is that of the body"


def test_numbers_of_days_become_their_ids_in_every_revision_and_crossings_get_dates(first_file: Path) -> None:
    old = {
        "id": "old", "name": "Old", "start": "2026-05-01", "fixed_through": 2, "proposed": "v2",
        "arrivals": [{"hub": "alder", "means": "ferry", "day": 2}],
        "departures": [{"hub": "alder", "means": "ferry"}],
        "variants": [
            {"id": "v1", "name": "A", "days": [{"id": "d9"}]},
            {
                "id": "v2", "name": "B", "days": [{"id": "d3", "moves": [{"load": "bags"}, {"load": "bikes"}],
                          "nights": [{"lodging": {"id": "h"}}]}, {"id": "d1"}, {"id": "d2"}],
                "hires": [{"traveller": "t1", "from_day": 2, "to_day": 9},
                          {"traveller": "t2", "to_day": 3}, {"traveller": "t1", "from_day": 7}],
                "overrules": [{"check": "bike_fits", "subject": "hire t1 2 load", "figure": 1.0,
                               "name": "C", "reason": "r"},
                              {"check": "moves_carried", "subject": "day d3 kg 1", "figure": 1.0,
                               "name": "C", "reason": "r"}],
            },
        ],
    }  # fmt: skip
    first = json.dumps(old, separators=(",", ":")).encode()
    second = json.dumps(old | {"note": "changed"}, separators=(",", ":")).encode()
    spoilt = delta.pack(second, first)[:-3]
    bodies = [
        (1, None, first, delta.pack(first)), (2, 1, second, delta.pack(second, first)), (3, 1, second, spoilt)
    ]  # fmt: skip
    then = "2026-01-01T00:00:00+00:00"
    with closing(sqlite3.connect(first_file)) as plain, plain:
        plain.execute(
            "INSERT INTO trips VALUES ('old', 2, 'Old', '2026-05-01', NULL, 0, '', '[]', NULL, NULL, ?)",
            (then,),
        )
        for number, base, text, body in bodies:
            plain.execute(
                "INSERT INTO revisions VALUES ('old', ?, ?, ?, ?, ?, ?, NULL, NULL, '', '', ?)",
                (number, number, base, int(base is not None), digest_of(text), body, then),
            )
    with open_project(first_file) as project, project.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(), 1)
        for number, note in ((1, ""), (2, "changed")):
            trip = unit.trips.load_revision("old", number)
            b = trip.variants[1]
            assert (trip.note, trip.fixed_through, trip.fixed_days(b)) == (note, "d1", 2)
            assert trip.fixed_days(trip.variants[0]) == 0
            assert [(each.from_day, each.to_day) for each in b.hires] == [("d1", None), (None, "d2")]
            assert [each.key for each in b.overrules] == [
                ("bike_fits", "load", (About("guest", "t1"), About("from", "d1"))),
                ("moves_carried", "kg", (About("day", "d3"), About("move", "mv3.2"))),
            ]
            assert [each.id for each in b.hires] == ["h1", "h2"]
            assert [each.id for each in b.days[0].moves] == ["mv3", "mv3.2"]
            assert (b.days[0].nights[0].id, trip.arrivals[0].id, trip.departures[0].id) == ("n3", "c1", "c2")
            assert (trip.arrivals[0].on, trip.departures[0].on) == (date(2026, 5, 2), None)


def _old_trip(plain: sqlite3.Connection, revisions: list[dict[str, Any]], stored: int) -> None:
    """A trip as it was kept before bookings had rows: each revision, by its columns, held some."""
    then = "2026-01-0{}T00:00:00+00:00"
    plain.execute(
        "INSERT INTO trips VALUES ('old', ?, 'Old', NULL, NULL, 0, '', '[]', NULL, NULL, ?)", (stored, then)
    )
    for number, row in enumerate(revisions, start=1):
        body = row.get("bookings")
        text = None
        if body is not None:
            whole = {"id": "old", "name": "Old", "note": row["note"], "bookings": body}
            text = json.dumps(whole, separators=(",", ":")).encode()
        plain.execute(
            "INSERT INTO revisions VALUES ('old', ?, ?, NULL, 0, ?, ?, ?, ?, ?, ?, ?)",
            (
                number, row.get("content", number), None if text is None else digest_of(text),
                None if text is None else delta.pack(text), row.get("undo_to"), row.get("redo_to"),
                row["says"], row["says"], then.format(number),
            ),
        )  # fmt: skip


ASKED = {
    "id": "k1",
    "service": "lodging",
    "supplier": "weir",
    "from_day": "2027-05-03",
    "to_day": "2027-05-05",
}
HELD = ASKED | {"state": "option", "option_until": "2027-01-05", "price": "90.00 EUR"}
TAXI = ASKED | {"id": "k2", "service": "transfer", "supplier": "taxi"}


def test_bookings_become_rows_with_the_history_that_revisions_tell(first_file: Path) -> None:
    revisions: list[dict[str, Any]] = [
        {"note": "a", "bookings": [ASKED], "says": "new"},
        {"note": "b", "bookings": [ASKED], "says": "word", "undo_to": 1},
        {"note": "b", "bookings": [HELD, TAXI], "says": "hold", "undo_to": 2},
        {"note": "b", "bookings": [HELD], "says": "out", "undo_to": 3},
    ]
    with closing(sqlite3.connect(first_file)) as plain, plain:
        _old_trip(plain, revisions, 4)
    with open_project(first_file) as project, project.unit_of_work() as unit:
        held = unit.bookings.of("old")
        assert [to_plain(each) for each in held] == [HELD]
        steps = unit.bookings.history("old")
        assert [(each.booking_id, each.revision, each.says, each.by, each.at.day) for each in steps] == [
            ("k1", 1, "new", "", 1), ("k1", 2, "hold", "", 3),
            ("k2", 1, "hold", "", 3), ("k2", 2, "out", "", 4),
        ]  # fmt: skip
        assert steps[1].before == steps[0].after
        assert (steps[-1].before is not None, steps[-1].after) == (True, None)
        assert unit.commitments("other", date(2027, 1, 1)).count(
            Service.LODGING, "weir", "", date(2027, 5, 3)
        ) == 1  # fmt: skip
        # A step that only booked is passed over by undo, and takes no booking with it.
        assert unit.trips.position("old").undo_says == "word"
        trip, revision = unit.trips.undo("old", 4)
        assert (trip.note, revision) == ("a", 5)
        assert unit.trips.redo("old", 5)[0].note == "b"
        assert unit.bookings.of("old") == held
        confirmed = change(held, replace(held.held[0], state=BookingState.CONFIRMED))
        unit.bookings.put("old", held, confirmed, "confirm", by="anna")
        assert unit.bookings.history("old")[-1].revision == 3


def test_redo_passes_over_steps_that_only_booked(first_file: Path) -> None:
    revisions: list[dict[str, Any]] = [
        {"note": "a", "bookings": [], "says": "new"},
        {"note": "a", "bookings": [ASKED], "says": "ask", "undo_to": 1},
        {"note": "b", "bookings": [ASKED], "says": "word", "undo_to": 2},
        {"content": 2, "says": "undo word", "undo_to": 1, "redo_to": 3},
        {"content": 1, "says": "undo ask", "undo_to": None, "redo_to": 4},
    ]
    with closing(sqlite3.connect(first_file)) as plain, plain:
        _old_trip(plain, revisions, 5)
    with open_project(first_file) as project, project.unit_of_work() as unit:
        assert not unit.bookings.of("old"), "as the trip stood: nothing asked"
        assert [each.after is None for each in unit.bookings.history("old")] == [False, True]
        position = unit.trips.position("old")
        assert (position.undo_says, position.redo_says) == (None, "word")
        assert unit.trips.redo("old", 5)[0].note == "b"


def test_of_a_trip_nobody_can_read_the_bookings_that_were_listed_stay(first_file: Path) -> None:
    with closing(sqlite3.connect(first_file)) as plain, plain:
        _old_trip(plain, [{"note": "a", "bookings": [ASKED], "says": "new"}], 1)
        plain.execute("UPDATE revisions SET body = x'00' WHERE trip_id = 'old'")
        plain.execute(
            "INSERT INTO bookings VALUES ('old', 'k1', 'lodging', 'weir', '', '2027-05-03', '2027-05-05', 1,"
            " 'confirmed', NULL)"
        )
    with open_project(first_file) as project, project.reading() as unit:
        assert [(each.supplier, each.state) for each in unit.bookings.of("old")] == [
            ("weir", BookingState.CONFIRMED)
        ]
