"""The network of the small library, reckoned by hand: 9 km up a hill, 30 km along a lane."""

from datetime import date

import pytest
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.service.network import Connection, Network, network
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Place, Ref
from lacet.trip.party import Limits, Party, Traveller, placeholder_party
from lacet.trip.words import Way
from lacet.window.library.network_page import NetworkPage
from lacet.window.qt_session import QtSession
from lacet.window.work import CalledOff
from tests.small_library import place, small_catalogue

DAY = date(2026, 11, 25)
TWO = placeholder_party(2)


def of(found: Network, from_place: str, way: Way) -> dict[str, Connection]:
    return {
        each.to_place: each for each in found.connections if each.from_place == from_place and each.way is way
    }


def follow(party: Party = TWO, bike: Ref | None = None) -> Network:
    return network(small_catalogue(), HouseRules(), party, bike, DAY, lambda *_: None)


def test_what_is_too_far_on_foot_can_be_ridden() -> None:
    """The house lets people walk 18 km and ride 40 km a day; half as much again is out of the question."""
    found = follow()
    assert of(found, "birch", Way.WALKING)["alder"].verdict == "in a day"
    too_far = of(found, "birch", Way.WALKING)["cedar"]
    assert too_far.verdict == "too much"
    assert "30.0 km on foot" in too_far.says
    assert of(found, "birch", Way.CYCLING)["cedar"].verdict == "in a day"


def test_climb_is_told_for_each_direction() -> None:
    found = follow()
    up, down = of(found, "alder", Way.WALKING)["birch"], of(found, "birch", Way.WALKING)["alder"]
    assert up.ascent_m == pytest.approx(300.0, abs=5.0)
    assert down.ascent_m == pytest.approx(0.0, abs=1.0)
    assert up.distance_m == pytest.approx(9_000.0, rel=0.01)


def test_a_guest_who_wishes_less_makes_dead_ends() -> None:
    """With 5 km at most nobody leaves on foot, and with 10 km by bike nobody reaches Cedar."""
    limits = Limits(walking_m=5_000.0, cycling_m=10_000.0)
    found = follow(Party(travellers=(Traveller(id="t1", limits=limits),)))
    said = {each.id: each.says for each in found.junctions}
    assert said == {"alder": "dead end", "birch": "dead end", "cedar": "no way within a day"}
    assert all(each.on_foot == () for each in found.junctions)


def test_a_place_without_a_stage_has_no_way_on() -> None:
    lonely = place("dell", 50_000.0)
    found = network(small_catalogue(lonely), HouseRules(), TWO, None, DAY, lambda *_: None)
    assert {each.name for each in found.junctions if not each.reaches} == {"Dell"}
    assert isinstance(lonely, Place)


def test_following_can_be_called_off() -> None:
    def off(*_: int) -> None:
        raise CalledOff("Called off.")

    with pytest.raises(CalledOff):
        network(small_catalogue(), HouseRules(), TWO, None, DAY, off)


def test_the_page_tells_in_tables_what_it_draws(
    session: QtSession, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    page = NetworkPage(session)
    qtbot.addWidget(page)
    page.resize(900, 500)
    page.show()
    page.on_shown()
    qtbot.waitUntil(lambda: not page.work.busy and page.junctions.rowCount() == 3)
    qtmodeltester.check(page.connections)
    qtmodeltester.check(page.junctions)
    # Two ways up and down the hill, and the lane by bike there and back.
    assert page.connections.rowCount() == 6
    assert len(page.view.links) == 3
    page.closed.setChecked(True)
    assert page.connections.rowCount() == 8
    assert [link.open for link in page.view.links].count(False) == 1
    page.foot.setChecked(False)
    assert {row.way for row in page.connections.rows} == {Way.CYCLING}
    assert page.party.itemText(0) == "the party of Test trip"
    page.view.node_picked.emit("birch")
    assert page.tables.currentWidget() is page.places
    assert page.junctions.id_at(page.places.currentIndex().row()) == "birch"
