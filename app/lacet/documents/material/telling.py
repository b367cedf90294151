"""What every part of a proposal asks: people, places, dates and ways, said in the document's language."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from lacet.checks.case import Case
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures, GroupFigures, LegFigures, VariantFigures
from lacet.language import Language, begun, marked
from lacet.price.selling_prices import SellingPrices
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Finding
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Ref
from lacet.trip.trip import Day, Trip, Variant
from lacet.trip.words import BikeKind, Carrier, Means, Way

DASH = "–"
ON_FOOT, BY_BIKE, BY_E_BIKE = marked("on foot"), marked("by bike"), marked("by e-bike")
MEANS = {
    Means.FERRY: marked("ferry"),
    Means.FLIGHT: marked("flight"),
    Means.TRAIN: marked("train"),
    Means.COACH: marked("coach"),
    Means.CAR: marked("car"),
    Means.OTHER: "",
}
CARRIERS = {
    Carrier.TAXI: marked("by taxi"),
    Carrier.VAN: marked("by van"),
    Carrier.BUS: marked("by bus"),
    Carrier.TRAIN: marked("by train"),
    Carrier.FERRY: marked("by ferry"),
    Carrier.REP: marked("in our car"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Telling:
    """Everything a proposal is told from. `case` is what the checks saw."""

    trip: Trip
    variant: Variant
    figures: VariantFigures
    findings: tuple[Finding, ...]
    prices: SellingPrices
    as_of: date
    catalogue: Catalogue
    rules: HouseRules
    case: Case
    speech: Language
    revision: int
    made_at: datetime

    def name(self, traveller: str) -> str:
        """A guest's name, or 'Guest 2' while nobody has given one."""
        for number, guest in enumerate(self.trip.party.travellers, start=1):
            if guest.id == traveller:
                return guest.name or self.speech.say("Guest {number}", number=number)
        return traveller

    def names(self, travellers: Sequence[str]) -> str:
        return self.speech.listed([self.name(who) for who in travellers])

    def some(self, travellers: Sequence[str], number: int) -> str:
        """Names where only some of those there on a day (1-based) are meant, else ''."""
        there = [guest.id for guest in self.trip.party.travellers if guest.there_on(number)]
        return "" if set(there) <= set(travellers) else self.names(travellers)

    def place(self, place_id: str | None) -> str:
        return "" if place_id is None else self.catalogue.place_name(place_id)

    def day_of(self, figures: DayFigures) -> Day:
        return self.variant.days[figures.number - 1]

    def weekday(self, on: date | None) -> str:
        """'Saturday 8 May'."""
        return self.speech.weekday(on)

    def short(self, on: date | None) -> str:
        """'Sat 8 May'."""
        return self.speech.day(on, "MMMEd")

    def at(self, clock: time | None) -> str:
        return "" if clock is None else self.speech.clock(clock_s(clock))

    def text_of(self, key: str) -> str:
        """The office's own text for this language ('payment.de'), else the one without a language."""
        texts = dict(self.catalogue.office.texts)
        language = self.speech.tag.partition("-")[0]
        return texts.get(f"{key}.{language}") or texts.get(key, "")

    def way_of(self, leg: LegFigures) -> str:
        """'on foot', 'by bike' or 'by e-bike'."""
        if leg.leg.way is Way.WALKING:
            return self.speech.word(ON_FOOT)
        return self.speech.word(BY_E_BIKE if self._on_e_bike(leg) else BY_BIKE)

    def ways_of(self, groups: Sequence[GroupFigures]) -> str:
        """'on foot and by e-bike', each way once."""
        said = dict.fromkeys(self.way_of(leg) for group in groups for leg in group.legs)
        return self.speech.listed(tuple(said))

    def _on_e_bike(self, leg: LegFigures) -> bool:
        if leg.batteries:
            return True
        bike = self.bike(leg.leg.bike)
        return bike is not None and bike.kind is BikeKind.E_BIKE

    def bike(self, ref: Ref | None) -> Bike | None:
        return None if ref is None else self.catalogue.get(Bike, ref)

    def range_of(self, text: str) -> str:
        """A span of clock times as it is printed: '14:00–22:00'."""
        return text.replace("-", DASH)


def paragraphs(*texts: str) -> tuple[str, ...]:
    """Texts parted where a blank line parts them; what is empty is left out."""
    parts = [part.strip() for text in texts for part in text.replace("\r\n", "\n").split("\n\n")]
    return tuple(part for part in parts if part)


def told(*texts: str) -> tuple[str, ...]:
    """Those of the texts that say anything."""
    return tuple(text for text in texts if text)


def sentence(*parts: str) -> str:
    """Parts as one sentence: 'Uneven in places; no exposed edges.'."""
    said = "; ".join(part for part in parts if part)
    return f"{begun(said)}." if said else ""
