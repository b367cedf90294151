"""What a proposal can't say yet: told before it leaves the house, and never printed as a blank.

The items are those of Article 5(1) of Directive (EU) 2015/2302 on package travel, in our own words. This is
an aid to the office and no legal advice: whether an item applies, and whether a text is enough, is for the
office to judge.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from lacet.checks.gathered import Gathered, gathered
from lacet.documents.material.practical import HELMET
from lacet.documents.material.safety import NO_NUMBER
from lacet.documents.material.telling import Telling
from lacet.language import ENGLISH_SPEECH, to_count
from lacet.language.language import SOURCE_LANGUAGE
from lacet.trip.finding import Finding
from lacet.trip.library import Bike, Lodging, Stage, Transfer
from lacet.trip.stays import stays
from lacet.trip.trip import Leg, Ride, Visit
from lacet.trip.words import Payer
from lacet.wording import listed

SOURCE = "Directive (EU) 2015/2302, Article 5(1)"
AN_AID = "An aid, no legal advice: whether a text is enough is for the office to judge."
IN_SETTINGS = "Write it in the office's texts"


class Weight(StrEnum):
    """`STOP` stands in the way of anything but a draft; `TELL` should be mended before it is sent."""

    STOP = "stop"
    TELL = "tell"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """One thing that isn't there. `point` is the item of the directive; '' = asked by good form."""

    says: str
    point: str = ""
    weight: Weight = Weight.TELL


@dataclass(frozen=True, slots=True)
class Item:
    """One item of the directive: its point, what it asks in our words, and how it is looked for."""

    point: str
    asks: str
    look: Callable[[Telling], Iterator[str]]


def missing(telling: Telling) -> tuple[Missing, ...]:
    """Everything a proposal of this variant lacks, what stops it first."""
    found = [*_stops(telling)]
    found += [Missing(says=says, point=item.point) for item in ITEMS for says in item.look(telling)]
    found += [Missing(says=says) for says in _good_form(telling)]
    return tuple(found)


def may_leave(found: tuple[Missing, ...]) -> bool:
    """Whether the proposal may leave the house as more than a draft."""
    return all(each.weight is not Weight.STOP for each in found)


def _stops(telling: Telling) -> Iterator[Missing]:
    if not telling.trip.party.travellers:
        says = "The trip has no party: add its guests, or so many adults, for figures and prices."
        yield Missing(says=says, weight=Weight.STOP)
    if not telling.variant.days:
        yield Missing(says="The variant has no days yet: add what it is made of.", weight=Weight.STOP)
    elif telling.prices.nothing_known:
        says = "Nothing in it has a price: enter tariffs that hold on its dates."
        yield Missing(says=says, weight=Weight.STOP)
    for line in gathered(tuple(open_stops(telling.findings))):
        yield Missing(says=_on_its_days(line), weight=Weight.STOP)


def open_stops(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Every stop that nobody has overruled."""
    return (finding for finding in findings if finding.open_stop)


def _on_its_days(line: Gathered) -> str:
    if not line.days:
        return ENGLISH_SPEECH.sentence(line.says)
    says = to_count(
        "Day {days:days}: {says:begun}", "Days {days:days}: {says:begun}", len(line.days), days=line.days,
        says=line.says,
    )  # fmt: skip
    return str(says)


def _places_and_nights(telling: Telling) -> Iterator[str]:
    if telling.trip.start is None:
        yield "No start date: the dates of the stays can't be told."
    for number, day in enumerate(telling.variant.days[:-1], start=1):
        if not day.nights:
            yield f"Day {number} has no lodging."


def _transport(telling: Telling) -> Iterator[str]:
    for crossings, what in ((telling.trip.arrivals, "arrival"), (telling.trip.departures, "departure")):
        if not crossings:
            yield f"Where and when the guests' {what} is."
        for each in crossings:
            if each.at is None:
                place = telling.catalogue.place_name(each.hub)
                yield f"At what time the {what} in {place} is, at least about."
    for number, day in enumerate(telling.variant.days, start=1):
        for item in day.items:
            if isinstance(item, Ride) and item.payer is Payer.INCLUDED and not _carried(telling, item):
                ends = f"{telling.place(item.from_place)} to {telling.place(item.to_place)}"
                yield f"By which means the transfer from {ends} goes (day {number})."


def _carried(telling: Telling, ride: Ride) -> bool:
    return ride.transfer is not None and telling.catalogue.get(Transfer, ride.transfer) is not None


def _lodging(telling: Telling) -> Iterator[str]:
    for stay in stays(telling.variant):
        house = telling.catalogue.get(Lodging, stay.lodging)
        if house is None:
            yield f"The lodging '{stay.lodging.id}' isn't in the library."
        else:
            lacks = [
                word
                for word, there in (("its kind", house.kind), ("where it is", house.address),
                                    ("what it is like", house.text))
                if not there
            ]  # fmt: skip
            if lacks:
                yield f"{house.name}: {', '.join(lacks)}."


def _meals(telling: Telling) -> Iterator[str]:
    for number, day in enumerate(telling.variant.days[:-1], start=1):
        boards = {night.board.value for night in day.nights}
        dinner = any(meal.kind.value == "dinner" for meal in day.meals)
        if day.nights and not dinner and not boards & {"half_board", "full_board"}:
            yield f"Day {number}: whether dinner is included or the guests' own."


def _visits(telling: Telling) -> Iterator[str]:
    for number, day in enumerate(telling.variant.days, start=1):
        for item in day.items:
            if isinstance(item, Visit) and item.payer is Payer.INCLUDED and not item.name.strip():
                yield f"What the visit on day {number} is, which is in the price."


def _text(key: str, what: str) -> Callable[[Telling], Iterator[str]]:
    def look(telling: Telling) -> Iterator[str]:
        if not telling.text_of(key):
            yield f"{what}. {IN_SETTINGS} ('{key}')."

    return look


def _organiser(telling: Telling) -> Iterator[str]:
    office = telling.catalogue.office
    for name, there in (
        ("name", office.name), ("address", office.address), ("telephone number", office.telephone),
        ("e-mail address", office.email),
    ):  # fmt: skip
        if not there:
            yield f"The organiser's {name}."
    if telling.trip.agent:
        yield f"Address, telephone number and e-mail address of the retailer, {telling.trip.agent}."


def _price(telling: Telling) -> Iterator[str]:
    yield from _taxes(telling)
    for line in telling.prices.unknown:
        if line.payer is not Payer.OWN:
            where = "" if line.day is None else f" (day {line.day})"
            yield f"What {line.says}{where} costs: {line.reason_unknown}."


_taxes = _text("price", "Whether the price holds all taxes and fees, or which come on top")


ITEMS: tuple[Item, ...] = (
    Item("(a)(i)", "places, route, stays with dates, number of nights", _places_and_nights),
    Item("(a)(ii)", "transport: kind, places, dates and times", _transport),
    Item("(a)(iii)", "lodging: where, main features, category", _lodging),
    Item("(a)(iv)", "meals included", _meals),
    Item("(a)(v)", "visits, excursions and other services in the price", _visits),
    Item("(a)(vi)", "whether anything is in a group, and its size",
         _text("group", "Whether guests travel in a group, and of what size")),
    Item("(a)(vii)", "language of services that depend on talking",
         _text("language", "In which language the rep and the houses speak")),
    Item("(a)(viii)", "suitability for reduced mobility",
         _text("mobility", "Whether the trip suits people of reduced mobility")),
    Item("(b)", "organiser: name, address, telephone, e-mail", _organiser),
    Item("(c)", "total price with taxes and all extras, or the kind of extras", _price),
    Item("(d)", "how to pay, deposit, timetable",
         _text("payment", "How and when to pay, and how money is secured")),
    Item("(e)", "minimum number, and the last day for calling it off",
         _text("minimum", "Whether a least number of guests is needed, and until when it may be called off")),
    Item("(f)", "passport, visa with usual waiting times",
         _text("passport", "Which papers guests need, and how long a visa takes")),
    Item("(f)", "health formalities", _text("health", "Which health formalities there are")),
    Item("(g)", "right to withdraw before the start for a fee",
         _text("cancellation", "That guests may withdraw before the start, and for what fee")),
    Item("(h)", "insurance for withdrawal, accident, illness, repatriation",
         _text("insurance", "Which insurance there is, or that there is none")),
)  # fmt: skip


def _good_form(telling: Telling) -> Iterator[str]:
    office = telling.catalogue.office
    for what, there in (
        ("Who the guests' consultant is", office.consultant),
        ("The representative's name and telephone number", office.rep_name and office.rep_telephone),
        ("How guests say yes", telling.text_of("say_yes")),
        ("The terms of travel", telling.text_of("terms")),
        ("How guests' money is secured against insolvency", telling.text_of("organiser_guarantee")),
    ):
        if not there:
            yield f"{what}."
    if not telling.catalogue.region.emergency_numbers:
        yield NO_NUMBER
    yield from _untranslated(telling)
    for line in gathered(tuple(_unproved(telling.findings))):
        yield _on_its_days(line)
    yield from _stages(telling)
    yield from _bikes(telling)


def _unproved(findings: Iterable[Finding]) -> Iterator[Finding]:
    """What isn't known, and is told as nothing else."""
    for finding in findings:
        if finding.unknown and finding.overruled_by is None and not finding.open_stop:
            yield finding


def _untranslated(telling: Telling) -> Iterator[str]:
    """Texts of the office that are printed in another language than the document's."""
    tongue = telling.speech.tag.partition("-")[0]
    keys = [key for key, text in telling.catalogue.office.texts if text]
    if tongue != SOURCE_LANGUAGE:
        plain = [key for key in keys if "." not in key and f"{key}.{tongue}" not in keys]
        if plain:
            named = ", ".join(f"'{key}.{tongue}'" for key in plain)
            yield f"Texts of the office in this language: {named}; they are printed as they are."


def _stages(telling: Telling) -> Iterator[str]:
    refs = dict.fromkeys(item.stage for item in telling.variant.items() if isinstance(item, Leg))
    for ref in refs:
        stage = telling.catalogue.get(Stage, ref)
        if stage is not None and not stage.text:
            yield f"The stage '{stage.name}' has no text for guests."
    for number, day in enumerate(telling.variant.days, start=1):
        for leg in day.legs():
            stage = telling.catalogue.get(Stage, leg.stage)
            facts = None if stage is None else stage.on(leg.way)
            if stage is not None and (facts is None or facts.grade is None or facts.footing is None
                                      or facts.exposure is None):  # fmt: skip
                yield f"Day {number}: grade, ground or exposure of '{stage.name}' {leg.way.value}."


def _bikes(telling: Telling) -> Iterator[str]:
    for hire in telling.variant.hires:
        bike = None if hire.bike is None else telling.catalogue.get(Bike, hire.bike)
        if bike is not None and (bike.rider_height_from_cm is None or bike.rider_height_to_cm is None):
            yield f"For riders of what height {bike.name} is."
    bare = [hire.traveller for hire in telling.variant.hires if hire.bike and HELMET not in hire.extras]
    if bare:
        # In the office's language, whatever the document's.
        names = listed([telling.trip.party.name_of(who) for who in dict.fromkeys(bare)])
        yield f"Whether a helmet comes with the bike: {names}."
