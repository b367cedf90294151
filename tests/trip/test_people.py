"""Guests come and go without a trace; trips begin as enquiries or from standard trips."""

from collections.abc import Callable
from datetime import date

import pytest

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.library import Ref
from lacet.trip.party import NOBODY, Need, Party, Traveller, placeholder_party
from lacet.trip.trip import About, Crossing, Day, Hire, Meal, Night, Overrule, RoomUse, Trip
from lacet.trip.words import MealKind, Means, NeedLevel
from tests.trip.tables import PARTY, WEIR, four_days, leg, trip_of


def parted() -> Trip:
    """Cy walks apart, eats apart, has a bike, a bed, a flight and a decision of his own."""
    day = Day(
        id="d1",
        items=(
            leg("i1", travellers=("t1", "t2")),
            leg("i2", travellers=("t3",)),
            leg("i3", travellers=("t2", "t3")),
        ),
        nights=(
            Night(
                lodging=WEIR,
                rooms=(
                    RoomUse(kind="double", travellers=("t1", "t2")),
                    RoomUse(kind="single", travellers=("t3",)),
                ),
            ),
        ),
        meals=(Meal(kind=MealKind.DINNER, travellers=("t3",)),),
    )
    trip = trip_of(
        day,
        hires=(Hire(traveller="t3", bike=Ref("b-hill")),),
        overrules=(
            Overrule(
                check="fits",
                code="load",
                subject=(About("guest", "t3"),),
                figure=None,
                name="Consultant",
                reason="tall",
            ),
        ),
    )
    flight = Crossing(hub="airfield", means=Means.FLIGHT, travellers=("t3",))
    return edits.set_crossings(trip, arrivals=(flight, Crossing(hub="harbour", means=Means.FERRY)))


def test_a_guest_who_stays_at_home_leaves_no_trace() -> None:
    trip = edits.remove_traveller(parted(), "t3")
    assert "t3" not in repr(trip)
    (day,) = trip.variants[0].days
    assert [(item.id, item.travellers) for item in day.items] == [("i1", None), ("i3", ("t2",))]
    assert day.nights[0].rooms == (RoomUse(kind="double", travellers=("t1", "t2")),)
    assert day.meals == ()
    assert trip.variants[0].hires == ()
    assert trip.arrivals == (Crossing(id="c2", hub="harbour", means=Means.FERRY),)
    assert trip.party.sharing == (("t1", "t2"),)


def test_nobody_is_taken_out_of_a_party_under_way() -> None:
    with pytest.raises(EditRefused, match="on which day the guest leaves"):
        edits.remove_traveller(edits.set_fixed_through(parted(), parted().variants[0].days[0].id), "t3")


def test_the_party_can_shrink_to_nobody_named() -> None:
    trip = edits.set_party(parted(), Party())
    assert trip.variants[0].days[0].items == ()
    assert trip.variants[0].days[0].nights == (Night(id="n1", lodging=WEIR),)


def test_one_more_guest_takes_part_in_what_is_for_everybody() -> None:
    trip = edits.add_traveller(four_days(), Traveller(id="", name="Di"))
    assert trip.party.travellers[-1] == Traveller(id="t4", name="Di")
    assert trip.variants == four_days().variants


@pytest.mark.parametrize(
    "guest",
    [
        Traveller(id="t1", from_day=0),
        Traveller(id="t1", from_day=3, to_day=2),
        Traveller(id="t1", pace=0.0),
        Traveller(id="t9"),
    ],
)
def test_a_guest_who_cannot_be_is_refused(guest: Traveller) -> None:
    with pytest.raises(EditRefused):
        edits.set_traveller(four_days(), guest)


def test_dates_stand_once_the_party_is_under_way() -> None:
    trip = edits.set_fixed_through(edits.set_start(four_days(), date(2026, 6, 1)), "d1")
    with pytest.raises(EditRefused, match="its dates stand"):
        edits.set_start(trip, date(2026, 6, 2))
    assert edits.set_start(trip, date(2026, 6, 1)) is trip


@pytest.mark.parametrize("year", [1, 1899, 2201, 9999])
def test_a_trip_is_planned_in_a_year_whose_days_before_and_after_are_dates(year: int) -> None:
    start = date(year, 12, 31)
    makings: tuple[Callable[[], object], ...] = (
        lambda: edits.set_start(four_days(), start),
        lambda: edits.new_trip("trip", "Moor", start=start),
        lambda: edits.trip_from_standard(four_days(), "trip", "Moor", NOBODY, start=start),
    )
    for make in makings:
        with pytest.raises(EditRefused, match=f"no year {year} here; it can be 1900 to 2200"):
            make()


def test_an_enquiry_has_one_variant_of_the_wished_length() -> None:
    trip = edits.new_trip("trip", " Moor in May ", placeholder_party(2), days=5, month=5)
    assert (trip.name, trip.start, trip.month) == ("Moor in May", None, 5)
    assert [(variant.name, len(variant.days)) for variant in trip.variants] == [("A", 5)]


def test_a_standard_trip_carries_nothing_of_the_client() -> None:
    guest = Traveller(
        id="t1",
        name="Ada",
        age=44,
        mass_kg=61.0,
        needs=(Need(kind="nuts", level=NeedLevel.MUST),),
        telephone="112",
    )
    trip = edits.set_start(edits.set_traveller(parted(), guest), date(2026, 6, 1))
    standard = edits.as_standard(trip, "v1", "standard", "Moor and salt")
    for private in ("Ada", "Alder", "nuts", "61.0", "112", "single", "airfield", "tall", "2026"):
        assert private not in repr(standard)
    assert standard.standard
    assert [item.travellers for item in standard.variants[0].days[0].items] == [
        ("t1", "t2"),
        ("t3",),
        ("t2", "t3"),
    ]


def test_a_trip_from_a_standard_drops_what_it_has_nobody_for() -> None:
    standard = edits.as_standard(parted(), "v1", "standard", "Moor and salt")
    trip = edits.trip_from_standard(
        standard, "trip-2", "For two", placeholder_party(2), start=date(2026, 7, 1)
    )
    assert [(item.id, item.travellers) for item in trip.variants[0].days[0].items] == [
        ("i1", None),
        ("i3", ("t2",)),
    ]
    assert (trip.started_from, trip.standard, trip.start) == ("standard", False, date(2026, 7, 1))
    assert PARTY.name not in repr(trip)
