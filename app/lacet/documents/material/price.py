"""What it costs and what that holds: selling prices only. No net price, mark-up or margin is read here.

The one sum of tariffs shown is what guests pay on the spot, where the tariff is the price they are asked for.
"""

from collections.abc import Iterator

from lacet.documents.material.beds import BOARDS, room_name
from lacet.documents.material.telling import Telling, told
from lacet.documents.material.values import Fact, Price
from lacet.language import begun, marked
from lacet.price.selling_prices import NO_PARTY, NamedService, Payment, RoomPrice
from lacet.trip.library import Lodging
from lacet.trip.money import Money
from lacet.trip.trip import Night, Ride
from lacet.trip.words import Load, MealKind, Payer, Service

PAYMENTS = {
    "deposit": marked("deposit"),
    "balance": marked("balance"),
    "full amount": marked("full amount"),
}
SERVICES = {
    Service.LODGING: marked("Lodging"),
    Service.RESTAURANT: marked("Meals"),
    Service.TRANSFER: marked("Transfers"),
    Service.BIKE: marked("Bikes"),
    Service.BAG_MOVE: marked("Luggage transfers"),
    Service.REP: marked("Local representative"),
    Service.ENTRY: marked("Entry fees"),
    Service.VISITOR_TAX: marked("Visitor tax"),
    Service.FIXED_TRIP: marked("Other"),
    Service.FIXED_PERSON: marked("Other"),
}
ASSUMED = {NO_PARTY: marked("Based on two sharing, as the party isn't known yet.")}


def price_told(telling: Telling) -> Price:
    """The price page."""
    prices, speech = telling.prices, telling.speech
    say = speech.say
    heads = len(telling.trip.party.travellers)
    until = say("Price valid until {date}.", date=speech.day(prices.valid_until))
    total = say("price on request")
    if not prices.nothing_known:
        total = speech.money(prices.total, starting=prices.is_from)
    return Price(
        total=begun(total),
        total_note=speech.many("for one guest", "for {count} guests", heads or 2),
        by_room=() if prices.nothing_known else tuple(_by_room(telling)),
        by_guest=() if prices.nothing_known else tuple(_by_guest(telling)),
        extras=tuple(_extras(telling)),
        payments=() if prices.nothing_known else tuple(_payment(telling, each) for each in prices.payments),
        notes=told(until, telling.text_of("price"), *_doubts(telling)),
        say_yes=told(telling.text_of("say_yes")),
        included=tuple(included(telling)),
        locally=tuple(_locally(telling)),
        own=tuple(own(telling)),
    )


def _by_room(telling: Telling) -> Iterator[Fact]:
    for each in telling.prices.by_room:
        yield Fact(begun(_rooms(telling, each)), telling.speech.money(each.price))
    supplement = telling.prices.single_supplement
    if supplement is not None:
        yield Fact(telling.speech.say("Single supplement"), telling.speech.money(supplement))


def _rooms(telling: Telling, each: RoomPrice) -> str:
    kinds = telling.speech.listed([room_name(telling, kind) for kind in each.room_kinds if kind])
    most = max(each.sharing, default=1)
    shared = telling.speech.many("single occupancy", "{count} sharing", most)
    return ", ".join(told(kinds, shared))


def _by_guest(telling: Telling) -> Iterator[Fact]:
    """Guest by guest where they don't all pay the same."""
    prices = telling.prices.per_traveller
    if len({each.price for each in prices}) > 1 and telling.trip.party.travellers:
        for each in prices:
            yield Fact(telling.name(each.traveller), telling.speech.money(each.price))


def _extras(telling: Telling) -> Iterator[Fact]:
    for extra in telling.prices.extras:
        price = telling.speech.say("{price} per person", price=telling.speech.money(extra.per_person))
        unknown = telling.speech.say("price on request")
        day = telling.speech.say("day {number}", number=extra.service.day) if extra.service.day else ""
        name = ", ".join(
            told(telling.speech.word(SERVICES[extra.service.service]), _named(telling, extra.service), day)
        )
        yield Fact(name, unknown if extra.per_person is None else price)


def _named(telling: Telling, line: NamedService) -> str:
    house = telling.catalogue.latest(Lodging, line.subject)
    return house.name if house is not None else line.says


def _payment(telling: Telling, payment: Payment) -> Fact:
    what = begun(telling.speech.word(PAYMENTS.get(payment.says, payment.says)))
    amount = telling.speech.money(payment.amount)
    if payment.due is None:
        return Fact(what, amount)
    due = telling.speech.day(payment.due)
    return Fact(what, telling.speech.say("{amount}, due by {date}", amount=amount, date=due))


def _doubts(telling: Telling) -> Iterator[str]:
    prices = telling.prices
    for assumption in prices.assumptions:
        yield telling.speech.word(ASSUMED.get(assumption, assumption))
    if prices.some_unknown:
        yield telling.speech.say("'From': some of this season's prices aren't available yet.")


def included(telling: Telling) -> Iterator[str]:
    """What the price holds, counted from the days themselves, then the office's own lines."""
    say, many = telling.speech.say, telling.speech.many
    yield from _nights(telling)
    meals = [meal for day in telling.variant.days for meal in day.meals if meal.payer is Payer.INCLUDED]
    lunches = sum(meal.kind is MealKind.PACKED_LUNCH for meal in meals)
    if lunches:
        yield begun(many("one packed lunch", "{count} packed lunches", lunches))
    dinners = sum(meal.kind is MealKind.DINNER for meal in meals)
    if dinners:
        yield begun(many("one dinner", "{count} dinners", dinners))
    yield from _carried(telling)
    if any(day.briefing for day in telling.variant.days):
        yield say("A personal briefing from your local representative")
    yield from told(*telling.text_of("included").split("\n"))


def _carried(telling: Telling) -> Iterator[str]:
    """Bags, bikes and guests that are carried, and bikes that are hired."""
    say, many, variant = telling.speech.say, telling.speech.many, telling.variant
    moved = {move.load for day in variant.days for move in day.moves if move.payer is Payer.INCLUDED}
    if Load.BAGS in moved:
        yield say("Luggage transfers between your overnight stops")
    if Load.BIKES in moved:
        yield say("Bike transfers where needed")
    rides = sum(isinstance(item, Ride) and item.payer is Payer.INCLUDED for item in variant.items())
    if rides:
        yield begun(
            many("one transfer, as listed day by day", "{count} transfers, as listed day by day", rides)
        )
    hired = {hire.traveller for hire in variant.hires if hire.bike and hire.payer is Payer.INCLUDED}
    if hired:
        yield begun(many("hire of one bike", "hire of {count} bikes", len(hired)))


def _nights(telling: Telling) -> Iterator[str]:
    boards: dict[str, int] = {}
    for day in telling.variant.days:
        for night in _of_all(day.nights):
            board = telling.speech.word(BOARDS[night.board])
            boards[board] = boards.get(board, 0) + 1
    for board, count in boards.items():
        yield begun(telling.speech.many("one night, {board}", "{count} nights, {board}", count, board=board))


def _of_all(nights: tuple[Night, ...]) -> tuple[Night, ...]:
    """One night for the whole party: who sleeps in another house sleeps at the same time."""
    return tuple(night for night in nights if night.payer is Payer.INCLUDED)[:1]


def _locally(telling: Telling) -> Iterator[Fact]:
    """What is paid on the spot, by kind of service, at the price guests are asked for there."""
    sums: dict[str, Money | None] = {}
    for each in telling.prices.apart:
        if each.refundable:
            _add(sums, telling.speech.say("Refundable bike deposit"), each.amount)
        elif each.service.payer is Payer.LOCALLY:
            _add(sums, telling.speech.word(SERVICES[each.service.service]), each.amount)
    for name, amount in sums.items():
        unknown = telling.speech.say("at the local price")
        yield Fact(
            name,
            unknown
            if amount is None
            else telling.speech.say("{amount} in total", amount=telling.speech.money(amount)),
        )


def _add(sums: dict[str, Money | None], name: str, amount: Money | None) -> None:
    """Add up; a sum with an unknown part is unknown."""
    before = sums.get(name, Money((amount.amount * 0), amount.currency) if amount is not None else None)
    sums[name] = None if before is None or amount is None else before + amount


def own(telling: Telling) -> Iterator[str]:
    """What guests see to and pay themselves."""
    say = telling.speech.say
    if telling.trip.arrivals or telling.trip.departures:
        hubs = [telling.place(each.hub) for each in (*telling.trip.arrivals, *telling.trip.departures)]
        yield say("Travel to and from {place}", place=telling.speech.listed(tuple(dict.fromkeys(hubs))))
    dinners = [
        number
        for number, day in enumerate(telling.variant.days, start=1)
        if any(meal.kind is MealKind.DINNER and meal.payer is Payer.OWN for meal in day.meals)
    ]
    if dinners:
        days = telling.speech.listed([str(number) for number in dinners])
        yield telling.speech.many("Dinner on day {days}", "Dinner on days {days}", len(dinners), days=days)
    yield say("Drinks, and meals not listed")
    yield say("Travel insurance")
    yield from told(*telling.text_of("not_included").split("\n"))
