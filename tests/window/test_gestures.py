"""What a person can ask of a card apart from moving it."""

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from lacet.trip.drop import CardPayload, Gap, OnDay, StagePayload
from lacet.trip.library import Ref
from lacet.trip.trip import Leg
from lacet.trip.words import Way
from lacet.window.gestures import Gestures
from lacet.window.guide import DropGuide
from lacet.window.qt_session import QtSession


def test_bikes_are_hired_from_a_ridden_card_for_all_who_ride_it(qtbot: QtBot, session: QtSession) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    gestures = Gestures(session, parent)
    assert session.opened is not None
    (leg,) = (item for item in session.opened.variant.items() if isinstance(item, Leg) and item.id == "i3")
    bike = Ref("bike", 1)
    gestures.hire(leg, bike)
    hires = session.opened.variant.hires
    assert {hire.traveller for hire in hires if hire.bike == bike} == {"t1", "t2"}
    assert {hire.from_day for hire in hires if hire.bike == bike} == {"d3"}
    gestures.hire(leg, None)
    assert all(hire.bike is None for hire in session.opened.variant.hires if hire.from_day == "d3")


def test_the_day_just_filled_is_picked_so_that_the_shelf_goes_on_from_there(session: QtSession) -> None:
    guide = DropGuide(session)
    guide.let_go(StagePayload("climb", 1, Way.WALKING, "alder", "birch"), OnDay(1))
    assert session.selection.day == 1
    guide.let_go(CardPayload("rest"), Gap(3))
    assert session.selection.day == 3
