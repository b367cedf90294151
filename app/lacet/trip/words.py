"""The closed vocabularies of the trade: every choice that is stored by name.

The stored text is the member's value, so a value is never changed once a library uses it.
"""

from enum import StrEnum


class Way(StrEnum):
    """How a leg is travelled."""

    WALKING = "walking"
    CYCLING = "cycling"


class PlaceKind(StrEnum):
    TOWN = "town"
    VILLAGE = "village"
    HAMLET = "hamlet"
    INN = "inn"
    HARBOUR = "harbour"
    AIRFIELD = "airfield"
    STATION = "station"
    VIEWPOINT = "viewpoint"
    OTHER = "other"


class Means(StrEnum):
    """How guests reach or leave the region."""

    FERRY = "ferry"
    FLIGHT = "flight"
    TRAIN = "train"
    COACH = "coach"
    CAR = "car"
    OTHER = "other"


class Footing(StrEnum):
    """What is underfoot, easiest first: the order is the scale."""

    EVEN = "even"
    UNEVEN = "uneven"
    ROUGH = "rough"
    ROCKY = "rocky"


class Exposure(StrEnum):
    """How near the drop is, least first."""

    NONE = "none"
    SOME = "some"
    EXPOSED = "exposed"


class Traffic(StrEnum):
    """Motor traffic beside the guests, least first."""

    NONE = "none"
    QUIET = "quiet"
    MODERATE = "moderate"
    BUSY = "busy"


class Grade(StrEnum):
    """The office's own grade, easiest first."""

    EASY = "easy"
    MODERATE = "moderate"
    DEMANDING = "demanding"


class Surface(StrEnum):
    ASPHALT = "asphalt"
    COMPACTED_GRAVEL = "compacted_gravel"
    LOOSE_GRAVEL = "loose_gravel"
    PATH = "path"
    ROCK = "rock"


class Signal(StrEnum):
    """Telephone signal along a stage."""

    GOOD = "good"
    PATCHY = "patchy"
    NONE = "none"
    UNKNOWN = "unknown"


class PointKind(StrEnum):
    WATER = "water"
    FOOD = "food"
    SHELTER = "shelter"
    HAZARD = "hazard"
    VIEWPOINT = "viewpoint"
    CHARGING = "charging"
    TAXI_PICKUP = "taxi_pickup"


class ClosureLevel(StrEnum):
    """Who closes a stage; what an authority closes nobody in the office can open."""

    ADVICE = "advice"
    AUTHORITY = "authority"


class Direction(StrEnum):
    OUT = "out"
    BACK = "back"


class Answer(StrEnum):
    """What a kitchen or house says when asked whether it can serve a need."""

    YES = "yes"
    NO = "no"
    ON_REQUEST = "on_request"


class Board(StrEnum):
    ROOM_ONLY = "room_only"
    BREAKFAST = "breakfast"
    HALF_BOARD = "half_board"
    FULL_BOARD = "full_board"


class MealKind(StrEnum):
    BREAKFAST = "breakfast"
    PACKED_LUNCH = "packed_lunch"
    DINNER = "dinner"


class Payer(StrEnum):
    """Who pays for a service, as the proposal tells it."""

    INCLUDED = "included"
    OPTIONAL = "optional"
    LOCALLY = "locally"
    OWN = "own"


class Carrier(StrEnum):
    TAXI = "taxi"
    VAN = "van"
    BUS = "bus"
    TRAIN = "train"
    FERRY = "ferry"
    REP = "rep"


class Load(StrEnum):
    BAGS = "bags"
    BIKES = "bikes"


class BikeKind(StrEnum):
    TOURING = "touring"
    E_BIKE = "e_bike"
    CHILD = "child"
    TANDEM = "tandem"
    TRAILER = "trailer"


class NeedLevel(StrEnum):
    MUST = "must"
    PREFERS = "prefers"


class BookingState(StrEnum):
    REQUESTED = "requested"
    OPTION = "option"
    CONFIRMED = "confirmed"
    WAITLISTED = "waitlisted"
    REFUSED = "refused"
    CANCELLED = "cancelled"


class Service(StrEnum):
    """What a supplier supplies: the subject of tariffs and bookings."""

    LODGING = "lodging"
    RESTAURANT = "restaurant"
    TRANSFER = "transfer"
    BIKE = "bike"
    BAG_MOVE = "bag_move"
    REP = "rep"
    ENTRY = "entry"
    VISITOR_TAX = "visitor_tax"
    FIXED_TRIP = "fixed_trip"
    FIXED_PERSON = "fixed_person"


class Unit(StrEnum):
    """What one unit of a rate buys."""

    ROOM_NIGHT = "room_night"
    PERSON_NIGHT = "person_night"
    PERSON = "person"
    VEHICLE = "vehicle"
    BIKE_DAY = "bike_day"
    BIKE_HIRE = "bike_hire"
    DEPOSIT = "deposit"
    BAG = "bag"
    MOVE = "move"
    HOUR = "hour"
    DAY = "day"
    TRIP = "trip"


class Reason(StrEnum):
    """Why a day has an alternative."""

    SHORTER = "shorter"
    WET_WEATHER = "wet_weather"
    LONGER = "longer"
    OTHER = "other"
