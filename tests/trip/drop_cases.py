"""One table of drops: what is picked up, where it is let go, and which cards then stand on which day.

Read by the pure test and by the test of the widget, so that both mean the same. The trip has three days:
`a` (a leg i1), `b` (a rest i2), `c` (legs i3 and i4). Places run p0 -> p1 -> p1 -> p2 -> p3.
"""

from typing import NamedTuple

from lacet.trip.drop import (
    CardPayload,
    DayPayload,
    Gap,
    ItemPayload,
    OnDay,
    Out,
    Payload,
    StagePayload,
    Standing,
    Target,
)
from lacet.trip.library import Ref
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Leg, Rest, Trip, Variant
from lacet.trip.words import Way

STANDING = Standing(mornings=("p0", "p1", "p1", "p3"), evenings=("p1", "p1", "p3"))
STAGE = StagePayload("s9", 1, Way.WALKING, "p1", "p9")


def three_days() -> Trip:
    """The trip of the table."""

    def leg(item_id: str, stage: str) -> Leg:
        return Leg(id=item_id, stage=Ref(stage), way=Way.WALKING)

    days = (
        Day(id="a", items=(leg("i1", "s1"),)),
        Day(id="b", items=(Rest(id="i2"),)),
        Day(id="c", items=(leg("i3", "s3"), leg("i4", "s4"))),
    )
    return Trip(
        id="t", name="T", party=placeholder_party(2), variants=(Variant(id="v", name="V", days=days),)
    )


class Case(NamedTuple):
    """`after` lists the cards of each day; None = no meaning."""

    name: str
    payload: Payload
    target: Target
    after: list[list[str]] | None


CASES = (
    Case("a stage before all days", STAGE, Gap(0), [["i5"], ["i1"], ["i2"], ["i3", "i4"]]),
    Case("a stage between days", STAGE, Gap(2), [["i1"], ["i2"], ["i5"], ["i3", "i4"]]),
    Case("a stage after all days", STAGE, Gap(3), [["i1"], ["i2"], ["i3", "i4"], ["i5"]]),
    Case("a stage takes the place of a rest", STAGE, OnDay(1), [["i1"], ["i5"], ["i3", "i4"]]),
    Case("a stage after a card", STAGE, OnDay(0, 1), [["i1", "i5"], ["i2"], ["i3", "i4"]]),
    Case("a stage before a card", STAGE, OnDay(0, 0), [["i5", "i1"], ["i2"], ["i3", "i4"]]),
    Case("a stage between two cards", STAGE, OnDay(2, 1), [["i1"], ["i2"], ["i3", "i5", "i4"]]),
    Case("a stage off the sheet", STAGE, Out(), None),
    Case("a stage on a day that isn't there", STAGE, OnDay(7), None),
    Case("a rest day between days", CardPayload("rest"), Gap(1), [["i1"], ["i5"], ["i2"], ["i3", "i4"]]),
    Case("a card to another day", ItemPayload("i1"), OnDay(2, 1), [[], ["i2"], ["i3", "i1", "i4"]]),
    Case("a card past its neighbour", ItemPayload("i3"), OnDay(2, 2), [["i1"], ["i2"], ["i4", "i3"]]),
    Case("a card where it stands", ItemPayload("i3"), OnDay(2, 0), None),
    Case("a card to a day of its own", ItemPayload("i4"), Gap(3), [["i1"], ["i2"], ["i3"], ["i4"]]),
    Case("a card out", ItemPayload("i2"), Out(), [["i1"], [], ["i3", "i4"]]),
    Case("a card that isn't there", ItemPayload("i99"), OnDay(0), None),
    Case("a day forward", DayPayload("a"), Gap(2), [["i2"], ["i1"], ["i3", "i4"]]),
    Case("a day to the end", DayPayload("a"), Gap(3), [["i2"], ["i3", "i4"], ["i1"]]),
    Case("a day back", DayPayload("c"), Gap(0), [["i3", "i4"], ["i1"], ["i2"]]),
    Case("a day beside itself", DayPayload("b"), Gap(2), None),
    Case("a day out", DayPayload("b"), Out(), [["i1"], ["i3", "i4"]]),
)
