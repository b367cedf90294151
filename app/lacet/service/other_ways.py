"""Other ways to spend a day (short, for wet weather): their figures, and what can come next."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacet.figures.values import DayFigures
from lacet.service.ranking import continuing, stage_figures, with_transfer
from lacet.service.session import Session
from lacet.service.sheet.cards import card_of
from lacet.service.sheet.reasons import REASONS
from lacet.service.sheet.way_rows import WayRow, leading, way_row
from lacet.store import StageFilter
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Ref, Stage, Transfer
from lacet.trip.trip import Alternative, Day, Item, Leg, Ride

MOST_STEPS = 200
PLANNED = "As planned"
EVERY_STAGE = StageFilter()


@dataclass(frozen=True, slots=True)
class Step:
    """One card that can come next on another way."""

    title: str
    sub: str
    item: Item


@dataclass(frozen=True, slots=True)
class WaysDesk:
    """What the editor asks about one day (from 0) of the open variant."""

    session: Session
    day: int

    @property
    def planned(self) -> Day:
        opened = self.session.opened
        assert opened is not None, "a day is edited only while a trip is open"
        return opened.variant.days[self.day]

    def rows(self, others: tuple[Alternative, ...]) -> tuple[WayRow, ...]:
        """The plan, then each other way as it would be assessed."""
        figures = self._tried(others)
        wording = self.session.wording
        group = None if figures is None else figures.group
        found = [way_row(PLANNED, self.titles(self.planned.items), group, wording)]
        for index, other in enumerate(others):
            known = figures.alternatives[index].groups if figures is not None else ()
            found.append(way_row(REASONS[other.reason], self.titles(other.items), leading(known), wording))
        return tuple(found)

    def titles(self, items: Sequence[Item]) -> str:
        """The cards in a line."""
        return ", then ".join(self.title(item) for item in items) or "nothing yet"

    def title(self, item: Item) -> str:
        inner = self.session
        assert inner.opened is not None, "a day is edited only while a trip is open"
        figures = inner.opened.assessment.figures.days[self.day]
        return card_of(item, inner.catalogue, figures, None, inner.wording).text

    def steps(self, items: Sequence[Item]) -> list[Step]:
        """Stages and transfers from where the cards so far lead, those to the day's own end first."""
        inner = self.session
        place, end = self.stand_after(items), self._end()
        with inner.project.reading() as unit:
            ask, catalogue = unit.library.stage_rows, inner.catalogue
            found = continuing(ask, EVERY_STAGE, place, catalogue)
            found = found or with_transfer(ask, EVERY_STAGE, place, catalogue, most=MOST_STEPS)
        stages = []
        for offered in found:
            to = offered.row.from_place if offered.backward else offered.row.to_place
            ref = Ref(offered.row.id, offered.row.version)
            leg = Leg(id="", stage=ref, way=offered.way, backward=offered.backward)
            way = "on foot" if offered.way.value == "walking" else "by bike"
            sub = f"{stage_figures(offered, inner.wording)}  {way}"
            stages.append((to != end, Step(offered.title, sub, leg)))
        stages.sort(key=lambda each: each[0])
        rides = _rides(inner.catalogue, place, end)
        return [*(step for _, step in stages), *rides][:MOST_STEPS]

    def stand_after(self, items: Sequence[Item]) -> str | None:
        """The place the cards so far lead to; before the first, where the day begins."""
        for item in reversed(items):
            if isinstance(item, Ride):
                return item.to_place
            if isinstance(item, Leg):
                stage = self.session.catalogue.get(Stage, item.stage)
                if stage is not None:
                    return stage.from_place if item.backward else stage.to_place
        return self._start()

    def _start(self) -> str | None:
        opened = self.session.opened
        assert opened is not None, "a day is edited only while a trip is open"
        days = opened.assessment.figures.days
        group = days[self.day].group
        if group is not None and group.start_place is not None:
            return group.start_place
        before = days[self.day - 1].group if self.day else None
        arrival = opened.trip.arrivals[0].hub if opened.trip.arrivals else None
        return before.end_place if before is not None else arrival

    def _end(self) -> str | None:
        opened = self.session.opened
        group = opened.assessment.figures.days[self.day].group if opened is not None else None
        return group.end_place if group is not None else None

    def _tried(self, others: tuple[Alternative, ...]) -> DayFigures | None:
        opened = self.session.opened
        assert opened is not None, "a day is edited only while a trip is open"
        variant_id, day_id = opened.variant_id, self.planned.id
        shown = self.session.try_out(lambda trip: edits.set_alternatives(trip, variant_id, day_id, others))
        return None if shown is None else shown.assessment.figures.days[self.day]


def _rides(catalogue: Catalogue, place: str | None, end: str | None) -> list[Step]:
    """Transfers from a place: a service's own two ends, or from anywhere to the day's end."""
    found = []
    for service in catalogue.current(Transfer):
        to = _where_to(service, place, end)
        if place is not None and to is not None and to != place:
            ride = Ride(
                id="", transfer=Ref(service.id, service.version), from_place=place, to_place=to,
                minutes=service.minutes,
            )  # fmt: skip
            ends = f"{catalogue.place_name(place)} → {catalogue.place_name(to)}"
            found.append(Step(ends, f"{service.name}, {service.carrier.value}", ride))
    return found


def _where_to(service: Transfer, place: str | None, end: str | None) -> str | None:
    if service.from_place is None or service.to_place is None:
        return end
    if service.from_place == place:
        return service.to_place
    return service.from_place if service.both_ways and service.to_place == place else None
