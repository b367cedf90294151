"""Library items: what an operator knows about a region, apart from any trip.

Every item is a versioned row (id, version). An edit adds a version; nothing is overwritten, and a
variant goes on pointing at the version it was built with. Texts that carry a small language of their
own are kept as written and read by the room that knows it: opening hours and seasons by `days`.
"""

from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from lacet.trip.money import Money
from lacet.trip.texts import Key
from lacet.trip.words import (
    Answer,
    BikeKind,
    Board,
    Carrier,
    ClosureLevel,
    Direction,
    Exposure,
    Footing,
    Grade,
    MealKind,
    Means,
    PlaceKind,
    PointKind,
    Service,
    Signal,
    Surface,
    Traffic,
    Unit,
    Way,
)


@dataclass(frozen=True, slots=True, order=True)
class Ref:
    """One version of one library item."""

    id: Key
    version: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Somewhere stages begin and end; a hub is where guests reach or leave the region."""

    id: str
    version: int = 1
    retired: bool = False
    name: str
    kind: PlaceKind = PlaceKind.OTHER
    latitude_deg: float
    longitude_deg: float
    height_m: float | None = None
    hub: tuple[Means, ...] = ()
    has_water: bool | None = None
    has_food: bool | None = None
    has_shop: bool | None = None
    rest_day_ideas: tuple[str, ...] = ()
    note: str = ""
    picture_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SurfaceStretch:
    """Surface between two distances along the stage, in its own direction [m]."""

    from_m: float
    to_m: float
    surface: Surface


@dataclass(frozen=True, slots=True)
class TrafficStretch:
    """Motor traffic between two distances along the stage, in its own direction [m]."""

    from_m: float
    to_m: float
    traffic: Traffic


@dataclass(frozen=True, slots=True, kw_only=True)
class StageWay:
    """What a stage is like for those on foot, or for those on a bike. None = nobody has said."""

    way: Way
    footing: Footing | None = None
    exposure: Exposure | None = None
    grade: Grade | None = None
    surfaces: tuple[SurfaceStretch, ...] = ()
    traffic: tuple[TrafficStretch, ...] = ()


@dataclass(frozen=True, slots=True)
class Closure:
    """When something is shut: a season text of `days`, who says so, and what to tell guests."""

    season: str
    level: ClosureLevel
    says: str = ""


@dataclass(frozen=True, slots=True)
class StagePoint:
    """Something along a stage; `along_m` runs in the stage's own direction."""

    along_m: float
    kind: PointKind
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Cue:
    """One written direction. `along_m` counts in the stage's own direction for both directions."""

    along_m: float
    direction: Direction
    says: str


@dataclass(frozen=True, slots=True)
class Recording:
    """A recorded trip along the stage, stripped of who and when."""

    way: Way
    moving_s: float
    distance_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A way from one place to another; where it runs is kept as a track, by id."""

    id: str
    version: int = 1
    retired: bool = False
    name: str
    from_place: str
    to_place: str
    track_id: str
    ways: tuple[StageWay, ...]
    text: str = ""
    highlights: tuple[str, ...] = ()
    closures: tuple[Closure, ...] = ()
    snow_season: str = ""
    signal: Signal = Signal.UNKNOWN
    points: tuple[StagePoint, ...] = ()
    cues: tuple[Cue, ...] = ()
    recordings: tuple[Recording, ...] = ()
    note: str = ""
    picture_ids: tuple[str, ...] = ()

    def on(self, way: Way) -> StageWay | None:
        """What the stage is like on this way, or None where it isn't meant for it."""
        return next((facts for facts in self.ways if facts.way is way), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Rooms of one kind in a house: how many, and how many sleep in each."""

    kind: str
    sleeps: int
    count: int
    beds: str = ""
    private_bath: bool | None = None


@dataclass(frozen=True, slots=True)
class DietAnswer:
    """What a kitchen said about one need, by the need's kind (see `party.NEED_KINDS`)."""

    need: str
    answer: Answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Lodging:
    """A house to sleep in. Clock times are texts as the house gives them ("15:00-21:00"), local time.

    `late_key` says that the house can leave a key for those who come after `check_in`.
    """

    id: str
    version: int = 1
    retired: bool = False
    name: str
    place: str
    latitude_deg: float
    longitude_deg: float
    kind: str = "inn"
    rooms: tuple[Room, ...] = ()
    closed: tuple[str, ...] = ()
    check_in: str = ""
    late_key: bool | None = None
    breakfast: str = ""
    serves_dinner: bool | None = None
    dinner_hours: str = ""
    diets: tuple[DietAnswer, ...] = ()
    charging: bool | None = None
    bike_store: bool | None = None
    vehicle_access: bool | None = None
    release_days: int | None = None
    address: str = ""
    telephone: str = ""
    text: str = ""
    note: str = ""
    picture_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Restaurant:
    """A place to eat. `opening` is an OSM opening_hours text; empty = nobody has said."""

    id: str
    version: int = 1
    retired: bool = False
    name: str
    place: str
    latitude_deg: float
    longitude_deg: float
    opening: str = ""
    closed: tuple[str, ...] = ()
    diets: tuple[DietAnswer, ...] = ()
    seats: int | None = None
    telephone: str = ""
    text: str = ""
    note: str = ""
    picture_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Transfer:
    """A carrier's service. Without places it goes anywhere in the region; `minutes` is then unknown."""

    id: str
    version: int = 1
    retired: bool = False
    name: str
    carrier: Carrier
    from_place: str | None = None
    to_place: str | None = None
    minutes: int | None = None
    both_ways: bool = True
    seats: int | None = None
    bags: int | None = None
    bikes: int | None = None
    runs: str = ""
    telephone: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Assist:
    """One assist level of an e-bike: motor power as a share of the rider's own."""

    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Depot:
    """How many bikes of one model stand at a place."""

    place: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bike:
    """One model in one size. `maximum_total_kg` is the maker's limit for bike, rider and luggage."""

    id: str
    version: int = 1
    retired: bool = False
    name: str
    kind: BikeKind
    rider_height_from_cm: float | None = None
    rider_height_to_cm: float | None = None
    mass_kg: float | None = None
    maximum_total_kg: float | None = None
    battery_wh: float | None = None
    battery_health_share: float = 1.0
    assists: tuple[Assist, ...] = ()
    depots: tuple[Depot, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """One line of a tariff. Empty season = all year; no weekdays = every day (Monday is 0).

    `vehicle_seats` is the largest party a vehicle rate holds; ages are inclusive, in whole years.
    `single_use` is the room let to one person; `meal` says which meal a person's rate buys (None = any).
    """

    unit: Unit
    amount: Money
    room_kind: str | None = None
    board: Board | None = None
    single_use: bool = False
    season: str = ""
    weekdays: tuple[int, ...] = ()
    age_from: int | None = None
    age_to: int | None = None
    vehicle_seats: int | None = None
    minimum_nights: int = 1
    meal: MealKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tariff:
    """What a supplier charges, valid between two dates (both inclusive).

    `subject_id` names the library item (empty for services without one: bag moves, rep, fixed costs).
    """

    id: str
    version: int = 1
    retired: bool = False
    name: str
    service: Service
    subject_id: str = ""
    valid_from: date
    valid_to: date
    rates: tuple[Rate, ...]
    paid_locally: bool = False
    release_days: int | None = None
    allotment: int | None = None
    vat_note: str = ""
    note: str = ""


LibraryItem: TypeAlias = Place | Stage | Lodging | Restaurant | Transfer | Bike | Tariff
