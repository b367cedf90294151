"""What carries people and things on a day: arrivals, departures, transfers, bags and bikes, a lift home."""

from collections.abc import Iterator

from lacet.days.seasons import covers
from lacet.documents.material.along import pickups
from lacet.documents.material.meals import PAYERS
from lacet.documents.material.telling import MEANS, Telling, told
from lacet.documents.material.ways import ride_said
from lacet.figures.values import DayFigures
from lacet.price.offering import lift_price
from lacet.trip.itinerary import days_of_arrival, days_of_departure, travellers_there
from lacet.trip.library import Transfer
from lacet.trip.money import Money
from lacet.trip.stays import stay_of
from lacet.trip.trip import Crossing, Move, Ride
from lacet.trip.words import Carrier, Load


def transfers_told(telling: Telling, day: DayFigures) -> Iterator[str]:
    """The arrival, rides with their hour, the departure."""
    for arrival in telling.trip.arrivals:
        if day.number in days_of_arrival(telling.trip, arrival):
            yield _crossing(telling, arrival, arriving=True)
    for group in day.groups:
        for step in group.steps:
            if isinstance(step.item, Ride):
                yield _ride(telling, step.item, step.starts_s, step.ends_s)
    for departure in telling.trip.departures:
        if day.number in days_of_departure(telling.trip, departure, len(telling.variant.days)):
            yield _crossing(telling, departure, arriving=False)


def _ride(telling: Telling, ride: Ride, starts_s: float, ends_s: float | None) -> str:
    said = ride_said(telling, ride)
    payer = telling.speech.word(PAYERS[ride.payer])
    if ends_s is None or ends_s <= starts_s:
        return f"{said}; {payer}."
    return telling.speech.say(
        "{ride}, at about {clock}, journey time {time}; {payer}.",
        ride=said, clock=telling.speech.about(starts_s), payer=payer,
        time=telling.speech.wording.duration(ends_s - starts_s),
    )  # fmt: skip


def _crossing(telling: Telling, crossing: Crossing, *, arriving: bool) -> str:
    say = telling.speech.say
    how = " ".join(told(telling.speech.word(MEANS[crossing.means]), crossing.number))
    who = "" if crossing.travellers is None else telling.names(crossing.travellers)
    what = say("Arrival") if arriving else say("Departure")
    head = f"{what} ({who})" if who else what
    parts = told(telling.place(crossing.hub), how, telling.at(crossing.at))
    return f"{head}: {', '.join(parts)}."


def bags_told(telling: Telling, day: DayFigures) -> Iterator[str]:
    """Each move with its hours, or that bags stay where guests stay."""
    moves = telling.day_of(day).moves
    for move in moves:
        yield _move(telling, day, move)
    if not any(move.load is Load.BAGS for move in moves) and _stays(telling, day):
        yield telling.speech.say("Your bags stay where they are.")


def _move(telling: Telling, day: DayFigures, move: Move) -> str:
    say, many = telling.speech.say, telling.speech.many
    count = move.count or len(travellers_there(telling.trip, day.number)) * telling.rules.bags_a_head
    if move.load is Load.BAGS:
        what = many("{count} bag", "{count} bags", count)
        head = say("Luggage transfer: {what}", what=what)
    else:
        head = say("Bike transfer")
    carrier = None if move.means is None else telling.catalogue.get(Transfer, move.means)
    ready = say("ready by {clock}", clock=telling.at(move.ready_by)) if move.ready_by else ""
    there = say("delivered by {clock}", clock=telling.at(move.delivered_by)) if move.delivered_by else ""
    by = say("by {carrier}", carrier=carrier.name) if carrier is not None else ""
    return f"{', '.join(told(head, by, ready, there))}."


def _stays(telling: Telling, day: DayFigures) -> bool:
    nights = telling.day_of(day).nights
    found = [stay_of(telling.variant, day.number - 1, night.lodging.id) for night in nights]
    return bool(found) and all(stay is not None and stay.first < day.number - 1 for stay in found)


def rescue_told(telling: Telling, day: DayFigures) -> str:
    """Who fetches guests that want to stop early, from where, and what it costs through the office."""
    group = day.group
    taxi = next(_taxis(telling), None)
    if group is None or not group.legs or taxi is None:
        return ""
    say = telling.speech.say
    places = pickups(telling, group)
    said = say("{name} can pick you up: call {telephone}.", name=taxi.name, telephone=taxi.telephone)
    if not taxi.telephone:
        said = say("{name} can pick you up: call your local representative.", name=taxi.name)
    where = say("Pick-up points: {where}.", where=telling.speech.listed(places)) if places else ""
    price = _taxi_price(telling, taxi, day, len(group.travellers))
    cost = ""
    if price is not None:
        cost = say(
            "Booked through us, this costs about {price} for the group.",
            price=telling.speech.money(price),
        )
    return " ".join(told(said, where, cost))


def _taxis(telling: Telling) -> Iterator[Transfer]:
    """Taxis that go anywhere; nobody knows what others would do."""
    for transfer in telling.catalogue.current(Transfer):
        if transfer.carrier is Carrier.TAXI and transfer.from_place is None:
            yield transfer


def _taxi_price(telling: Telling, taxi: Transfer, day: DayFigures, heads: int) -> Money | None:
    """At selling price: what a supplier charges the office is no business of a document for guests."""
    when = (day.on, telling.trip.month, telling.as_of)
    return lift_price(taxi, heads, when, telling.catalogue, telling.variant.pricing, telling.rules, covers)
