"""Whose words each text of a trip holds, and that a standard trip keeps none of the client's."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from itertools import count
from typing import Any, get_args, get_type_hints

import pytest

from lacet.trip import edits
from lacet.trip.bookings import Bookings
from lacet.trip.library import Ref
from lacet.trip.party import Party, Traveller
from lacet.trip.texts import Holds, marks_of, rewritten, words_in
from lacet.trip.trip import (
    About,
    Alternative,
    Day,
    Hire,
    Leg,
    Night,
    Note,
    Overrule,
    Rest,
    RoomUse,
    Trip,
    Variant,
    Visit,
)
from lacet.trip.words import Reason, Way


def kinds_within(kind: Any) -> Iterator[type]:
    """Every dataclass a type is made of, itself among them."""
    if is_dataclass(kind) and isinstance(kind, type):
        yield kind
        for hint in get_type_hints(kind).values():
            yield from kinds_within(hint)
    for part in get_args(kind):
        yield from kinds_within(part)


def has_text(hint: Any) -> bool:
    return hint is str or any(has_text(part) for part in get_args(hint))


KINDS = sorted({*kinds_within(Trip), *kinds_within(Bookings)}, key=lambda kind: kind.__name__)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_text_of_a_trip_says_whose_words_it_holds(kind: type) -> None:
    hints = get_type_hints(kind)
    texts = {field.name for field in fields(kind) if has_text(hints[field.name])}
    assert texts == {name for name, mark in marks_of(kind).items() if mark is not None}


def trip() -> Trip:
    """A trip with a word of the client's in every text that may hold one, which `client_words` collects."""
    items = (
        Leg(id="i1", stage=Ref("moor"), way=Way.WALKING, travellers=("marigold",)),
        Visit(id="i2", name="Salt museum"),
        Visit(id="i3", name="Cake for Marigold"),
        Rest(id="i4", says="she turns sixty"),
        Note(id="i5", says="Marigold Quillfeather turns sixty"),
    )
    other = Alternative(id="a1", reason=Reason.SHORTER, items=items, says="if she tires")
    night = Night(lodging=Ref("weir"), rooms=(RoomUse(kind="double", travellers=("marigold",)),))
    day = Day(id="d1", items=items, alternatives=(other,), nights=(night,), note="her birthday")
    overrule = Overrule(
        check="c",
        code="x",
        subject=(About("guest", "marigold"),),
        figure=None,
        name="Me",
        reason="she is fit",
    )
    variant = Variant(
        id="v1", name="For the Quillfeathers", days=(day,), hires=(Hire(traveller="marigold"),),
        overrules=(overrule,), note="pays late",
    )  # fmt: skip
    guest = Traveller(id="marigold", name="Marigold Quillfeather", email="m@guests.example")
    party = Party(name="The Quillfeathers", travellers=(guest,), sharing=(("marigold",),), address="Row 1")
    return Trip(
        id="quillfeather-in-may", name="Quillfeather in May", party=party, variants=(variant,),
        agent="Moor & Sons", started_from="older", note="met in March",
    )  # fmt: skip


def test_a_standard_trip_keeps_no_word_of_the_client() -> None:
    told: list[str] = []
    standard = edits.as_standard(trip(), "v1", "trip-1", "Moor and salt")

    def note(whose: Holds, text: str) -> str:
        told.extend([text] if whose is Holds.CLIENT and text else [])
        return text

    rewritten(standard, note)
    assert told == ["Moor and salt"]
    for word in ("marigold", "quillfeather", "birthday", "sixty", "tires", "pays", "sons", "older", "fit"):
        assert word not in repr(standard).casefold()
    items = standard.variants[0].days[0].items
    assert [type(item) for item in items] == [Leg, Visit, Visit, Rest]
    assert [item.name for item in items if isinstance(item, Visit)] == ["Salt museum", "Unnamed"]
    assert items[0].travellers == ("t1",)
    assert standard.party.sharing == (("t1",),)


def test_ids_of_trips_say_nothing_of_anybody_and_are_never_taken_twice() -> None:
    numbers = count(1)
    assert edits.fresh_trip_id({"trip-1"}, lambda: str(next(numbers))) == "trip-2"
    assert edits.fresh_trip_id({"trip-x", "trip-2"}, lambda: "x") == "trip-3"


def test_words_are_whole_and_without_case_or_accents() -> None:
    assert words_in("Ysolde Märkwardt's STRASSE, 4") == ("ysolde", "markwardt", "s", "strasse", "4")
    assert words_in("Ma\u0308rkwardt") == words_in("Märkwardt")
    assert "bo" not in words_in("a bold boat")
