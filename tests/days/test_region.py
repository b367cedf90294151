"""What a position proposes for a region, and what a region may be set to."""

import pytest

from lacet.days.region import accepted, checked, first_position, proposed, proposed_at, zone_doubt
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.errors import LacetError
from lacet.trip.library import Place
from lacet.trip.region import UNSET, EmergencyNumber, Region


@pytest.mark.parametrize(
    ("latitude", "longitude", "expected"),
    [
        # IANA zone.tab; CLDR currencies of territories; Directive (EU) 2018/1972, Article 109;
        # 47 U.S.C. 251(e)(3).
        (48.28, 8.17, ("Europe/Berlin", "DE", "EUR", "112")),
        (37.74, -25.67, ("Atlantic/Azores", "PT", "EUR", "112")),
        (40.34, -105.68, ("America/Denver", "US", "USD", "911")),
        (1.87, -157.40, ("Pacific/Kiritimati", "KI", "AUD", None)),
        (-44.0, 170.1, ("Pacific/Auckland", "NZ", "NZD", None)),
    ],
)
def test_a_position_proposes_what_is_published_for_it(
    latitude: float, longitude: float, expected: tuple[str | None, ...]
) -> None:
    offer = proposed_at(latitude, longitude)
    number = offer.emergency_numbers[0].number if offer.emergency_numbers else None
    assert (offer.zone, offer.country, offer.currency, number) == expected


@pytest.mark.parametrize("position", [(44.2, -24.6), (0.0, -140.0), (90.0, 0.0), (-60.0, 180.0)])
def test_the_open_sea_proposes_nothing(position: tuple[float, float]) -> None:
    assert proposed_at(*position) == UNSET


def test_an_empty_library_has_no_position_and_a_place_gives_it_one() -> None:
    assert first_position(Catalogue()) is None
    assert proposed(Catalogue()) == UNSET
    place = Place(id="quay", name="Quay", latitude_deg=37.74, longitude_deg=-25.67)
    assert proposed(catalogue_of((place,))).zone == "Atlantic/Azores"


def test_accepting_fills_what_is_unset_and_leaves_what_was_said() -> None:
    own = Region(zone="Europe/Lisbon", holidays=("05-01 Labour Day",))
    taken = accepted(own, proposed_at(37.74, -25.67))
    assert taken.zone == "Europe/Lisbon"
    assert taken.country is None
    assert taken.currency == "EUR"
    assert taken.emergency_numbers == (EmergencyNumber("112"),)


@pytest.mark.parametrize(
    ("region", "says"),
    [
        (Region(zone="Europe/Berlim"), "Europe/Berlin"),
        (Region(zone="azores"), "Atlantic/Azores"),
        (Region(zone="Etc/Nowhere-at-all"), "IANA"),
        (Region(currency="Euro"), "EUR for Euro"),
        (Region(currency="EUT"), "EUR"),
        (Region(country="Portugall"), "PT for Portugal"),
        (Region(country="PT", subdivision="99x"), "99x"),
        (Region(subdivision="20"), "country"),
    ],
)
def test_what_isnt_known_is_refused_with_the_nearest_that_is(region: Region, says: str) -> None:
    with pytest.raises(LacetError, match=says):
        checked(region)


def test_a_place_may_state_its_own_clock() -> None:
    own = Region(zone="VRT1VRST,M3.5.0/0,M10.5.0/1", currency="EUR", country="PT")
    assert checked(own) == own


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone", "says"),
    [
        (48.28, 8.17, "Europe/Berlin", ""),
        (48.28, 8.17, "Europe/Vienna", ""),
        (48.28, 8.17, "Europe/London", ""),
        (48.28, 8.17, "UTC", "2 hours off the clocks (Europe/Berlin)"),
        (40.34, -105.68, "Europe/Berlin", "8 hours off the clocks (America/Denver)"),
        # Summer time alone is off: the same in January.
        (33.45, -112.07, "America/Denver", ""),
        (44.2, -24.6, "Atlantic/Azores", ""),
        (44.2, -24.6, "Europe/Paris", ""),
        (44.2, -24.6, "Asia/Tokyo", "11 hours off the sun"),
        (-60.0, 179.9, "Pacific/Auckland", ""),
        (-60.0, -179.9, "Pacific/Auckland", ""),
        (0.0, -140.0, "Europe/Berlin", "10 hours off the sun"),
    ],
)
def test_a_zone_far_from_the_positions_is_told(
    latitude: float, longitude: float, zone: str, says: str
) -> None:
    place = Place(id="quay", name="Quay", latitude_deg=latitude, longitude_deg=longitude)
    doubt = zone_doubt(Region(zone=zone), catalogue_of((place,)))
    assert (doubt is None) == (not says)
    assert says in (doubt or "")


def test_without_zone_or_position_nothing_is_told_of_it() -> None:
    place = Place(id="quay", name="Quay", latitude_deg=44.2, longitude_deg=-24.6)
    assert zone_doubt(Region(), catalogue_of((place,))) is None
    assert zone_doubt(Region(zone="Europe/Paris"), Catalogue()) is None
