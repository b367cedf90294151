"""Every item begins where the guests stand, and every day ends where they sleep."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.words import begun, guests
from lacet.trip.edits.items import place_item
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import Group, ItineraryDay, Stretch
from lacet.trip.trip import Ride, Trip

ID = "days_join_up"
SAYS = "A stage or transfer begins where the guests are; the day ends at the place they sleep in."


def check(case: Case) -> Iterator[Finding]:
    for planned in case.itinerary:
        for group in planned.groups:
            yield from _joins_within(case, planned, group)
            yield from _joins_the_bed(case, planned, group)
            yield from _woke_together(case, planned, group)


def _joins_within(case: Case, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    for index, stretch in enumerate(group.stretches):
        here, there = stretch.stands_at, stretch.from_place
        if here is not None and there is not None and here != there:
            yield _gap(
                case, planned, group, here, there, f"item {stretch.item.id}", before=stretch, index=index
            )


def _joins_the_bed(case: Case, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    beds = {bed for bed in group.slept_at if bed is not None}
    for bed in sorted(beds):
        if group.ends_at is not None and group.ends_at != bed:
            yield _gap(case, planned, group, group.ends_at, bed, f"night {bed}", before=None, index=None)


def _woke_together(case: Case, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    woke = {place for place in group.woke_at if place is not None}
    if len(woke) > 1 and group.stretches:
        names = " and ".join(sorted(case.place_name(place) for place in woke))
        yield Finding(
            check=ID,
            level=Level.STOP,
            subject=f"woke {planned.day.id} {' '.join(group.travellers)}",
            day=planned.number,
            travellers=group.travellers,
            says=f"They set out together but wake at {names}. Let them sleep in one place or part this day.",
        )


def _gap(
    case: Case,
    planned: ItineraryDay,
    group: Group,
    here: str,
    there: str,
    subject: str,
    before: Stretch | None,
    index: int | None,
) -> Finding:
    leaves = case.place_name(there)
    what = f"the day goes on from {leaves}" if before is not None else f"they sleep at {leaves}"
    return Finding(
        check=ID,
        level=Level.STOP,
        subject=f"{subject} {planned.day.id}",
        day=planned.number,
        travellers=group.travellers,
        says=f"{begun(guests(case, group.travellers))}: at {case.place_name(here)}, but {what}. "
        "Add a transfer or change the stage.",
        fixes=(_transfer(case, planned, group, here, there, index),),
    )


def _transfer(
    case: Case, planned: ItineraryDay, group: Group, here: str, there: str, index: int | None
) -> Fix:
    """A transfer across the gap, before the item that needs it or at the end of the day."""
    variant_id, day_id = case.variant.id, planned.day.id
    position = len(planned.day.items)
    if index is not None:
        position = planned.day.items.index(group.stretches[index].item)
    everybody = len(planned.groups) == 1
    ride = Ride(id="", from_place=here, to_place=there, travellers=None if everybody else group.travellers)

    def edit(trip: Trip) -> Trip:
        return place_item(trip, variant_id, day_id, ride, position)

    return Fix(says=f"Transfer {case.place_name(here)} to {case.place_name(there)}", edit=edit)
