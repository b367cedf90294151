"""What must be known before booking, and whom to ask: the office's own texts, bikes, bags, people."""

from collections.abc import Iterator

from lacet.documents.material.telling import DASH, Telling, paragraphs, told
from lacet.documents.material.values import BikeTold, Contact, Section
from lacet.language import marked
from lacet.trip.hires import days_of
from lacet.trip.library import Bike
from lacet.trip.trip import Hire, Move
from lacet.trip.words import BikeKind, Load

# Headings of the office's own texts, in the order in which they are told.
TEXTS: tuple[tuple[str, str], ...] = (
    ("mobility", marked("Reduced mobility")),
    ("passport", marked("Passport and visa")),
    ("health", marked("Health")),
    ("insurance", marked("Insurance")),
    ("cancellation", marked("Cancelling")),
    ("payment", marked("Payment")),
    ("minimum", marked("Minimum number of guests")),
    ("group", marked("Travelling in a group")),
    ("language", marked("Language")),
    ("organiser_guarantee", marked("Protection if we become insolvent")),
)
KINDS = {
    BikeKind.TOURING: marked("touring bike"),
    BikeKind.E_BIKE: marked("e-bike"),
    BikeKind.CHILD: marked("child's bike"),
    BikeKind.TANDEM: marked("tandem"),
    BikeKind.TRAILER: marked("trailer"),
}
HELMET = "helmet"
EXTRAS = (
    marked("helmet"), marked("panniers"), marked("child seat"), marked("lock"), marked("repair kit"),
)  # fmt: skip


def practical(telling: Telling) -> Iterator[Section]:
    """The office's texts on what the law wants told, those that there are."""
    for key, heading in TEXTS:
        text = telling.text_of(key)
        if text:
            yield Section(heading=telling.speech.word(heading), paragraphs=paragraphs(text))


def bikes_told(telling: Telling) -> Iterator[BikeTold]:
    """Each guest's bike."""
    for hire in telling.variant.hires:
        yield _bike(telling, hire, telling.bike(hire.bike))


def _bike(telling: Telling, hire: Hire, bike: Bike | None) -> BikeTold:
    say, speech = telling.speech.say, telling.speech
    run = days_of(hire, telling.variant)
    days = _days(telling, run.start, run.stop - 1)
    extras = [speech.word(each) for each in hire.extras]
    if hire.bike is None:
        return BikeTold(who=telling.name(hire.traveller), bike=say("Own bike"), size="", days=days,
                        extras=", ".join(extras))  # fmt: skip
    if HELMET not in hire.extras:
        extras.append(say("helmet on request"))
    kind = "" if bike is None else speech.word(KINDS[bike.kind])
    name = hire.bike.id if bike is None else bike.name
    # 'Tourer, medium' says already that it is a touring bike.
    told_already = kind[:4].casefold() in name.casefold()
    named = name if told_already else f"{name} ({kind})"
    return BikeTold(
        who=telling.name(hire.traveller),
        bike=named,
        size="" if bike is None else _size(telling, bike),
        extras=", ".join(extras),
        days=days,
    )


def _days(telling: Telling, first: int, last: int) -> str:
    if first == last:
        return telling.speech.say("day {number}", number=first)
    return telling.speech.say("days {first} to {last}", first=first, last=last)


def _size(telling: Telling, bike: Bike) -> str:
    low, high = bike.rider_height_from_cm, bike.rider_height_to_cm
    if low is None or high is None:
        return DASH
    return telling.speech.say("for riders {low} to {high} cm tall", low=f"{low:.0f}", high=f"{high:.0f}")


def baggage(telling: Telling) -> Iterator[str]:
    """How much is moved, and that the rest is carried."""
    moves = [move for day in telling.variant.days for move in day.moves if move.load is Load.BAGS]
    if moves:
        bags = telling.rules.bags_a_head
        yield telling.speech.many(
            "One bag per person is moved for you, {kg} kg at most.",
            "{count} bags per person are moved for you, {kg} kg each at most.",
            bags, kg=f"{_limit_kg(telling, moves):.0f}",
        )  # fmt: skip
        yield telling.speech.say(
            "Carry what you need for the day: water, waterproofs, medicines and documents."
        )
    yield from told(telling.text_of("baggage"))


def _limit_kg(telling: Telling, moves: list[Move]) -> float:
    named = [move.kg / move.count for move in moves if move.kg is not None and move.count]
    return min([telling.rules.bag_kg, *named])


def contacts(telling: Telling) -> Iterator[Contact]:
    """Consultant, representative on the spot, and the operator with its address."""
    office, say = telling.catalogue.office, telling.speech.say
    if office.consultant:
        yield Contact(role=say("Your consultant"), name=office.consultant,
                      lines=told(office.telephone, office.email))  # fmt: skip
    if telling.trip.agent:
        yield Contact(role=say("Your travel agent"), name=telling.trip.agent, lines=())
    if office.rep_name:
        yield Contact(role=say("Your local representative"), name=office.rep_name,
                      lines=told(office.rep_telephone))  # fmt: skip
    if office.name:
        yield Contact(role=say("Organiser"), name=office.name,
                      lines=told(office.address, office.telephone, office.email))  # fmt: skip


def terms(telling: Telling) -> Section:
    """The operator's terms."""
    return Section(
        heading=telling.speech.say("Terms"),
        paragraphs=paragraphs(telling.text_of("terms")),
    )
