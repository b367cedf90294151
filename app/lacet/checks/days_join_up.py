"""Every item begins where the guests stand, and every day ends where they sleep.

A leg that is cut ends or begins on the way: somebody has to fetch the guests there, or bring them, unless the
next leg goes on from that very point. A stage the library doesn't hold has no ends to compare; that it is
missing is told by `heights_known`.
"""

from collections.abc import Iterator
from functools import partial

from lacet.checks.case import DayCase
from lacet.checks.mending import ride_between
from lacet.checks.words import guests
from lacet.language import Text, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level, subject
from lacet.trip.itinerary import Group, ItineraryDay, Stretch
from lacet.trip.library import Stage
from lacet.trip.trip import Leg, Ride, Trip
from lacet.trip.words import Way

ID = "days_join_up"
SAYS = "A stage or transfer begins where the guests are; the day ends at the place they sleep in."
SAME_POINT_M = 100.0


def check_day(case: DayCase) -> Iterator[Finding]:
    planned = case.planned
    for group in planned.groups:
        yield from _joins_within(case, planned, group)
        yield from _joins_on_the_way(case, planned, group)
        yield from _joins_the_bed(case, planned, group)
        yield from _woke_together(case, planned, group)


def _joins_within(case: DayCase, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    for stretch in group.stretches:
        here, there = stretch.stands_at, stretch.from_place
        if here is not None and there is not None and here != there:
            what = to_say(
                "at {here}, but the day goes on from {there}",
                here=case.place_name(here),
                there=case.place_name(there),
            )
            fixes = (_transfer(case, planned, group, here, there, stretch),)
            yield _stop(case, planned, group, "gap", ("item", stretch.item.id), what, fixes)


def _joins_the_bed(case: DayCase, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    here = group.ends_at
    for bed in sorted({bed for bed in group.slept_at if bed is not None}):
        if here is not None and here != bed:
            what = to_say(
                "at {here}, but they sleep at {bed}", here=case.place_name(here), bed=case.place_name(bed)
            )
            fixes = (_transfer(case, planned, group, here, bed, None),)
            yield _stop(case, planned, group, "bed_elsewhere", ("place", bed), what, fixes)


def _joins_on_the_way(case: DayCase, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    left_off: Leg | None = None
    fetched = False
    for stretch in group.stretches:
        item = stretch.item
        if isinstance(item, Ride):
            left_off, fetched = None, True
            continue
        begins_midway = isinstance(item, Leg) and _known(case, item) and _start_m(item) is not None
        if left_off is not None and (begins_midway or stretch.from_place is not None):
            if not (begins_midway and isinstance(item, Leg) and _goes_on(left_off, item)):
                yield _fetch(case, planned, group, left_off, stretch.from_place, stretch)
        elif begins_midway and isinstance(item, Leg) and not fetched:
            yield _bring(case, planned, group, item, stretch)
        if isinstance(item, Leg):
            left_off = item if _known(case, item) and _end_m(item) is not None else None
            fetched = False
        elif stretch.to_place is not None:
            left_off, fetched = None, False
    if left_off is not None:
        beds = {bed for bed in group.slept_at if bed is not None}
        yield _fetch(case, planned, group, left_off, beds.pop() if len(beds) == 1 else None, None)


def _fetch(
    case: DayCase, planned: ItineraryDay, group: Group, leg: Leg, there: str | None, before: Stretch | None
) -> Finding:
    """Nobody fetches the guests from where a cut leg ends."""
    stage = case.catalogue.need(Stage, leg.stage)
    what = to_say(
        "{stage} ends on the way, {end_m:length} from its start, and nobody fetches them",
        stage=stage.name,
        end_m=_end_m(leg),
    )
    # The sheet has no place there: the ride is planned from the stage's end it is cut off from.
    here, start = (stage.from_place, stage.to_place)[:: 1 if leg.backward else -1]
    here = start if here == there else here
    fixes = () if there is None else (_transfer(case, planned, group, here, there, before),)
    return _stop(case, planned, group, "not_fetched", ("leg", leg.id), what, fixes)


def _bring(case: DayCase, planned: ItineraryDay, group: Group, leg: Leg, stretch: Stretch) -> Finding:
    """Nobody brings the guests to where a cut leg begins."""
    stage = case.catalogue.need(Stage, leg.stage)
    what = to_say(
        "{stage} begins on the way, {start_m:length} from its start, and nobody brings them",
        stage=stage.name,
        start_m=_start_m(leg),
    )
    here, there = stretch.stands_at, stage.to_place if leg.backward else stage.from_place
    fixes = () if here is None else (_transfer(case, planned, group, here, there, stretch),)
    return _stop(case, planned, group, "not_brought", ("leg", leg.id), what, fixes)


def _woke_together(case: DayCase, planned: ItineraryDay, group: Group) -> Iterator[Finding]:
    woke = {place for place in group.woke_at if place is not None}
    if len(woke) > 1 and group.stretches:
        names = tuple(sorted(case.place_name(place) for place in woke))
        yield Finding(
            check=ID,
            level=Level.STOP,
            code="woke_apart",
            subject=subject({"day": planned.day.id, "guest": group.travellers}),
            day=planned.number,
            travellers=group.travellers,
            says=to_say(
                "They set out together but wake at {names}. Let them sleep in one place or part this day.",
                names=names,
            ),
        )


def _stop(
    case: DayCase,
    planned: ItineraryDay,
    group: Group,
    code: str,
    about: tuple[str, str],
    what: Text,
    fixes: tuple[Fix, ...],
) -> Finding:
    return Finding(
        check=ID,
        level=Level.STOP,
        code=code,
        subject=subject({about[0]: about[1], "day": planned.day.id, "guest": group.travellers}),
        day=planned.number,
        travellers=group.travellers,
        says=to_say(
            "{who:begun}: {what}. Add a transfer or change the stage.",
            who=guests(case, group.travellers),
            what=what,
        ),
        fixes=fixes,
    )


def _transfer(
    case: DayCase, planned: ItineraryDay, group: Group, here: str, there: str, before: Stretch | None
) -> Fix:
    """A transfer across the gap, before the item that needs it or at the end of the day."""
    position = len(planned.day.items) if before is None else planned.day.items.index(before.item)
    says = to_say("Transfer {here} to {there}", here=case.place_name(here), there=case.place_name(there))
    return Fix(says=says, edit=partial(_with_transfer, case, planned, group, (here, there), position))


def _with_transfer(
    case: DayCase, planned: ItineraryDay, group: Group, ends: tuple[str, str], position: int, trip: Trip
) -> Trip:
    travellers = None if len(planned.groups) == 1 else group.travellers
    riders = len(group.travellers)
    cycles = any(isinstance(item, Leg) and item.way is Way.CYCLING for item in group.items)
    ride = ride_between(case, *ends, travellers, riders, bikes=riders if cycles else 0)
    return edits.place_item(trip, case.variant_id, planned.day.id, ride, position)


def _known(case: DayCase, leg: Leg) -> bool:
    return case.catalogue.get(Stage, leg.stage) is not None


def _start_m(leg: Leg) -> float | None:
    """Where on the stage a cut leg begins [m], None at the stage's own end."""
    return leg.cut_to_m if leg.backward else leg.cut_from_m


def _end_m(leg: Leg) -> float | None:
    return leg.cut_from_m if leg.backward else leg.cut_to_m


def _goes_on(before: Leg, after: Leg) -> bool:
    """Whether a leg begins at the very point on the way where the one before it ended."""
    end_m, start_m = _end_m(before), _start_m(after)
    same = before.stage.id == after.stage.id and end_m is not None and start_m is not None
    return same and abs((end_m or 0.0) - (start_m or 0.0)) <= SAME_POINT_M
