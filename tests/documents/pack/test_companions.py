"""Guests who take the same way every day share a letter; files never carry a name."""

from datetime import date

from lacet.assess import assess
from lacet.documents.language import language
from lacet.documents.pack.companions import companions, said
from lacet.inputs import Inputs
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip
from tests.small_library import day, small_catalogue, small_trip, walk


def groups_of(trip: Trip) -> list[tuple[str, tuple[str, ...]]]:
    found = assess(Inputs(trip, "v1", small_catalogue(), HouseRules(), as_of=date(2027, 1, 4)))
    return [(each.letter, each.travellers) for each in companions(trip.party, found.figures.days)]


def test_who_never_parts_has_no_letter() -> None:
    assert groups_of(small_trip(day("d1", walk("i1")), guests=3)) == [("", ("t1", "t2", "t3"))]


def test_who_parts_once_has_a_letter_on_all_days() -> None:
    parted = day("d2", walk("i2", travellers=("t2",)), walk("i3", travellers=("t1", "t3")))
    trip = small_trip(day("d1", walk("i1")), parted, guests=3)
    assert groups_of(trip) == [("A", ("t1", "t3")), ("B", ("t2",))]
    found = assess(Inputs(trip, "v1", small_catalogue(), HouseRules(), as_of=date(2027, 1, 4)))
    groups = companions(trip.party, found.figures.days)
    assert said(groups, ("t2",), language()) == "group B"
    assert said(groups, ("t1", "t2", "t3"), language()) == "groups A and B"
