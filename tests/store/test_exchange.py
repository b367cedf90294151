"""A trip goes to a colleague as one file and comes in again: complete, nothing overwritten, renames told."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from lacet.store import Project, open_project
from lacet.store.errors import FileThere, NotALacetFile, UnknownTrip
from lacet.store.pictures import Picture
from lacet.trip.bookings import add, change
from lacet.trip.library import Bike, Lodging, Place, Ref, Restaurant, Stage, Tariff, Transfer
from lacet.trip.money import Money
from lacet.trip.region import Region
from lacet.trip.trip import Accepted, Crossing, Day, Hire, Leg, Meal, Move, Night, Ride, Trip, Variant, Visit
from lacet.trip.words import BikeKind, Carrier, Load, MealKind, Means, Service, Way
from tests.store.things import guests_bookings, guests_trip, house, place, raw, stage


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Project]:
    """A colleague's empty project."""
    with open_project(tmp_path / "other.lacet", create=True) as opened:
        yield opened


def items_of(project: Project) -> set[tuple[str, str, int]]:
    return {tuple(row) for row in raw(project.path, "SELECT kind, id, version FROM items")}


def tariff(tariff_id: str, service: Service, subject: str) -> Tariff:
    return Tariff(
        id=tariff_id,
        name=tariff_id,
        service=service,
        subject_id=subject,
        valid_from=date(2027, 1, 1),
        valid_to=date(2027, 12, 31),
        rates=(),
    )


def rich_trip() -> Trip:
    """A trip that points at an item of every kind, in every way there is."""
    day = Day(
        id="d1",
        items=(
            Leg(id="i1", stage=Ref("moor"), way=Way.CYCLING, bike=Ref("hill")),
            Ride(id="i2", transfer=Ref("van"), from_place="birch", to_place="cedar"),
            Visit(id="i3", name="Mill", place="dale", tariff="mill-entry"),
        ),
        nights=(Night(lodging=Ref("weir", 1)),),
        meals=(Meal(kind=MealKind.DINNER, restaurant=Ref("eel")),),
        moves=(Move(load=Load.BAGS, from_id="weir", to_id="harbour", means=Ref("van")),),
    )
    return Trip(
        id="rich",
        name="Rich",
        arrivals=(Crossing(hub="pier", means=Means.FERRY),),
        variants=(Variant(id="v1", name="A", days=(day,), hires=(Hire(traveller="t1", bike=Ref("hill")),)),),
    )


def keep_rich_trip(project: Project) -> None:
    with project.unit_of_work() as unit:
        for name in ("cedar", "dale", "harbour", "pier", "unused"):
            unit.library.add_version(place(name))
        unit.library.add_version(house("weir", name="Weir Farm"))
        unit.library.add_version(house("unused"))
        unit.library.add_version(Bike(id="hill", name="Hill", kind=BikeKind.TOURING))
        unit.library.add_version(Transfer(id="van", name="Van", carrier=Carrier.VAN))
        eel = Restaurant(id="eel", name="Eel", place="birch", latitude_deg=44.1, longitude_deg=-24.6)
        unit.library.add_version(eel)
        for one in (
            tariff("weir-2027", Service.LODGING, "weir"),
            tariff("mill-entry", Service.ENTRY, ""),
            tariff("unused-2027", Service.LODGING, "unused"),
        ):
            unit.library.add_version(one)
        unit.trips.save(rich_trip(), 0, "new")
        unit.commit()


def test_an_export_holds_just_what_the_trip_needs(project: Project, tmp_path: Path) -> None:
    keep_rich_trip(project)
    project.export_trip("rich", tmp_path / "rich.lacet")
    with open_project(tmp_path / "rich.lacet") as export:
        places = {("place", name, 1) for name in ("alder", "birch", "cedar", "dale", "harbour", "pier")}
        assert items_of(export) == places | {
            ("stage", "moor", 1),
            ("lodging", "weir", 1),  # the version the trip points at, and not the newer one
            ("lodging", "weir", 2),  # which the move of the bags names without a version
            ("bike", "hill", 1),
            ("transfer", "van", 1),
            ("restaurant", "eel", 1),
            ("tariff", "weir-2027", 1),
            ("tariff", "mill-entry", 1),
        }
        with export.reading() as unit:
            assert unit.trips.load("rich") == (rich_trip(), 1)
            assert len(export.catalogue().tracks[export.catalogue().need(Stage, Ref("moor")).track_id]) == 200
        assert raw(export.path, "SELECT count(*) FROM tracks") == [(1,)]
        export.check()


def test_a_trip_comes_back_equal_into_an_empty_project(
    project: Project, other: Project, tmp_path: Path
) -> None:
    project.export_trip("may", tmp_path / "may.lacet")
    done = other.take_in(tmp_path / "may.lacet")
    assert (done.trips, done.already_here, done.renamed, done.newer) == (("may",), (), (), ())
    with other.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(), 1)
        assert other.catalogue().need(Lodging, Ref("weir")) == house("weir")


def test_taking_in_twice_changes_nothing(project: Project, other: Project, tmp_path: Path) -> None:
    project.export_trip("may", tmp_path / "may.lacet")
    other.take_in(tmp_path / "may.lacet")
    before = items_of(other)
    done = other.take_in(tmp_path / "may.lacet")
    assert (done.trips, done.already_here, done.renamed) == ((), ("may",), ())
    assert items_of(other) == before


def test_what_was_accepted_comes_along_under_its_revision(
    project: Project, other: Project, tmp_path: Path
) -> None:
    accepted = guests_trip(accepted=Accepted(variant="v1", revision=2))
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="as accepted"), 1, "note")
        unit.trips.save(accepted, 2, "accept")
        unit.trips.save(replace(accepted, note="later"), 3, "later")
        unit.documents.freeze(
            "quote",
            "may",
            "v1",
            2,
            b"%PDF",
            issued_at=datetime.now(UTC),
            digest="d",
            media_type="application/pdf",
        )
        unit.commit()
    project.export_trip("may", tmp_path / "may.lacet")
    other.take_in(tmp_path / "may.lacet")
    with other.reading() as unit:
        assert [(row.revision, row.says) for row in unit.trips.history("may")] == [(2, "note"), (4, "later")]
        assert unit.trips.load_revision("may", 2).note == "as accepted"
        assert unit.documents.payload(unit.documents.rows("may")[0].number) == b"%PDF"


def test_namesakes_get_new_ids_and_the_trip_follows(project: Project, other: Project, tmp_path: Path) -> None:
    keep_rich_trip(project)
    with other.unit_of_work() as unit:
        for mine in (
            place("birch", name="My own Birch"),
            Bike(id="hill", name="My own", kind=BikeKind.E_BIKE),
            house("weir", place="alder", name="My own Weir"),
        ):
            unit.library.add_version(mine)
        unit.library.add_version(stage("moor", name="My own Moor"))
        unit.trips.save(Trip(id="rich", name="My own"), 0, "new")
        unit.commit()
    project.export_trip("rich", tmp_path / "rich.lacet")
    done = other.take_in(tmp_path / "rich.lacet")
    told = {(one.kind, one.old_id, one.new_id) for one in done.renamed}
    assert told == {
        ("place", "birch", "birch-2"),
        ("bike", "hill", "hill-2"),
        ("lodging", "weir", "weir-2"),
        ("stage", "moor", "moor-2"),
        ("trip", "rich", "rich-2"),
    }
    with other.reading() as unit:
        trip, _ = unit.trips.load("rich-2")
        day = trip.variants[0].days[0]
        assert day.nights[0].lodging == Ref("weir-2", 1)
        assert day.legs()[0].bike == trip.variants[0].hires[0].bike == Ref("hill-2")
        assert isinstance(day.items[1], Ride)
        assert (day.items[1].from_place, day.items[1].to_place) == ("birch-2", "cedar")
        assert (day.moves[0].from_id, day.moves[0].to_id) == ("weir-2", "harbour")
        assert unit.trips.load("rich")[0].name == "My own"
    catalogue = other.catalogue()
    assert catalogue.need(Place, Ref("birch")).name == "My own Birch"
    assert catalogue.need(Stage, Ref("moor-2")).to_place == "birch-2"
    assert catalogue.need(Restaurant, Ref("eel")).place == "birch-2"
    assert catalogue.need(Tariff, Ref("weir-2027")).subject_id == "weir-2"
    assert catalogue.need(Lodging, Ref("weir")).name == "My own Weir"


def test_a_newer_version_of_the_same_item_is_added_and_told(
    project: Project, other: Project, tmp_path: Path
) -> None:
    project.export_trip("may", tmp_path / "first.lacet")
    other.take_in(tmp_path / "first.lacet")
    with project.unit_of_work() as unit:
        unit.library.add_version(house("weir", name="Weir Farm"))
        unit.library.add_version(house("weir", name="Weir Farm & Mill"))
        day = Day(id="d1", nights=(Night(lodging=Ref("weir", 3)),))
        later = guests_trip("later", variants=(Variant(id="v1", name="A", days=(day,)),))
        unit.trips.save(later, 0, "new")
        unit.commit()
    # The export holds version 3 alone, and still knows what it descends from.
    project.export_trip("later", tmp_path / "later.lacet")
    done = other.take_in(tmp_path / "later.lacet")
    assert (done.renamed, done.newer) == ((), (("lodging", "weir", 3),))
    assert other.catalogue().need(Lodging, Ref("weir", 1)) == house("weir")


def test_a_change_made_on_both_sides_is_kept_apart(project: Project, other: Project, tmp_path: Path) -> None:
    project.export_trip("may", tmp_path / "first.lacet")
    other.take_in(tmp_path / "first.lacet")
    for mine, name in ((project, "Theirs"), (other, "Ours")):
        with mine.unit_of_work() as unit:
            unit.library.add_version(house("weir", name=name))
            unit.commit()
    with project.unit_of_work() as unit:
        day = Day(id="d1", nights=(Night(lodging=Ref("weir", 2)),))
        unit.trips.save(guests_trip("june", variants=(Variant(id="v", name="A", days=(day,)),)), 0, "new")
        unit.commit()
    project.export_trip("june", tmp_path / "june.lacet")
    done = other.take_in(tmp_path / "june.lacet")
    assert [(one.old_id, one.new_id) for one in done.renamed] == [("weir", "weir-2")]
    catalogue = other.catalogue()
    assert (catalogue.need(Lodging, Ref("weir", 2)).name, catalogue.need(Lodging, Ref("weir-2", 2)).name) == (
        "Ours",
        "Theirs",
    )


def test_pictures_come_along(project: Project, other: Project, tmp_path: Path) -> None:
    picture = Picture(payload=b"dots", media_type="image/png", width=2, height=2)
    with project.unit_of_work() as unit:
        pictured = unit.library.add_version(house("forge", picture_ids=(unit.pictures.keep(picture),)))
        day = Day(id="d1", nights=(Night(lodging=Ref("forge")),))
        unit.trips.save(guests_trip("june", variants=(Variant(id="v", name="A", days=(day,)),)), 0, "new")
        unit.commit()
    project.export_trip("june", tmp_path / "june.lacet")
    other.take_in(tmp_path / "june.lacet")
    with other.reading() as unit:
        assert unit.pictures.get(pictured.picture_ids[0]) == picture


def test_different_rules_and_region_are_told_and_ours_hold(
    project: Project, other: Project, tmp_path: Path
) -> None:
    with project.unit_of_work() as unit:
        unit.settings.save(Region(name="Verrin", currency="GBP"))
        unit.settings.save(replace(unit.settings.house_rules(), markup_share=0.4))
        unit.commit()
    project.export_trip("may", tmp_path / "may.lacet")
    notes = other.take_in(tmp_path / "may.lacet").notes
    assert [note.split(" differ")[0] for note in notes] == [
        "The colleague's region (zone, currency, holidays)",
        "The colleague's house rules",
    ]
    assert other.catalogue().region == Region()


@pytest.mark.parametrize("act", ["export", "take in"])
def test_what_is_refused_leaves_no_trace(act: str, project: Project, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("dear " * 100)
    if act == "export":
        with pytest.raises(FileThere):
            project.export_trip("may", letter)
        with pytest.raises(UnknownTrip):
            project.export_trip("nowhere", tmp_path / "new.lacet")
    else:
        with pytest.raises(NotALacetFile):
            project.take_in(letter)
    ours = {"mine.lacet", ".mine.lacet.lock", "letter.txt"}
    assert {file.name for file in tmp_path.iterdir()} <= ours
    assert letter.read_text() == "dear " * 100


def test_prices_come_along_with_their_currency(project: Project, other: Project, tmp_path: Path) -> None:
    held = guests_bookings()
    dear = change(held, replace(held.held[0], price=Money(Decimal("12.50"), "GBP")))
    with project.unit_of_work() as unit:
        unit.bookings.put("may", held, dear, "price")
        unit.commit()
    project.export_trip("may", tmp_path / "may.lacet")
    other.take_in(tmp_path / "may.lacet")
    with other.reading() as unit:
        assert unit.bookings.of("may") == dear
        assert [(step.says, step.revision) for step in unit.bookings.history("may")] == [
            ("from another file", 1)
        ]


def test_a_trip_that_differs_comes_beside_ours_with_what_only_they_booked(
    project: Project, other: Project, tmp_path: Path
) -> None:
    project.export_trip("may", tmp_path / "may.lacet")
    other.take_in(tmp_path / "may.lacet")
    with project.unit_of_work() as unit:
        held = unit.bookings.of("may")
        forge = replace(held.held[0], supplier="forge")
        unit.bookings.put("may", held, add(held, forge), "ask the forge")
        unit.commit()
    project.export_trip("may", tmp_path / "again.lacet")
    assert other.take_in(tmp_path / "again.lacet").trips == ("may-2",)
    with other.reading() as unit:
        assert unit.bookings.of("may") == held
        assert [each.supplier for each in unit.bookings.of("may-2")] == ["forge"], "no room is taken twice"
