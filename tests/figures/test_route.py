"""What lies on a map is found once for the window and for documents."""

from datetime import date

from lacet.assess import assess
from lacet.documents.drawing.scene import scene_of
from lacet.figures.route import route_legs, route_rides
from lacet.inputs import Inputs
from lacet.service.map_scene import scene
from lacet.service.shown import Shown
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Ride, Trip
from tests.small_library import day, small_catalogue, small_trip, walk


def shown(trip: Trip) -> Shown:
    inputs = Inputs(trip, "v1", small_catalogue(), HouseRules(), as_of=date(2027, 1, 4))
    return Shown(trip, "v1", assess(inputs))


def parted() -> Trip:
    """Both walk up, one of them walks back, the other is driven."""
    ride = Ride(id="r1", from_place="birch", to_place="alder", travellers=("t2",))
    return small_trip(day("d1", walk("i1")), day("d2", walk("i2", backward=True, travellers=("t1",)), ride))


def test_a_leg_that_several_travel_is_found_once_with_all_of_them() -> None:
    found = list(route_legs(shown(parted()).assessment.figures, small_catalogue()))
    assert [(each.day, each.groups, each.number, each.figures.leg.id) for each in found] == [
        (0, (0,), 0, "i1"),
        (1, (0,), 0, "i2"),
    ]
    rides = list(route_rides(shown(parted()).assessment.figures, small_catalogue()))
    assert [(each.day, each.groups) for each in rides] == [(1, (1,))]


def test_both_maps_show_the_same_legs_and_rides() -> None:
    it, catalogue = shown(parted()), small_catalogue()
    on_screen, on_paper = scene(it, catalogue, None), scene_of(it.assessment.figures, catalogue)
    assert [(each.day, each.group, each.way) for each in on_screen.legs] == [
        (each.day, each.groups[0], each.way.value) for each in on_paper.legs
    ]
    assert [(each.day, each.ends) for each in on_screen.rides] == [
        (each.day, each.ends) for each in on_paper.rides
    ]
    assert on_screen.rides


def test_a_leg_without_a_line_is_left_out() -> None:
    lost = small_trip(day("d1", walk("i1", stage="gone")))
    assert list(route_legs(shown(lost).assessment.figures, small_catalogue())) == []
