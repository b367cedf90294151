"""What is missing or doubtful in a library, item by item: what to ask the house, what to draw again.

Retired items are left alone. The order is that of the kinds, then of ids. What counts as doubtful is common
practice, no source.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from lacet.days.opening import opening
from lacet.days.seasons import season
from lacet.intake.plan import kind_of
from lacet.tracks.geodesy import distance_m
from lacet.tracks.profile import profile
from lacet.trip.catalogue import Catalogue, Kept
from lacet.trip.errors import LacetError
from lacet.trip.library import Bike, LibraryItem, Lodging, Place, Restaurant, Stage, Tariff, Transfer
from lacet.trip.words import Service, Way

RATES_AHEAD_DAYS = 365
FAR_FROM_PLACE_M = 3_000.0
FAR_FROM_END_M = 500.0
_KINDS = (Place, Stage, Lodging, Restaurant, Transfer, Bike)


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One thing to look after. `what` is a short word to filter by, `says` a sentence with what to do."""

    kind: str
    id: str
    name: str
    what: str
    says: str


def health(
    catalogue: Catalogue, as_of: date, step: Callable[[int, int], None] | None = None
) -> tuple[Doubt, ...]:
    """Everything missing or doubtful in the newest versions, seen from a day.

    Parameters
    ----------
    step
        Told (items looked at, items in all); what it raises ends the look.
    """
    look = _Look(catalogue, as_of, step)
    return tuple(
        doubt
        for doubts in (look.places, look.stages, look.lodgings, look.restaurants, look.transfers, look.bikes)
        for doubt in doubts()
    )


class _Look:
    """One look over a catalogue."""

    def __init__(
        self, catalogue: Catalogue, as_of: date, step: Callable[[int, int], None] | None = None
    ) -> None:
        self._catalogue, self._as_of, self._step = catalogue, as_of, step
        self._seen = 0
        self._of = sum(len(catalogue.items.get(kind, ())) for kind in _KINDS)
        self._stages = catalogue.current(Stage)
        self._at: Counter[str] = Counter()
        for stage in self._stages:
            self._at.update({stage.from_place, stage.to_place})
        self._lodged = {house.place for house in catalogue.current(Lodging)}
        self._served = {
            place
            for transfer in catalogue.current(Transfer)
            for place in (transfer.from_place, transfer.to_place)
            if place is not None
        }
        self._tariffs: dict[tuple[Service, str], list[Tariff]] = {}
        for tariff in catalogue.current(Tariff):
            self._tariffs.setdefault((tariff.service, tariff.subject_id), []).append(tariff)

    def _each(self, kind: type[Kept]) -> Iterator[Kept]:
        for item in self._catalogue.current(kind):
            self._seen += 1
            if self._step is not None:
                self._step(self._seen, self._of)
            yield item

    def places(self) -> Iterator[Doubt]:
        for place in self._each(Place):
            if not self._at[place.id]:
                yield _doubt(place, "unreached", "no stage begins or ends here; add one, or retire the place")

    def stages(self) -> Iterator[Doubt]:
        for stage in self._each(Stage):
            yield from self._line(stage)
            yield from self._ends(stage)
            yield from self._ways(stage)
            yield from _unread(stage, tuple(each.season for each in stage.closures), season)

    def lodgings(self) -> Iterator[Doubt]:
        for house in self._each(Lodging):
            yield from self._rates(house, Service.LODGING)
            yield from self._position(house)
            if not house.rooms:
                yield _doubt(house, "rooms", "no rooms are noted, so nobody can tell whether a party fits")
            if not house.check_in:
                yield _doubt(house, "check-in", "nobody has said when guests are received; ask")
            if house.charging is None:
                yield _doubt(house, "charging", "nobody has said whether e-bikes can be charged; ask")
            if house.vehicle_access is None:
                yield _doubt(house, "access", "nobody has said whether a van reaches the door; ask")
            yield from _unread(house, house.closed, season)

    def restaurants(self) -> Iterator[Doubt]:
        for place in self._each(Restaurant):
            if not place.opening:
                yield _doubt(place, "opening", "no opening times, so no evening here can be proved; ask")
            yield from _unread(place, (place.opening,) if place.opening else (), opening)
            yield from _unread(place, place.closed, season)
            yield from self._rates(place, Service.RESTAURANT)
            yield from self._position(place)

    def transfers(self) -> Iterator[Doubt]:
        for carrier in self._each(Transfer):
            services = (Service.TRANSFER, Service.BAG_MOVE)
            if not any((service, carrier.id) in self._tariffs for service in services):
                yield _doubt(carrier, "rates", "no rates; add a tariff")
            if not carrier.seats and not carrier.bags and not carrier.bikes:
                yield _doubt(carrier, "capacity", "nobody has said how many guests, bags or bikes it takes")

    def bikes(self) -> Iterator[Doubt]:
        for bike in self._each(Bike):
            yield from self._rates(bike, Service.BIKE)
            if bike.rider_height_from_cm is None or bike.rider_height_to_cm is None:
                yield _doubt(bike, "size", "no range of riders' heights, so nobody can tell whom it fits")
            if not bike.depots:
                yield _doubt(bike, "depots", "nobody has said where any stands")

    def _line(self, stage: Stage) -> Iterator[Doubt]:
        if stage.track_id not in self._catalogue.tracks:
            yield _doubt(stage, "line", "it has no line; take in a GPX file for it")
            return
        track = self._catalogue.tracks[stage.track_id]
        figures = profile(track)
        if figures.ascent_m is None:
            yield _doubt(stage, "elevation", "its climb is unknown; fill its elevation from a raster")
        elif figures.unknown_share > 0:
            share = f"{figures.unknown_share:.0%}"
            yield _doubt(stage, "elevation", f"{share} of its length has no elevation; fill it from a raster")
        for index, place_id, word in ((0, stage.from_place, "begins"), (-1, stage.to_place, "ends")):
            place = self._catalogue.place(place_id)
            if place is None:
                yield _doubt(stage, "places", f"the library has no place '{place_id}', where it {word}")
                continue
            end = (float(track.latitude_deg[index]), float(track.longitude_deg[index]))
            away_m = distance_m(end, (place.latitude_deg, place.longitude_deg))
            if away_m > FAR_FROM_END_M:
                says = f"its line {word} {away_m / 1000:.1f} km from {place.name}; trim it or move the place"
                yield _doubt(stage, "ends", says)

    def _ends(self, stage: Stage) -> Iterator[Doubt]:
        """A place that only this stage reaches, without a bed, a hub or a carrier: there is no way on."""
        for place_id in dict.fromkeys((stage.from_place, stage.to_place)):
            place = self._catalogue.place(place_id)
            alone = self._at[place_id] == 1 and stage.from_place != stage.to_place
            fetched = place_id in self._lodged | self._served or (place is not None and bool(place.hub))
            if place is not None and alone and not fetched:
                says = f"from {place.name} there is no way but back; add a stage, a house or a transfer there"
                yield _doubt(stage, "dead end", says)

    def _ways(self, stage: Stage) -> Iterator[Doubt]:
        for facts in stage.ways:
            word = "on foot" if facts.way is Way.WALKING else "by bike"
            if facts.footing is None or facts.exposure is None:
                yield _doubt(stage, "ground", f"footing or exposure {word} isn't noted")
            if facts.way is Way.CYCLING and not facts.surfaces:
                yield _doubt(stage, "surface", "no surface is noted, so cycling times are guesses")

    def _rates(self, item: LibraryItem, service: Service) -> Iterator[Doubt]:
        tariffs = self._tariffs.get((service, item.id), [])
        if not tariffs:
            yield _doubt(item, "rates", "no rates; add a tariff")
            return
        ends = max(tariff.valid_to for tariff in tariffs)
        if ends < self._as_of + timedelta(days=RATES_AHEAD_DAYS):
            yield _doubt(item, "rates", f"its rates end on {ends}; ask for the next season's")

    def _position(self, item: Lodging | Restaurant) -> Iterator[Doubt]:
        place = self._catalogue.place(item.place)
        if place is None:
            yield _doubt(item, "places", f"the library has no place '{item.place}'")
            return
        away_m = distance_m(
            (item.latitude_deg, item.longitude_deg), (place.latitude_deg, place.longitude_deg)
        )
        if away_m > FAR_FROM_PLACE_M:
            says = f"it lies {away_m / 1000:.1f} km from {place.name}; is its position right?"
            yield _doubt(item, "position", says)


def _unread(item: LibraryItem, texts: tuple[str, ...], read: Callable[[str], object]) -> Iterator[Doubt]:
    for text in texts:
        try:
            read(text)
        except LacetError as refusal:
            yield _doubt(item, "unreadable", str(refusal).rstrip("."))


def _doubt(item: LibraryItem, what: str, says: str) -> Doubt:
    return Doubt(kind=kind_of(item).one, id=item.id, name=item.name, what=what, says=f"{says}.")
