"""What a form holds and what it makes of it, without Qt: the same item, or what is wrong in sentences."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.service.library.changes import differences, set_on_many, settable
from lacet.service.library.fields import BY_NAME, KINDS, DeskKind, Draft, draft_of, read, slug
from lacet.trip.library import Lodging, Room, Stage, StageWay, Tariff
from lacet.trip.words import Footing, Way
from tests.intake.sheet_strategies import fields_of, parts_of
from tests.small_library import items

NAMES = {
    "places": {"alder": "Alder", "birch": "Birch", "cedar": "Cedar"},
    "lodgings": {"quay-house": "Quay House"},
}
QUAY = next(item for item in items() if isinstance(item, Lodging) and item.id == "quay-house")


def changed(kind: DeskKind, item: Any, **texts: str) -> tuple[Any, dict[str, str]]:
    """What a form makes of an item after some fields were typed into; what is wrong by field."""
    draft = draft_of(kind, item)
    made, troubles = read(kind, Draft({**draft.texts, **texts}, draft.rows), item, "new", NAMES)
    return made, {each.field: each.says for each in troubles}


@pytest.mark.parametrize("item", items(), ids=lambda item: item.id)
def test_a_form_that_nobody_touched_makes_the_same_item(item: Any) -> None:
    kind = next(kind for kind in KINDS if kind.makes is type(item))
    assert read(kind, draft_of(kind, item), item, item.id, NAMES) == (item, [])


def test_every_column_of_a_sheet_has_a_field_or_a_table() -> None:
    """Laid on the ground, a stage's surfaces stand under each way; its first closure is in the table."""
    elsewhere = {
        "id",
        "retired",
        "track",
        "surface",
        "traffic",
        "closed_season",
        "closed_level",
        "closed_text",
    }
    for kind in KINDS:
        shown = {column.name for column in kind.columns} | {part.field for part in kind.parts}
        assert {column.name for column in kind.sheet.written} - elsewhere <= shown, kind.name


def test_an_empty_form_says_what_is_needed_and_where() -> None:
    made, troubles = read(BY_NAME["lodgings"], draft_of(BY_NAME["lodgings"], None), None, "new", NAMES)
    assert made is None
    assert [each.field for each in troubles] == ["name", "place", "latitude", "longitude"]
    assert all(each.says.startswith("This is needed") for each in troubles)


def test_a_new_item_is_made_of_what_is_needed_alone() -> None:
    texts = {"name": "Gull Inn", "place": "alder", "latitude": "44.2", "longitude": "-24.6"}
    kind = BY_NAME["lodgings"]
    made, _ = read(kind, Draft({**draft_of(kind, None).texts, **texts}, {}), None, "gull-inn", NAMES)
    assert made == Lodging(
        id="gull-inn", name="Gull Inn", place="alder", latitude_deg=44.2, longitude_deg=-24.6
    )


def test_unknown_stays_unknown_and_an_emptied_field_becomes_so() -> None:
    assert QUAY.charging is False
    made, _ = changed(BY_NAME["lodgings"], QUAY, charging="")
    assert made == replace(QUAY, charging=None)


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("check_in", "three o'clock", "clock times"),
        ("latitude", "144.2", "between -90 and 90"),
        ("place", "nowhere", "The library has no place 'nowhere'"),
        ("closed", "winter", "can't be read"),
        ("charging", "perhaps", "isn't yes or no"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field(field: str, text: str, says: str) -> None:
    made, troubles = changed(BY_NAME["lodgings"], QUAY, **{field: text})
    assert made is None
    assert list(troubles) == [field]
    assert says in troubles[field]


def test_rows_of_a_table_are_read_and_told_by_row_and_column() -> None:
    kind = BY_NAME["lodgings"]
    draft = draft_of(kind, QUAY)
    rows = (*draft.rows["rooms"], ("", "", "", "", ""), ("attic", "two", "1", "", "yes"))
    made, troubles = read(kind, Draft(draft.texts, {**draft.rows, "rooms": rows}), QUAY, QUAY.id, NAMES)
    assert made is None
    assert [(each.field, each.row, each.column) for each in troubles] == [("rooms", 3, "sleeps")]
    rows = (*draft.rows["rooms"], ("attic", "2", "1", "", ""))
    made, _ = read(kind, Draft(draft.texts, {**draft.rows, "rooms": rows}), QUAY, QUAY.id, NAMES)
    assert made.rooms[-1] == Room(kind="attic", sleeps=2, count=1)


def test_a_tariff_needs_a_rate_an_end_after_its_beginning_and_what_it_is_for() -> None:
    kind = BY_NAME["tariffs"]
    texts = dict(draft_of(kind, None).texts) | {
        "name": "Summer", "service": "lodging", "subject": "moon", "valid_from": "2027-05-01",
        "valid_to": "2027-04-01",
    }  # fmt: skip
    _, troubles = read(kind, Draft(texts, {"rates": ()}), None, "summer", NAMES)
    assert {each.field for each in troubles} == {"valid_to", "subject", "rates"}
    texts |= {"subject": "quay-house", "valid_to": "2027-10-31"}
    rate = dict.fromkeys((column.name for column in kind.parts[0].columns), "")
    rate |= {"unit": "room_night", "amount": "80", "currency": "EUR"}
    made, troubles = read(kind, Draft(texts, {"rates": (tuple(rate.values()),)}), None, "summer", NAMES)
    assert troubles == []
    assert isinstance(made, Tariff)
    assert made.rates[0].minimum_nights == 1


def test_what_is_underfoot_is_kept_for_each_way_of_a_stage() -> None:
    kind = BY_NAME["stages"]
    stage = next(item for item in items() if isinstance(item, Stage))
    made, _ = changed(kind, stage, ways="cycling", footing_cycling="rough", surface_cycling="0-1.5 path")
    assert [facts.way for facts in made.ways] == [Way.CYCLING]
    assert made.ways[0].footing is Footing.ROUGH
    assert made.ways[0].surfaces[0].to_m == 1_500.0


class Anything(dict[str, str]):
    """A library that has whatever is asked for."""

    def __contains__(self, key: object) -> bool:
        return True


@st.composite
def an_item(draw: st.DrawFn) -> Any:
    """An item as a sheet can hold it, with a few rows in each of its tables that are sheets too."""
    kind = draw(st.sampled_from(KINDS))
    known = draw(fields_of(kind.sheet)) | {"id": "one"}
    parts = {
        part.field: tuple(draw(st.lists(parts_of(part.sheet), min_size=1, max_size=2)))
        for part in kind.parts
        if part.sheet.parent and part.field != "closures"
    }
    return kind.makes(**kind.sheet.take(known), **parts, **({"track_id": ""} if kind.makes is Stage else {}))


@given(an_item())
def test_whatever_a_sheet_can_hold_comes_through_a_form_unchanged(item: Any) -> None:
    kind = next(kind for kind in KINDS if kind.makes is type(item))
    everything = {each.name: Anything() for each in KINDS}
    made, troubles = read(kind, draft_of(kind, item), item, item.id, everything)
    beyond = {"It ends before it begins.", "The tallest rider is shorter than the shortest."}
    assert {each.says for each in troubles} <= beyond
    assert made == item or troubles


def test_an_id_comes_from_the_name_and_is_never_taken_twice() -> None:
    assert slug("The Gull & Anchor", {}) == "the-gull-anchor"
    assert slug("Gull Inn", {"gull-inn": "", "gull-inn-2": ""}) == "gull-inn-3"
    assert slug("…", {}) == "new"


def test_differences_name_field_old_and_new() -> None:
    new = replace(QUAY, breakfast="08:00-10:00", rooms=QUAY.rooms[:1], retired=True)
    assert differences(BY_NAME["lodgings"], QUAY, new) == (
        "Breakfast: '07:30-10:00' → '08:00-10:00'",
        "Rooms: 2 → 1 rows",
        "retired",
    )


def test_one_field_is_tried_on_many_before_anything_is_kept() -> None:
    kind = BY_NAME["lodgings"]
    column = next(each for each in settable(kind) if each.name == "charging")
    houses = [item for item in items() if isinstance(item, Lodging)]
    would = set_on_many(kind, column, "yes", houses, NAMES)
    assert [(each.before.id, each.changes) for each in would] == [
        ("quay-house", True), ("birch-house", False), ("cedar-inn", True),
    ]  # fmt: skip
    assert all(each.after.charging is True for each in would)
    assert all(each.after is None for each in set_on_many(kind, column, "perhaps", houses, NAMES))


def test_setting_a_bikes_surface_on_a_footpath_says_that_it_has_none() -> None:
    kind = BY_NAME["stages"]
    column = next(each for each in settable(kind) if each.name == "footing_cycling")
    path = Stage(
        id="path", name="Path", from_place="alder", to_place="birch", track_id="",
        ways=(StageWay(way=Way.WALKING),),
    )  # fmt: skip
    (would,) = set_on_many(kind, column, "even", [path], NAMES)
    assert not would.changes
    assert would.says == "it isn't meant for that way"
