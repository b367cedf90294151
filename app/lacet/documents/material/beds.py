"""Where the party sleeps: houses told in full on a stay's first night, and by name after that."""

from collections.abc import Iterator
from datetime import date

from lacet.documents.material.telling import Telling, paragraphs
from lacet.documents.material.values import BedTold, Fact
from lacet.figures.values import DayFigures
from lacet.language import begun, marked
from lacet.price.rooms import rooms_used, sleepers
from lacet.trip.bookings import Booking
from lacet.trip.library import Lodging, Room
from lacet.trip.stays import Stay, stay_of, stays
from lacet.trip.trip import Night
from lacet.trip.words import Board, BookingState, Service

BOARDS = {
    Board.ROOM_ONLY: marked("room only"),
    Board.BREAKFAST: marked("bed and breakfast"),
    Board.HALF_BOARD: marked("half board (breakfast and dinner)"),
    Board.FULL_BOARD: marked("full board"),
}
HOUSES = (
    marked("inn"), marked("guest house"), marked("hotel"), marked("farm"), marked("cottage"), marked("hut"),
    marked("hostel"), marked("lodge"), marked("rooms"), marked("bed and breakfast"),
)  # fmt: skip
ROOMS = (marked("single"), marked("double"), marked("twin"), marked("triple"), marked("family"))


def beds_told(telling: Telling, day: DayFigures) -> Iterator[BedTold]:
    """Each house somebody sleeps in after the day."""
    planned = telling.day_of(day)
    for night in planned.nights:
        house = telling.catalogue.get(Lodging, night.lodging)
        asleep = sleepers(telling.trip.party, day.number, planned, night)
        stay = stay_of(telling.variant, day.number - 1, night.lodging.id)
        if house is None or stay is None or (telling.trip.party.travellers and not asleep):
            continue
        first = stay.first == day.number - 1
        yield BedTold(
            who=telling.names(asleep) if len(planned.nights) > 1 else "",
            name=house.name,
            kind=begun(telling.speech.word(house.kind)),
            stay=_stay(telling, stay, day.number),
            paragraphs=paragraphs(house.text) if first else (),
            rooms=tuple(_rooms(telling, house, night, asleep)) if first else (),
            facts=tuple(_facts(telling, house, night)) if first else (),
            held=held(telling, stay) if first else "",
            picture_key=next(iter(house.picture_ids), "") if first else "",
        )


def _stay(telling: Telling, stay: Stay, number: int) -> str:
    if stay.nights == 1:
        return telling.speech.say("One night")
    if stay.first == number - 1:
        return begun(telling.speech.many("{count} night", "{count} nights", stay.nights))
    position = number - stay.first
    return telling.speech.say("Night {number} of {count}", number=position, count=stay.nights)


def _rooms(telling: Telling, house: Lodging, night: Night, asleep: tuple[str, ...]) -> Iterator[Fact]:
    for use in rooms_used(night, house, asleep, telling.trip.party):
        room = next((each for each in house.rooms if each.kind == use.kind), None)
        if use.kind:
            yield Fact(telling.names(use.travellers), begun(_room(telling, use.kind, room)))


def _room(telling: Telling, kind: str, room: Room | None) -> str:
    said = room_name(telling, kind)
    if room is not None and room.beds:
        said = f"{said}, {room.beds}"
    if room is not None and room.private_bath is not None:
        bath = telling.speech.say("en suite") if room.private_bath else telling.speech.say("shared bathroom")
        said = f"{said}, {bath}"
    return said


def room_name(telling: Telling, kind: str) -> str:
    """'double room'; a kind nobody marked is said as the house calls it."""
    if kind in ROOMS:
        return telling.speech.say("{kind} room", kind=telling.speech.word(kind))
    return kind


def _facts(telling: Telling, house: Lodging, night: Night) -> Iterator[Fact]:
    say = telling.speech.say
    yield Fact(say("Board basis"), telling.speech.word(BOARDS[night.board]))
    if house.check_in:
        yield Fact(say("Check-in"), telling.range_of(house.check_in))
    if house.breakfast and night.board is not Board.ROOM_ONLY:
        yield Fact(say("Breakfast"), telling.range_of(house.breakfast))
    if night.late_key:
        yield Fact(say("Late arrival"), say("a key will be left for you"))
    if house.charging and telling.variant.hires:
        yield Fact(say("Batteries"), say("can be charged here"))
    if house.bike_store and telling.variant.hires:
        yield Fact(say("Bikes"), say("stored under cover"))
    if house.address:
        yield Fact(say("Address"), house.address)
    if house.telephone:
        yield Fact(say("Telephone"), house.telephone)


def held(telling: Telling, stay: Stay) -> str:
    """Whether rooms are confirmed, held until a day, or yet to be had: as the bookings stand."""
    say = telling.speech.say
    ends: list[date] = []
    for night in range(stay.nights):
        number = stay.first + 1 + night
        wanted = _rooms_wanted(telling, stay, number)
        standing = _standing(telling, stay.lodging.id, number)
        confirmed = sum(each.quantity for each in standing if each.state is BookingState.CONFIRMED)
        options = [each for each in standing if each.state is BookingState.OPTION]
        if confirmed >= wanted:
            continue
        if confirmed + sum(each.quantity for each in options) < wanted:
            return say("Subject to availability.")
        ends += [each.option_until for each in options if each.option_until is not None]
    if ends:
        return say("Rooms held for you until {date}.", date=telling.speech.day(min(ends)))
    return say("Rooms confirmed.")


def _rooms_wanted(telling: Telling, stay: Stay, number: int) -> int:
    day = telling.variant.days[number - 1]
    house = telling.catalogue.get(Lodging, stay.lodging)
    nights = [night for night in day.nights if night.lodging.id == stay.lodging.id]
    rooms = [
        rooms_used(night, house, sleepers(telling.trip.party, number, day, night), telling.trip.party)
        for night in nights
        if house is not None
    ]
    return max(sum(map(len, rooms)), 1)


def _standing(telling: Telling, lodging: str, number: int) -> list[Booking]:
    """Bookings of a house for the night after a day that are confirmed or whose option still runs."""
    on = telling.trip.date_of(number)
    return [
        booking
        for booking in telling.case.bookings
        if booking.service is Service.LODGING
        and booking.supplier == lodging
        and booking.state in (BookingState.CONFIRMED, BookingState.OPTION)
        and on is not None
        and booking.from_day <= on < booking.to_day
        and not _run_out(telling, booking)
    ]


def _run_out(telling: Telling, booking: Booking) -> bool:
    """An option without an end can't be promised until a day, so it counts as none."""
    if booking.state is not BookingState.OPTION:
        return False
    return booking.option_until is None or booking.option_until < telling.as_of


def rooms_held(telling: Telling) -> Iterator[str]:
    """How each stay stands, in order."""
    for stay in stays(telling.variant):
        house = telling.catalogue.get(Lodging, stay.lodging)
        if house is not None:
            yield f"{house.name}: {held(telling, stay)}"
