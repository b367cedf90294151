"""What drops mean, as values."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.trip.drop import (
    CardPayload,
    DayPayload,
    Drop,
    Gap,
    ItemPayload,
    NoDrop,
    OnDay,
    Payload,
    PayloadRefused,
    StagePayload,
    StayPayload,
    drop,
    from_json,
    to_json,
)
from lacet.trip.trip import Leg, Ride, Trip
from lacet.trip.words import Way
from tests.trip.drop_cases import CASES, STAGE, STANDING, Case, three_days


def cards(trip: Trip) -> list[list[str]]:
    return [[item.id for item in day.items] for day in trip.variants[0].days]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_drop_does_what_the_table_says(case: Case) -> None:
    trip = three_days()
    found = drop(trip, "v", case.payload, case.target, STANDING)
    if case.after is None:
        assert isinstance(found, NoDrop)
        assert found.says
    else:
        assert isinstance(found, Drop)
        assert cards(found.edit(trip)) == case.after


@pytest.mark.parametrize(
    ("target", "backward"),
    [(OnDay(0, 0), False), (OnDay(1), True), (OnDay(2), False)],
    ids=["it begins here", "it ends here", "neither: as the shelf offered it"],
)
def test_a_stage_runs_from_where_the_party_stands(target: OnDay, backward: bool) -> None:
    stage = StagePayload("s9", 1, Way.CYCLING, "p0", "p1")
    found = drop(three_days(), "v", stage, target, STANDING)
    assert isinstance(found, Drop)
    days = found.edit(three_days()).variants[0].days
    (leg,) = [item for day in days for item in day.items if isinstance(item, Leg) and item.stage.id == "s9"]
    assert leg.backward is backward


def test_a_transfer_runs_to_where_it_is_needed_next() -> None:
    found = drop(three_days(), "v", CardPayload("ride"), OnDay(2), STANDING)
    assert isinstance(found, Drop)
    ride = found.edit(three_days()).variants[0].days[2].items[-1]
    assert isinstance(ride, Ride)
    assert ride.from_place == "p3"


def test_a_stage_on_a_half_is_for_those_travellers_only() -> None:
    found = drop(three_days(), "v", STAGE, OnDay(0, None, ("t2",)), STANDING)
    assert isinstance(found, Drop)
    assert found.edit(three_days()).variants[0].days[0].items[-1].travellers == ("t2",)


def test_a_stay_without_a_house_says_why() -> None:
    found = drop(three_days(), "v", StayPayload("a", "inn", 1), Gap(0), STANDING)
    assert isinstance(found, NoDrop)


def test_a_stage_for_one_leaves_the_rest_to_the_other() -> None:
    found = drop(three_days(), "v", STAGE, OnDay(1, None, ("t2",)), STANDING)
    assert isinstance(found, Drop)
    rest, leg = found.edit(three_days()).variants[0].days[1].items
    assert (rest.id, rest.travellers, leg.travellers) == ("i2", ("t1",), ("t2",))


names = st.text(max_size=8)
payloads: st.SearchStrategy[Payload] = st.one_of(
    st.builds(StagePayload, names, st.integers(1, 99), st.sampled_from(Way), names, names, st.booleans()),
    st.builds(CardPayload, st.sampled_from(["rest", "ride", "visit", "note"]), names),
    st.builds(ItemPayload, names),
    st.builds(DayPayload, names),
    st.builds(StayPayload, names, names, st.integers(-9, 9)),
)


@given(payloads)
def test_a_payload_survives_its_journey(payload: Payload) -> None:
    assert from_json(to_json(payload)) == payload


@given(
    st.one_of(st.binary(max_size=60), st.from_regex(r'\{"kind": ?"(stage|item|day|x)".*\}').map(str.encode))
)
def test_what_is_not_ours_is_refused_and_never_raises_anything_else(text: bytes) -> None:
    with suppress(PayloadRefused):
        from_json(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "null",
        '{"kind": []}',
        '{"kind": "train"}',
        '{"kind": "item"}',
        '{"kind": "item", "item": 3}',
        '{"kind": "item", "item": "i1", "more": 1}',
        '{"kind": "card", "card": "train"}',
        '{"kind": "stay", "day": "a", "lodging": "inn", "nights": true}',
        '{"kind": "stage", "stage": "s9", "version": 1, "way": "flying", "from_place": "a", "to_place": "b"}',
    ],
)
def test_a_damaged_payload_is_refused(text: str) -> None:
    with pytest.raises(PayloadRefused):
        from_json(text)
