"""Beds, rooms, closed houses, receptions and single nights: at their limits, and where much is unknown."""

import gc
from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.checks.kept import per_catalogue
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import DietAnswer, LibraryItem, Lodging, Ref, Room
from lacet.trip.party import Need
from lacet.trip.trip import About, Day, Meal, Night, Rest, RoomUse, Trip
from lacet.trip.words import Answer, MealKind, NeedLevel, Payer, Service
from tests.small_library import day, items, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
BIRCH = next(item for item in items() if isinstance(item, Lodging) and item.id == "birch-house")
OAK = replace(BIRCH, id="oak-house", name="Oak House")
SINGLE = Room(kind="single", sleeps=1, count=2)


def assessed(
    trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS, booked: Bookings = NO_BOOKINGS
) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), RULES, taken, booked, as_of=AS_OF))


def found(
    check: str, trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS,
    booked: Bookings = NO_BOOKINGS,
) -> list[Finding]:  # fmt: skip
    return [
        each for each in assessed(trip, *library, taken=taken, booked=booked).findings if each.check == check
    ]


def settled(check: str, trip: Trip, *library: LibraryItem) -> list[str]:
    """What the fixes that are proved for the first finding of a check are called."""
    before = assessed(trip, *library)
    told = next(each for each in before.findings if each.check == check)
    inputs = Inputs(trip, "v1", small_catalogue(*library), RULES, as_of=AS_OF)
    return [str(each.says) for each in settle(inputs, before)[before.findings.index(told)]]


def slept(*nights: Night, **more: Any) -> Trip:
    """One night after a climb on Saturday 8 May, then home."""
    first = replace(day("d1", walk("i1"), briefing=True, **more.pop("first", {})), nights=nights)
    return small_trip(first, day("d2", Rest(id="i2")), **more)


def at_birch(**more: Any) -> Trip:
    return slept(Night(lodging=Ref("birch-house")), **more)


def needing(kind: str, level: NeedLevel = NeedLevel.MUST) -> Trip:
    trip = at_birch()
    guest = replace(trip.party.travellers[0], needs=(Need(kind=kind, level=level),))
    return replace(trip, party=replace(trip.party, travellers=(guest, trip.party.travellers[1])))


def test_nobody_needs_a_bed_after_their_last_day() -> None:
    trip = slept(Night(lodging=Ref("birch-house"), travellers=("t1",)))
    leaver = replace(trip.party.travellers[1], to_day=1)
    gone = replace(trip, party=replace(trip.party, travellers=(trip.party.travellers[0], leaver)))
    (told,) = found("lodging_found", trip)
    assert told.travellers == ("t2",)
    assert found("lodging_found", gone) == []


def test_a_guest_without_a_bed_joins_the_others_first() -> None:
    trip = slept(Night(lodging=Ref("oak-house"), travellers=("t1",)))
    assert settled("lodging_found", trip, OAK)[0] == "Oak House"


def test_no_house_that_is_closed_or_full_is_offered() -> None:
    closed = replace(BIRCH, closed=("05-01..05-31",))
    full = replace(OAK, rooms=(replace(SINGLE, count=1),))
    (told,) = found("lodging_found", slept(), closed, full)
    assert told.fixes == ()


def closed(*seasons: str) -> Lodging:
    return replace(BIRCH, closed=seasons)


@pytest.mark.parametrize(
    ("start", "month", "level", "unknown"),
    [
        (date(2027, 5, 8), None, Level.STOP, False),
        (None, 5, Level.STOP, False),
        (None, 6, None, False),
        (None, 4, Level.NOTE, True),
        (None, None, Level.NOTE, True),
    ],
)
def test_a_closed_season_is_told_as_far_as_the_date_is_known(
    start: date | None, month: int | None, level: Level | None, unknown: bool
) -> None:
    told = found("lodging_open", at_birch(start=start, month=month), closed("04-20..06-01"))
    if month == 6:
        told = found("lodging_open", at_birch(start=start, month=month), closed("04-20..05-31"))
    assert [(each.level, each.unknown) for each in told] == ([(level, unknown)] if level else [])


def test_a_season_nobody_can_read_is_unknown() -> None:
    (told,) = found("lodging_open", at_birch(), closed("when it rains"))
    assert told.unknown
    assert str(told.says).endswith("Correct it in the library.")


def test_seasons_are_said_as_people_do() -> None:
    (told,) = found("lodging_open", at_birch(), closed("05-01..05-09"))
    assert str(told.says).startswith("Birch House is closed that night (from 1 May to 9 May).")


def test_another_open_house_or_a_later_start_settles_a_closed_one() -> None:
    says = settled("lodging_open", at_birch(), closed("05-01..05-09"), OAK)
    assert set(says) == {"Oak House, open", "Start 2 days later, on Monday 10 May"}


def test_no_later_start_is_offered_beyond_a_week_or_where_suppliers_were_asked() -> None:
    (told,) = found("lodging_open", at_birch(), closed("05-01..05-15"))
    assert told.fixes == ()
    asked = Booking(id="b", service=Service.LODGING, supplier="birch-house", from_day=date(2027, 5, 8),
                    to_day=date(2027, 5, 9))  # fmt: skip
    (told,) = found("lodging_open", at_birch(), closed("05-01..05-09"), booked=Bookings((asked,)))
    assert told.fixes == ()


def test_rooms_of_one_house_are_counted_over_all_its_nights() -> None:
    """Two guests, each with a night of their own in the same house, which has one single room."""
    apart = slept(*(Night(lodging=Ref("birch-house"), travellers=(who,)) for who in ("t1", "t2")))
    (told,) = found("rooms_suit", apart, replace(BIRCH, rooms=(replace(SINGLE, count=1),)))
    assert (told.figure, told.limit, told.unit) == (2.0, 1.0, "rooms")
    assert found("rooms_suit", apart, replace(BIRCH, rooms=(SINGLE,))) == []


def test_those_without_a_room_may_sleep_next_door() -> None:
    trip = at_birch()
    apart = replace(trip, party=replace(trip.party, sharing=()))
    one_each = (
        replace(BIRCH, rooms=(replace(SINGLE, count=1),)),
        replace(OAK, rooms=(replace(SINGLE, count=1),)),
    )
    assert settled("rooms_suit", apart, *one_each) == ["Guest 2 at Oak House"]


def test_three_in_a_double_room_are_one_too_many() -> None:
    def sharing(*who: str) -> Trip:
        room = RoomUse(kind="double", travellers=who)
        return slept(Night(lodging=Ref("birch-house"), rooms=(room,)), guests=3)

    (told,) = found("rooms_suit", sharing("t1", "t2", "t3"))
    assert (told.figure, told.limit) == (3.0, 2.0)
    assert found("rooms_suit", sharing("t1", "t2")) == []


def test_a_room_too_large_for_the_house_is_told_without_a_name() -> None:
    (told,) = found("rooms_suit", at_birch(), replace(BIRCH, rooms=(SINGLE,)))
    assert str(told.says).startswith("Birch House has no room for 2.")


def bath(private: bool | None) -> Lodging:
    double = Room(kind="double", sleeps=2, count=1, private_bath=private)
    return replace(BIRCH, rooms=(double,))


def says(kind: str, answer: Answer) -> Lodging:
    return replace(BIRCH, diets=(DietAnswer(kind, answer),))


@pytest.mark.parametrize(
    ("kind", "need", "house", "level", "unknown"),
    [
        ("private bath", NeedLevel.MUST, bath(False), Level.STOP, False),
        ("private bath", NeedLevel.MUST, bath(None), Level.STOP, True),
        ("private bath", NeedLevel.PREFERS, bath(False), Level.WARN, False),
        ("private bath", NeedLevel.MUST, bath(True), None, False),
        ("ground floor", NeedLevel.MUST, BIRCH, Level.STOP, True),
        ("ground floor", NeedLevel.PREFERS, BIRCH, Level.WARN, True),
        ("ground floor", NeedLevel.MUST, says("ground floor", Answer.NO), Level.STOP, False),
        ("ground floor", NeedLevel.MUST, says("ground floor", Answer.ON_REQUEST), Level.WARN, False),
        ("ground floor", NeedLevel.PREFERS, says("ground floor", Answer.ON_REQUEST), Level.NOTE, False),
        ("no stairs", NeedLevel.MUST, says("no stairs", Answer.YES), None, False),
    ],
)
def test_what_a_guest_needs_of_a_room(
    kind: str, need: NeedLevel, house: Lodging, level: Level | None, unknown: bool
) -> None:
    told = found("rooms_suit", needing(kind, need), house)
    assert [(each.level, each.unknown) for each in told] == ([(level, unknown)] if level else [])
    assert all(each.travellers == ("t1",) and "Guest 1" in str(each.says) for each in told)


def test_another_room_or_another_house_meets_the_need() -> None:
    plain = Room(kind="double", sleeps=2, count=1, private_bath=False)
    better = Room(kind="large double", sleeps=2, count=1, private_bath=True)
    with_both = replace(BIRCH, rooms=(plain, better))
    assert settled("rooms_suit", needing("private bath"), with_both) == [
        "A large double room with a private bath"
    ]
    oak = replace(OAK, diets=(DietAnswer("ground floor", Answer.YES),))
    assert settled("rooms_suit", needing("ground floor"), oak) == ["Oak House, open"]


def late(hours: str, **more: Any) -> list[Finding]:
    trip = at_birch(first={"departs": time(17, 40)}, **more)
    return found("reception_open", trip, replace(BIRCH, check_in=hours, late_key=True))


def test_reception_is_met_to_the_second() -> None:
    (told,) = late("15:00-21:00")
    done_s = told.figure or 0.0
    at = time(int(done_s // 3600), int(done_s % 3600 // 60), int(done_s % 60))
    before = at.replace(second=at.second - 1) if at.second else at
    assert late(f"15:00-{before.isoformat()}")
    after = time(at.hour, at.minute + 1)
    assert late(f"15:00-{after.isoformat()}") == []


@pytest.mark.parametrize("hours", ["", "till late"])
def test_reception_hours_nobody_has_said_are_unknown(hours: str) -> None:
    (told,) = late(hours)
    assert (told.level, told.unknown) == (Level.NOTE, True)


@pytest.mark.parametrize("hours", ["15:00-24:00", "15:00-01:00"])
def test_a_reception_open_past_midnight_is_reached_in_the_evening(hours: str) -> None:
    assert late(hours) == []


def test_who_slept_in_the_house_already_has_a_key() -> None:
    second = walk("i3", backward=True)
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", second, walk("i4"), lodging="birch-house", departs=time(17, 0)),
        day("d3", Rest(id="i5")),
    )
    assert found("reception_open", trip) == []


def test_a_late_key_or_an_earlier_start_settles_a_late_arrival() -> None:
    trip = at_birch(first={"departs": time(17, 40)})
    proved = settled("reception_open", trip, replace(BIRCH, late_key=True))
    assert set(proved) == {"Note the late key that the house offers", "Set out at 17:30"}


def moving(count: int, who: Callable[[int], tuple[str, ...] | None] = lambda _: None) -> Trip:
    names = ("birch-house", "quay-house")
    days: list[Day] = [
        replace(
            day(f"d{number}", walk(f"i{number}"), meals=(Meal(kind=MealKind.DINNER, payer=Payer.OWN),)),
            nights=(Night(lodging=Ref(names[number % 2]), travellers=who(number)),),
        )
        for number in range(1, count + 1)
    ]
    return small_trip(*days, day("d99", Rest(id="i99")))


def test_single_nights_are_reckoned_for_each_guest() -> None:
    alone = moving(4, lambda number: ("t1",) if number == 3 else None)
    (told,) = found("single_nights", alone)
    assert told.travellers == ("t1",)
    assert str(told.says).startswith("Guest 1: 4 single nights in a row from day 1.")
    assert [each.subject for each in found("single_nights", moving(4))] == [(About("day", "d1"),)]


def test_a_second_night_where_there_is_a_dinner_breaks_the_run() -> None:
    """Nights 1, 3 and 5 are at Alder, where nothing is open: another evening there helps nobody."""
    proved = settled("single_nights", moving(5))
    assert proved == ["A second night after day 2", "A second night after day 4"]


def test_what_is_kept_by_catalogue_is_let_go_with_it() -> None:
    asked: list[str] = []

    @per_catalogue
    def greeting(catalogue: Catalogue, name: str) -> str:
        asked.append(name)
        return f"{catalogue.region.name} {name}"

    first, second = small_catalogue(), small_catalogue()
    assert {greeting(first, "a"), greeting(first, "a"), greeting(second, "a")} == {"Test a"}
    assert asked == ["a", "a"]
    del first
    gc.collect()
    assert greeting(second, "a") == "Test a"
    assert len(asked) == 2


def test_a_house_need_not_answer_for_a_bath_and_must_for_a_ground_floor() -> None:
    """A bath is told by the rooms, a ground floor by the house's own answer."""
    (told,) = found("rooms_suit", needing("private bath"), bath(False), OAK)
    assert [str(each.says) for each in told.fixes] == ["Oak House, open"]
    (told,) = found("rooms_suit", needing("ground floor"), OAK)
    assert told.fixes == ()
