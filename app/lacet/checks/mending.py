"""Candidate fixes that several checks offer. They are made cheaply during a drag and worked out when applied.

A fix is called what it does; whether it helps, and at what price, is for `settle` to prove.
"""

from functools import partial

from lacet.checks.case import Ground
from lacet.checks.kept import per_catalogue
from lacet.checks.making import clock_time, fix
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits.change import find_item, variant_of
from lacet.trip.finding import Fix
from lacet.trip.library import Place, Ref, Stage, StagePoint, Transfer
from lacet.trip.trip import Day, Leg, Note, Rest, Ride, Travellers, Trip
from lacet.trip.words import Carrier, MealKind, PointKind, Reason, Way

NEAR_END_M = 500.0
QUARTER_S = 900.0
EARLIEST_S = 8 * 3600.0
_WAYS = {
    Reason.SHORTER: to_say("Take the shorter way"),
    Reason.WET_WEATHER: to_say("Take the wet-weather way"),
    Reason.LONGER: to_say("Take the longer way"),
}
_OTHER_WAY = to_say("Take the other way")


def set_out_earlier(case: Ground, day: DayFigures, group: GroupFigures, needed_s: float) -> tuple[Fix, ...]:
    """Set out earlier by what is missing, to the quarter hour, where that isn't before eight."""
    if group.departs_s is None:
        return ()
    departs_s = (group.departs_s - needed_s) // QUARTER_S * QUARTER_S
    if departs_s < EARLIEST_S:
        return ()
    return (
        fix(
            to_say("Set out at {departs_s:clock}", departs_s=departs_s),
            edits.set_departs,
            case,
            day.id,
            clock_time(departs_s),
        ),
    )


def take_the_other_way(case: Ground, day: DayFigures) -> tuple[Fix, ...]:
    """The day's own alternatives, as the consultant thought of them."""
    return tuple(
        fix(
            _WAYS.get(other.reason, _OTHER_WAY),
            edits.take_alternative,
            case,
            day.id,
            other.id,
        )
        for other in case.day(day.number).alternatives
    )


def all_together(case: Ground, day: DayFigures, group: GroupFigures) -> tuple[Fix, ...]:
    """Everybody goes this group's way that day; what only the others were to do falls away."""
    if len(day.groups) < 2:
        return ()
    return (Fix(says=to_say("Everybody goes this way"), edit=partial(_joined, case, day, group)),)


def _joined(case: Ground, day: DayFigures, group: GroupFigures, trip: Trip) -> Trip:
    variant_id, ours = case.variant_id, {item.id for item in group.items}
    for item in case.day(day.number).items:
        if item.id in ours:
            trip = edits.set_item_travellers(trip, variant_id, item.id, None)
        elif not isinstance(item, Note):
            trip = edits.remove_item(trip, variant_id, item.id)
    return trip


def other_stages(case: Ground, leg: LegFigures, most: int = 2) -> tuple[Fix, ...]:
    """Other stages of the library between the same two places, on the same way."""
    stage = case.catalogue.need(Stage, leg.leg.stage)
    if stage.from_place == stage.to_place or _is_cut(leg.leg):
        return ()
    between = _stages_between(case.catalogue, stage.from_place, stage.to_place)
    found = [other for other in between if other.id != stage.id and other.on(leg.leg.way)]
    return tuple(_instead(case, leg.leg, stage, other) for other in found[:most])


@per_catalogue
def _stages_between(catalogue: Catalogue, here: str, there: str) -> tuple[Stage, ...]:
    """Current stages that join two places, either way round."""
    return tuple(
        stage
        for stage in catalogue.current_under(Stage, here)
        if {stage.from_place, stage.to_place} == {here, there}
    )


def _instead(case: Ground, leg: Leg, stage: Stage, other: Stage) -> Fix:
    """The other stage from the same place to the same place, whichever way round it is kept."""
    replaced = Leg(
        id=leg.id,
        stage=Ref(other.id, other.version),
        way=leg.way,
        backward=leg.backward if other.from_place == stage.from_place else not leg.backward,
        bike=leg.bike,
        assist=leg.assist,
        travellers=leg.travellers,
    )
    return fix(to_say("{other} instead", other=other.name), edits.replace_item, case, leg.id, replaced)


def cut_at_pickup(case: Ground, leg: LegFigures, keep_m: float, most: int = 1) -> tuple[Fix, ...]:
    """End the leg where a taxi can wait, at most `keep_m` along it, and ride on to where it was to end."""
    inside = [each for each in _pickups(case, leg) if each[0] <= keep_m]
    farthest = sorted(inside, key=lambda each: -each[0])[:most]
    return tuple(
        Fix(
            says=to_say("Taxi from {point}, after {here_m:length}", point=point.name, here_m=here_m),
            edit=partial(_cut_and_ride, case, leg, point),
        )
        for here_m, point in farthest
    )


def begin_at_pickup(case: Ground, leg: LegFigures, keep_m: float, most: int = 1) -> tuple[Fix, ...]:
    """Ride to where a taxi can stop, and begin the leg there, so that at most `keep_m` of it are left."""
    inside = [each for each in _pickups(case, leg) if leg.distance_m - each[0] <= keep_m]
    nearest = sorted(inside, key=lambda each: each[0])[:most]
    return tuple(
        Fix(
            says=to_say(
                "Taxi to {point}, {distance_m:length} from there",
                point=point.name,
                distance_m=leg.distance_m - here_m,
            ),
            edit=partial(_ride_and_begin, case, leg, point),
        )
        for here_m, point in nearest
    )


def _pickups(case: Ground, leg: LegFigures) -> list[tuple[float, StagePoint]]:
    """Where a taxi can wait on the way, with the distance from where this leg begins [m]."""
    if leg.to_place is None or leg.from_place is None or _is_cut(leg.leg):
        return []
    points = case.catalogue.need(Stage, leg.leg.stage).points
    along = [
        (leg.distance_m - point.along_m if leg.leg.backward else point.along_m, point)
        for point in points
        if point.kind is PointKind.TAXI_PICKUP
    ]
    return [each for each in along if NEAR_END_M <= each[0] <= leg.distance_m - NEAR_END_M]


def _cut_and_ride(case: Ground, leg: LegFigures, point: StagePoint, trip: Trip) -> Trip:
    variant_id, item_id = case.variant_id, leg.leg.id
    cut = {"from_m": point.along_m} if leg.leg.backward else {"to_m": point.along_m}
    trip = edits.cut_leg(trip, variant_id, item_id, stage_length_m=leg.distance_m, **cut)
    day, index = find_item(variant_of(trip, variant_id), item_id)
    named = _place_called(case, point.name)
    riders = len(leg.travellers)
    # A pick-up that is no place of its own is priced from where the stage begins, and told to the driver.
    start = leg.from_place if named is None else named.id
    ride = ride_between(
        case, start or str(leg.to_place), str(leg.to_place), leg.leg.travellers, riders, bikes=_bikes(leg)
    )
    trip = edits.place_item(trip, variant_id, day.id, ride, index + 1)
    if named is None:
        note = Note(id="", says=f"Taxi waits at {point.name}.", travellers=leg.leg.travellers)
        trip = edits.place_item(trip, variant_id, day.id, note, index + 1)
    return trip


def _ride_and_begin(case: Ground, leg: LegFigures, point: StagePoint, trip: Trip) -> Trip:
    variant_id, item_id = case.variant_id, leg.leg.id
    cut = {"to_m": point.along_m} if leg.leg.backward else {"from_m": point.along_m}
    trip = edits.cut_leg(trip, variant_id, item_id, stage_length_m=leg.distance_m, **cut)
    day, index = find_item(variant_of(trip, variant_id), item_id)
    named = _place_called(case, point.name)
    # A pick-up that is no place of its own is priced as the whole way, and told to the driver.
    there = str(leg.to_place) if named is None else named.id
    travellers = leg.leg.travellers
    ride = ride_between(case, str(leg.from_place), there, travellers, len(leg.travellers), bikes=_bikes(leg))
    if named is None:
        note = Note(id="", says=f"Taxi stops at {point.name}.", travellers=travellers)
        trip = edits.place_item(trip, variant_id, day.id, note, index)
    return edits.place_item(trip, variant_id, day.id, ride, index)


def _place_called(case: Ground, name: str) -> Place | None:
    return next(iter(case.catalogue.current_named(Place, name)), None)


def _bikes(leg: LegFigures) -> int:
    return len(leg.travellers) if leg.leg.way is Way.CYCLING else 0


def rest_after(case: Ground, number: int) -> Day:
    """A rest day in the house and with the evening of a day: what would follow it to stay on."""
    day = case.day(number)
    meals = tuple(meal for meal in day.meals if meal.kind is not MealKind.PACKED_LUNCH)
    return Day(id="", items=(Rest(id=""),), nights=day.nights, meals=meals)


def ride_between(
    case: Ground, here: str, there: str, travellers: Travellers, riders: int, bikes: int = 0
) -> Ride:
    """A transfer with the library's own service for these two places, else its first car that takes them."""
    found = [each for each in case.catalogue.current(Transfer) if _takes(each, here, there, riders, bikes)]
    chosen = min(found, key=lambda each: each.from_place is None, default=None)
    service = None if chosen is None else Ref(chosen.id, chosen.version)
    return Ride(id="", transfer=service, from_place=here, to_place=there, travellers=travellers)


def _takes(service: Transfer, here: str, there: str, riders: int, bikes: int) -> bool:
    runs = (service.from_place, service.to_place)
    if runs == (None, None):
        goes = service.carrier in (Carrier.TAXI, Carrier.VAN)
    else:
        goes = runs == (here, there) or (service.both_ways and runs == (there, here))
    return goes and _holds(service.seats, riders) and _holds(service.bikes, bikes)


def _holds(room: int | None, needed: int) -> bool:
    return room is None or room >= needed


def _is_cut(leg: Leg) -> bool:
    return leg.cut_from_m is not None or leg.cut_to_m is not None
