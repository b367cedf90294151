"""How far it is from the stage's end to the house, and from the house to dinner."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from geographiclib.geodesic import Geodesic

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import LibraryItem, Lodging, Ref, Restaurant
from lacet.trip.trip import Meal, Rest, Trip
from lacet.trip.words import MealKind
from tests.small_library import day, items, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


BIRCH: Lodging = known(Lodging, "birch-house")
NET_LOFT: Restaurant = known(Restaurant, "net-loft")
DINNER = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))


def evening() -> Trip:
    return small_trip(
        day("d1", walk("i1"), lodging="birch-house", meals=(DINNER,), briefing=True), day("d2", Rest(id="i2"))
    )


def north(item: Any, away_m: float) -> Any:
    """The item moved due north by so many metres on the WGS 84 ellipsoid."""
    ends = Geodesic.WGS84.Direct(item.latitude_deg, item.longitude_deg, 0.0, away_m)
    return replace(item, latitude_deg=ends["lat2"])


def assessed(*library: LibraryItem) -> Assessment:
    return assess(Inputs(evening(), "v1", small_catalogue(*library), RULES, as_of=AS_OF))


def found(*library: LibraryItem) -> list[Finding]:
    return [each for each in assessed(*library).findings if each.check == "near_by"]


def settled(*library: LibraryItem) -> list[str]:
    before = assessed(*library)
    told = next(each for each in before.findings if each.check == "near_by")
    inputs = Inputs(evening(), "v1", small_catalogue(*library), RULES, as_of=AS_OF)
    return [str(each.says) for each in settle(inputs, before)[before.findings.index(told)]]


@pytest.mark.parametrize(("away_m", "count"), [(999.9, 0), (1_000.1, 1)])
def test_a_kilometre_from_the_house_to_dinner_is_near(away_m: float, count: int) -> None:
    told = found(north(NET_LOFT, away_m))
    assert [(each.level, each.limit, each.unit) for each in told] == [(Level.WARN, 1_000.0, "m")] * count


@pytest.mark.parametrize(("away_m", "count"), [(999.9, 0), (1_000.1, 1)])
def test_a_kilometre_from_the_stage_to_the_house_is_near(away_m: float, count: int) -> None:
    told = found(north(BIRCH, away_m), north(NET_LOFT, away_m))
    assert len(told) == count
    assert all(str(each.says).startswith("1.0 km from the end of the stage to Birch House") for each in told)


def test_dinner_nearer_by_settles_a_long_way() -> None:
    far = north(NET_LOFT, 1_500.0)
    nearer = replace(NET_LOFT, id="tar-shed", name="Tar Shed")
    cooks = replace(BIRCH, serves_dinner=True)
    assert set(settled(far, nearer, cooks)) == {"Dinner at Birch House", "Tar Shed, open"}


def test_a_house_nearer_by_settles_a_long_way() -> None:
    far, kitchen = north(BIRCH, 1_500.0), north(NET_LOFT, 700.0)
    nearer = north(replace(BIRCH, id="oak-house", name="Oak House"), 600.0)
    as_far = north(replace(BIRCH, id="elm-house", name="Elm House"), 1_400.0)
    assert settled(far, kitchen, nearer, as_far) == ["Oak House, open"]
