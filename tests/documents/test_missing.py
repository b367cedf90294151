"""What a proposal lacks is told before it leaves the house.

By the items of Directive (EU) 2015/2302, Article 5(1), as first published (OJ L 326, 11.12.2015): eight
points, (a) to (h), of which (a) has eight of its own; their number was read in a published commentary.
"""

import re
from dataclasses import replace

import pytest

from lacet.assess import assess
from lacet.checks.gathered import gathered
from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.price import price_told
from lacet.documents.material.telling import Telling
from lacet.documents.missing import AN_AID, ITEMS, SOURCE, Weight, may_leave, missing
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue, Office
from lacet.trip.library import Lodging, Tariff
from lacet.trip.party import NOBODY
from lacet.trip.trip import Overrule, Ride, Trip, Variant, Visit
from lacet.trip.words import Payer
from tests.documents.material.island import (
    MADE_AT,
    RULES,
    TODAY,
    assessed,
    inputs_of,
    island,
    made,
    told_from,
    trips,
)

POINTS = ("(a)(i)", "(a)(ii)", "(a)(iii)", "(a)(iv)", "(a)(v)", "(a)(vi)", "(a)(vii)", "(a)(viii)",
          "(b)", "(c)", "(d)", "(e)", "(f)", "(g)", "(h)")  # fmt: skip
TEXTS = {"group": "(a)(vi)", "language": "(a)(vii)", "mobility": "(a)(viii)", "price": "(c)",
         "payment": "(d)", "minimum": "(e)", "passport": "(f)", "health": "(f)",
         "cancellation": "(g)", "insurance": "(h)"}  # fmt: skip


def told(catalogue: Catalogue, trip: Trip | None = None, variant: Variant | None = None) -> Telling:
    chosen = trip or trips()[0]
    one = variant or chosen.variants[0]
    chosen = replace(chosen, variants=tuple(one if each.id == one.id else each for each in chosen.variants))
    inputs = Inputs(chosen, one.id, catalogue, RULES, as_of=TODAY)
    return telling_of(inputs, assess(inputs), language(), revision=3, made_at=MADE_AT)


def points_missing(telling: Telling) -> set[str]:
    return {each.point for each in missing(telling) if each.point}


def without_text(key: str) -> Catalogue:
    office = island().office
    texts = tuple(pair for pair in office.texts if pair[0].partition(".")[0] != key)
    return replace(island(), office=replace(office, texts=texts))


def test_every_item_of_the_article_is_looked_for() -> None:
    assert tuple(dict.fromkeys(item.point for item in ITEMS)) == POINTS
    assert len({point[:3] for point in POINTS}) == 8
    assert sum(point.startswith("(a)") for point in POINTS) == 8
    assert "2015/2302" in SOURCE
    assert "no legal advice" in AN_AID


def test_the_demo_trip_lacks_nothing_the_article_asks_for() -> None:
    assert points_missing(told_from()) == set()
    assert may_leave(missing(told_from()))


@pytest.mark.parametrize(("key", "point"), TEXTS.items())
def test_a_text_the_office_has_not_written_is_told_by_its_point(key: str, point: str) -> None:
    found = missing(told(without_text(key)))
    assert {each.point for each in found if each.point} == {point}
    assert any(key in each.says for each in found)
    assert may_leave(found), "a missing text is told, but doesn't stop"


def test_an_office_nobody_described_is_told() -> None:
    assert "(b)" in points_missing(told(replace(island(), office=Office())))


def test_a_trip_without_dates_lacks_its_dates() -> None:
    assert {"(a)(i)", "(a)(ii)"} <= points_missing(told_from(3, 0))


def test_a_house_without_words_is_told() -> None:
    house = island().latest(Lodging, "weir-farm")
    assert house is not None
    bare = replace(house, text="", address="")
    items = {**island().items, Lodging: {**island().items[Lodging], "weir-farm": {1: bare}}}
    found = missing(told(replace(island(), items=items)))
    assert [each.says for each in found if each.point == "(a)(iii)"] == [
        "Weir Farm: where it is, what it is like."
    ]


def test_a_night_without_a_word_on_dinner_is_told() -> None:
    variant = trips()[0].variants[0]
    day = replace(variant.days[0], meals=())
    changed = replace(variant, days=(day, *variant.days[1:]))
    assert "(a)(iv)" in points_missing(told(island(), variant=changed))


def test_a_transfer_nobody_carries_and_a_visit_without_a_name_are_told() -> None:
    variant = trips()[0].variants[0]
    ride = Ride(id="x1", from_place="port-verrin", to_place="oster")
    visit = Visit(id="x2", name=" ", payer=Payer.INCLUDED)
    day = replace(variant.days[0], items=(*variant.days[0].items, ride, visit))
    changed = replace(variant, days=(day, *variant.days[1:]))
    assert {"(a)(ii)", "(a)(v)", "(c)"} <= points_missing(told(island(), variant=changed))


def test_an_open_stop_keeps_a_proposal_in_the_house() -> None:
    found = missing(told_from(0, 1))
    stops = [finding for finding in assessed(0, 1).findings if finding.open_stop]
    assert len(gathered(stops)) == sum(each.weight is Weight.STOP for each in found) > 0
    assert not may_leave(found)


def test_an_overruled_stop_lets_it_leave() -> None:
    trip = trips()[0]
    variant = trip.variants[1]
    overrules = tuple(
        Overrule(
            check=finding.check,
            code=finding.code,
            subject=finding.subject,
            figure=finding.figure,
            name="Maren",
            reason="agreed",
        )
        for finding in assessed(0, 1).findings
        if finding.open_stop
    )
    changed = replace(variant, overrules=overrules)
    assert may_leave(missing(told(island(), variant=changed)))


def test_a_trip_without_a_party_stays_in_the_house() -> None:
    trip = replace(trips()[0], party=NOBODY)
    assert not may_leave(missing(told(island(), trip)))


def test_a_variant_without_days_stays_in_the_house() -> None:
    trip = trips()[0]
    empty = replace(trip.variants[0], days=(), hires=())
    lacks = missing(told(island(), replace(trip, variants=(empty,)), empty))
    assert [each.says[:27] for each in lacks if each.weight is Weight.STOP] == ["The variant has no days yet"]
    assert not may_leave(lacks)


def test_each_thing_missing_is_one_sentence() -> None:
    for each in missing(told(replace(island(), office=Office()))):
        assert re.search(r"[.)]$", each.says), each.says


def test_texts_that_are_there_in_another_language_only_are_told() -> None:
    office = island().office
    texts = tuple(pair for pair in office.texts if pair[0] != "health.de")
    catalogue = replace(island(), office=replace(office, texts=texts))
    inputs = replace(inputs_of(), catalogue=catalogue)
    german, english = (
        missing(telling_of(inputs, assessed(), language(tag), revision=3, made_at=MADE_AT))
        for tag in ("de", "en")
    )
    assert any("'health.de'" in each.says for each in german)
    assert not any("in this language" in each.says for each in (*english, *missing(told_from(tag="de"))))


def test_a_trip_sold_by_an_agent_names_them_and_asks_for_their_address() -> None:
    trip = replace(trips()[0], agent="Harbour Travel")
    assert any("retailer, Harbour Travel" in each.says for each in missing(told(island(), trip)))
    names = [(contact.role, contact.name) for contact in made(trip, trip.variants[0]).contacts]
    assert ("Your travel agent", "Harbour Travel") in names


def test_a_price_of_which_nothing_is_known_is_no_offer_and_never_zero() -> None:
    bare = replace(
        island(), items={kind: rows for kind, rows in island().items.items() if kind is not Tariff}
    )
    telling = told(bare)
    stops = [each.says for each in missing(telling) if each.weight is Weight.STOP]
    assert any("Nothing in it has a price" in says for says in stops)
    price = price_told(telling)
    assert price.total == "Price on request"
    assert (price.by_room, price.by_guest, price.payments) == ((), (), ())
    assert telling.prices.nothing_known
