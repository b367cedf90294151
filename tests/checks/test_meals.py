"""Dinners and what guests must be served: at every meal, where much is unknown, and what mends it."""

from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.checks.kitchens import DINNER_AT
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import DietAnswer, LibraryItem, Lodging, Ref, Restaurant
from lacet.trip.party import ALLERGENS, FREE_FROM, Need
from lacet.trip.trip import Meal, Night, Rest, Trip
from lacet.trip.words import Answer, Board, MealKind, NeedLevel, Payer, Service
from tests.small_library import METRES_PER_DEGREE, day, items, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
GLUTEN = "cereals containing gluten"
SERVES = (DietAnswer(GLUTEN, Answer.YES),)


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


BIRCH: Lodging = replace(known(Lodging, "birch-house"), serves_dinner=False, diets=SERVES)
NET_LOFT: Restaurant = known(Restaurant, "net-loft")
OTHER = replace(NET_LOFT, id="tar-shed", name="Tar Shed")
AT_NET_LOFT = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))
OWN = Meal(kind=MealKind.DINNER, payer=Payer.OWN)
LUNCH = Meal(kind=MealKind.PACKED_LUNCH, at_lodging=True)


def catalogue(*library: LibraryItem) -> Catalogue:
    return small_catalogue(BIRCH, *library)


def assessed(trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS) -> Assessment:
    return assess(Inputs(trip, "v1", catalogue(*library), RULES, taken, as_of=AS_OF))


def found(
    check: str, trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS
) -> list[Finding]:
    return [each for each in assessed(trip, *library, taken=taken).findings if each.check == check]


def settled(check: str, trip: Trip, *library: LibraryItem) -> list[str]:
    before = assessed(trip, *library)
    told = next(each for each in before.findings if each.check == check)
    inputs = Inputs(trip, "v1", catalogue(*library), RULES, as_of=AS_OF)
    return [str(each.says) for each in settle(inputs, before)[before.findings.index(told)]]


def evening(*meals: Meal, board: Board = Board.BREAKFAST, **more: Any) -> Trip:
    """Saturday 8 May 2027 at Birch House."""
    first = replace(
        day("d1", walk("i1"), meals=meals, briefing=True),
        nights=(Night(lodging=Ref("birch-house"), board=board),),
    )
    return small_trip(first, day("d2", Rest(id="i2")), **more)


def hungry(trip: Trip, kind: str = GLUTEN, level: NeedLevel = NeedLevel.MUST) -> Trip:
    first, *others = trip.party.travellers
    return replace(
        trip,
        party=replace(
            trip.party, travellers=(replace(first, needs=(Need(kind=kind, level=level),)), *others)
        ),
    )


@pytest.mark.parametrize("board", [Board.HALF_BOARD, Board.FULL_BOARD])
def test_half_board_has_its_dinner_in_the_house(board: Board) -> None:
    cooks = replace(BIRCH, serves_dinner=True)
    assert found("dinner_found", evening(board=board), cooks) == []
    (told,) = found("dinner_found", evening(board=board))
    assert str(told.says).startswith("Birch House serves no dinner.")


@pytest.mark.parametrize(
    ("opening", "closed", "says"),
    [
        ("Su-Fr 18:00-22:00", (), "on Saturday evenings"),
        ("Mo-Su 18:00-22:00; 2027 May 08 off", (), "on the evening of Saturday 8 May"),
        ("Mo-Su 18:00-22:00", ("05-01..05-20",), "then (from 1 May to 20 May)"),
    ],
)
def test_a_closed_kitchen_says_when(opening: str, closed: tuple[str, ...], says: str) -> None:
    (told,) = found("dinner_found", evening(AT_NET_LOFT), replace(NET_LOFT, opening=opening, closed=closed))
    assert str(told.says) == f"Net Loft is closed {says}. Choose another kitchen."


def test_a_kitchen_closed_on_a_public_holiday_says_which() -> None:
    holidays = replace(catalogue().region, holidays=("05-08 Landing Day",))
    library = replace(catalogue(replace(NET_LOFT, opening="Mo-Su 18:00-22:00; PH off")), region=holidays)
    told = assess(Inputs(evening(AT_NET_LOFT), "v1", library, RULES, as_of=AS_OF)).findings
    assert "Net Loft is closed on Landing Day. Choose another kitchen." in [str(each.says) for each in told]


@pytest.mark.parametrize(
    ("payer", "other_open", "level"),
    [
        (Payer.INCLUDED, True, Level.STOP),
        (Payer.LOCALLY, True, Level.STOP),
        (Payer.OWN, False, Level.WARN),
        (Payer.OWN, True, Level.NOTE),
    ],
)
def test_a_closed_kitchen_weighs_by_who_arranged_it(payer: Payer, other_open: bool, level: Level) -> None:
    shut = replace(NET_LOFT, opening="Su-Fr 18:00-22:00")
    library = (shut, OTHER) if other_open else (shut,)
    (told,) = found("dinner_found", evening(replace(AT_NET_LOFT, payer=payer)), *library)
    assert told.level is level


def test_another_kitchen_or_a_later_start_settles_a_closed_one() -> None:
    shut = replace(NET_LOFT, opening="Su-Fr 18:00-22:00")
    assert settled("dinner_found", evening(AT_NET_LOFT), shut, OTHER) == [
        "Tar Shed, open",
        "Start a day later, on Sunday 9 May",
    ]


def test_the_nearest_kitchens_come_first_and_none_beyond_two_kilometres() -> None:
    def away(metres: float, name: str) -> Restaurant:
        return replace(
            OTHER, id=name, name=name, latitude_deg=OTHER.latitude_deg + metres / METRES_PER_DEGREE
        )

    (told,) = found("dinner_found", evening(), away(900.0, "B"), away(300.0, "A"), away(2_100.0, "C"))
    assert [str(each.says) for each in told.fixes] == ["Net Loft, open", "A, open", "B, open"]


@pytest.mark.parametrize(
    ("opening", "start", "says"),
    [
        ("", date(2027, 5, 8), "nobody has said when it is open"),
        ("Mo-Su 18:00-22:00", None, "nobody can tell without a date"),
        ("18:00+", date(2027, 5, 8), "its hours leave open"),
    ],
)
def test_hours_that_nobody_knows_are_unknown(opening: str, start: date | None, says: str) -> None:
    at = replace(AT_NET_LOFT, at=time(20, 30))
    (told,) = found("dinner_found", evening(at, start=start), replace(NET_LOFT, opening=opening))
    assert (told.level, told.unknown) == (Level.NOTE, True)
    assert says in str(told.says)


def test_a_house_that_has_not_said_whether_it_cooks_is_unknown_and_no_stop() -> None:
    at_house = Meal(kind=MealKind.DINNER, at_lodging=True)
    (told,) = found("dinner_found", evening(at_house), replace(BIRCH, serves_dinner=None))
    assert (told.level, told.unknown) == (Level.WARN, True)


@pytest.mark.parametrize(
    ("house", "kitchen", "level", "unknown"),
    [
        (BIRCH, replace(NET_LOFT, opening="Su 18:00-22:00"), Level.WARN, False),
        (BIRCH, replace(NET_LOFT, opening=""), Level.NOTE, True),
        (replace(BIRCH, serves_dinner=None), replace(NET_LOFT, place="alder"), Level.NOTE, True),
        (replace(BIRCH, serves_dinner=True), replace(NET_LOFT, place="alder"), None, False),
        (BIRCH, NET_LOFT, None, False),
    ],
)
def test_guests_who_choose_dinner_themselves_need_something_open(
    house: Lodging, kitchen: Restaurant, level: Level | None, unknown: bool
) -> None:
    told = found("dinner_found", evening(OWN), house, kitchen)
    assert [(each.level, each.unknown) for each in told] == ([(level, unknown)] if level else [])


def test_seats_count_everybody_at_the_table_and_those_of_other_trips() -> None:
    taken = Commitments(taken={(Service.RESTAURANT, "net-loft", "", date(2027, 5, 8)): 38})
    apart = tuple(replace(AT_NET_LOFT, travellers=(who,)) for who in ("t1", "t2"))
    assert found("dinner_found", evening(*apart), taken=taken) == []
    (told,) = found("dinner_found", evening(*apart), replace(NET_LOFT, seats=39), taken=taken)
    assert (told.figure, told.limit, told.level) == (2.0, 1.0, Level.STOP)


def slept_and_left(*meals: Meal, board: Board = Board.BREAKFAST) -> Trip:
    """A night at Birch House, then a packed lunch on the way to Alder."""
    trip = evening(OWN, board=board)
    days = trip.variants[0].days
    left = replace(days[1], meals=meals)
    return replace(trip, variants=(replace(trip.variants[0], days=(days[0], left)),))


def test_a_packed_lunch_is_made_in_the_house_where_guests_woke() -> None:
    silent = replace(BIRCH, diets=())
    told = found("needs_served", hungry(slept_and_left(LUNCH)), silent, replace(NET_LOFT, diets=SERVES))
    assert [(each.day, each.subject[-1].id) for each in told] == [
        (2, "breakfast"),
        (2, "packed_lunch"),
    ]
    assert all("Birch House" in str(each.says) and each.unknown for each in told)


def test_no_breakfast_is_looked_for_where_none_is_taken() -> None:
    silent = replace(BIRCH, diets=())
    trip = hungry(slept_and_left(board=Board.ROOM_ONLY))
    assert found("needs_served", trip, silent, replace(NET_LOFT, diets=SERVES)) == []


def test_breakfast_elsewhere_is_that_kitchens_matter() -> None:
    out = Meal(kind=MealKind.BREAKFAST, restaurant=Ref("net-loft"))
    trip = hungry(slept_and_left(out))
    assert found("needs_served", trip, replace(BIRCH, diets=()), replace(NET_LOFT, diets=SERVES)) == []


@pytest.mark.parametrize(
    ("need", "answer", "level"),
    [
        (NeedLevel.MUST, None, Level.STOP),
        (NeedLevel.MUST, Answer.NO, Level.STOP),
        (NeedLevel.MUST, Answer.ON_REQUEST, Level.WARN),
        (NeedLevel.MUST, Answer.YES, None),
        (NeedLevel.PREFERS, None, Level.WARN),
        (NeedLevel.PREFERS, Answer.NO, Level.WARN),
        (NeedLevel.PREFERS, Answer.ON_REQUEST, Level.NOTE),
        (NeedLevel.PREFERS, Answer.YES, None),
    ],
)
@pytest.mark.parametrize("kind", [*ALLERGENS, "vegan"])
def test_every_need_weighs_by_what_the_kitchen_has_said(
    kind: str, need: NeedLevel, answer: Answer | None, level: Level | None
) -> None:
    said = () if answer is None else (DietAnswer(kind, answer),)
    trip = hungry(evening(AT_NET_LOFT), kind, need)
    told = found(
        "needs_served",
        trip,
        replace(NET_LOFT, diets=said),
        replace(BIRCH, diets=(DietAnswer(kind, Answer.YES),)),
    )
    assert [each.level for each in told] == ([level] if level else [])
    for each in told:
        assert each.unknown is (answer is None)
        assert each.source == (
            "Regulation (EU) No 1169/2011, Annex II" if kind in ALLERGENS else COMMON_PRACTICE
        )
        assert str(each.says).startswith(FREE_FROM.get(kind, kind)[:1].upper())
        assert each.says.named["who"] == "Guest 1"


def test_only_kitchens_that_serve_all_who_eat_together_are_offered() -> None:
    trip = hungry(evening(AT_NET_LOFT))
    first, second = trip.party.travellers
    both = replace(
        trip,
        party=replace(
            trip.party, travellers=(first, replace(second, needs=(Need(kind="vegan", level=NeedLevel.MUST),)))
        ),
    )
    gluten_only = replace(OTHER, diets=SERVES)
    for_all = replace(OTHER, id="well", name="The Well", diets=(*SERVES, DietAnswer("vegan", Answer.YES)))
    cooks = replace(BIRCH, diets=for_all.diets)
    assert settled("needs_served", both, gluten_only, for_all, cooks) == ["The Well, open"]
    assert settled("needs_served", trip, gluten_only) == ["Tar Shed, open"]


def test_another_house_settles_a_breakfast() -> None:
    trip = hungry(slept_and_left())
    silent = replace(BIRCH, diets=())
    oak = replace(BIRCH, id="oak-house", name="Oak House")
    assert settled("needs_served", trip, silent, oak, replace(NET_LOFT, diets=SERVES)) == ["Oak House, open"]


def test_a_guest_who_looks_for_dinner_alone_needs_a_kitchen_that_serves_them() -> None:
    (told,) = found("needs_served", hungry(evening(OWN)))
    assert (told.level, told.unknown) == (Level.WARN, True)
    assert "no kitchen near Birch House is known to cater for it" in str(told.says)
    assert found("needs_served", hungry(evening(OWN)), replace(NET_LOFT, diets=SERVES)) == []
    assert found("needs_served", hungry(evening(OWN), level=NeedLevel.PREFERS)) == []


def test_guests_a_restaurant_does_not_serve_may_eat_where_they_sleep() -> None:
    trip = hungry(evening(AT_NET_LOFT))
    assert "Dinner at Birch House" in settled("needs_served", trip, replace(BIRCH, serves_dinner=True))
    silent = replace(BIRCH, serves_dinner=True, diets=())
    fixes = [str(fix.says) for told in found("needs_served", trip, silent) for fix in told.fixes]
    assert "Dinner at Birch House" not in fixes


def test_another_kitchen_keeps_the_hour_that_was_agreed() -> None:
    def moved(**more: Any) -> time | None:
        trip = evening(replace(AT_NET_LOFT, **more))
        (told,) = found("dinner_found", trip, replace(NET_LOFT, opening="Su-Fr 18:00-22:00"), OTHER)
        other = next(fix for fix in told.fixes if str(fix.says) == "Tar Shed, open")
        return other.edit(trip).variants[0].days[0].meals[0].at

    assert moved(at=time(20, 15)) == time(20, 15)
    assert moved() == DINNER_AT
