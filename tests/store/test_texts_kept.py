"""Controls and turns of the reading direction never get into a file, by whichever way a text comes."""

from dataclasses import replace

import pytest

from lacet.service.session import Session
from lacet.store import Project, as_kept
from lacet.store.errors import CannotBeKept
from lacet.store.pictures import Picture
from lacet.trip import edits
from lacet.trip.catalogue import Office
from lacet.trip.library import Lodging
from lacet.trip.party import placeholder_party
from lacet.trip.region import Region
from lacet.trip.trip import Trip
from tests.store.things import house

BAD = "\x00\x07\x1b\x7f\x85\x9b\r\u202a\u202e\u2066\u2069"
SAID = f"Wei{BAD}r"
# What looks odd and is meant: line ends, tabs, joined signs, letters read from the right, a new emoji.
MEANT = "two\nlines\t\u200d\u05e9\u05dc\u05d5\u05dd \ue000 \U0001fae9 \\u0007 \\b"


def test_what_people_mean_is_kept_as_it_is() -> None:
    office = Office(name=MEANT)
    assert as_kept(office) == office


@pytest.mark.parametrize("sign", BAD)
def test_every_one_of_them_is_taken_out(sign: str) -> None:
    assert as_kept(Office(name=f"a{sign}b{MEANT}")) == Office(name=f"ab{MEANT}")


def test_library_settings_and_pictures_are_kept_without_them(project: Project) -> None:
    picture = Picture(payload=b"x", media_type="image/png", width=1, height=1, alt=SAID, credit=SAID)
    with project.unit_of_work() as unit:
        added = unit.library.add_version(house("weir", name=SAID, note=SAID))
        again = unit.library.add_version(house("weir", name=SAID, note=SAID))
        kept = unit.library.keep(house("wear", name=SAID))
        unit.settings.save(Office(name=SAID))
        unit.settings.save(replace(Region(), name=SAID))
        picture_id = unit.pictures.keep(picture)
        unit.commit()
    with project.reading() as unit:
        found = unit.library.latest(Lodging, "weir")
        assert found == added == again
        assert (added.name, added.note, kept.name) == ("Weir", "Weir", "Weir")
        assert (unit.settings.office().name, unit.settings.region().name) == ("Weir", "Weir")
        shown = unit.pictures.get(picture_id)
        assert shown is not None
        assert (shown.alt, shown.credit) == ("Weir", "Weir")


def test_an_edit_is_shown_as_it_will_be_kept_and_one_of_nothing_else_is_none(project: Project) -> None:
    session = Session(project)
    session.add_trip(Trip(id="t", name=SAID, party=placeholder_party(2), variants=two_days().variants), SAID)
    opened = session.need_open()
    assert opened.trip.name == "Weir"
    assert session.apply(lambda trip: edits.set_trip_note(trip, SAID), SAID)
    assert session.need_open().trip.note == "Weir"
    assert not session.apply(lambda trip: edits.set_trip_note(trip, f"{SAID}\x1b"), "again")
    with project.reading() as unit:
        kept, _ = unit.trips.load("t")
        assert kept == session.need_open().trip
        assert [row.says for row in unit.trips.history("t")] == ["Weir", "Weir"]


def test_half_a_character_is_refused_before_anything_waits() -> None:
    with pytest.raises(CannotBeKept):
        as_kept(Office(name="\ud800"))


def two_days() -> Trip:
    return edits.add_variant(edits.new_trip("t", "x"), name="A", days=2)
