"""Reads Verrin's sheets: one function a kind, from rows of text to library items.

The sheets are ours, so a slip in them is a bug: it raises `SourceRefused` with file and row.
"""

import csv
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from lacet.trip.errors import LacetError
from lacet.trip.library import (
    Assist,
    Bike,
    Closure,
    Cue,
    Depot,
    DietAnswer,
    Lodging,
    Place,
    Rate,
    Restaurant,
    Room,
    Stage,
    StagePoint,
    StageWay,
    SurfaceStretch,
    Tariff,
    TrafficStretch,
    Transfer,
)
from lacet.trip.money import Money
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

Row = dict[str, str]
Made = TypeVar("Made")
_YES = {"yes": True, "no": False, "": None}


class SourceRefused(LacetError):
    """A row of a sheet that can't be read."""


def rows_of(folder: Traversable, name: str) -> Iterator[tuple[int, Row]]:
    """Row number in the sheet (the header is 1) and the row."""
    text = folder.joinpath(name).read_text(encoding="utf-8")
    yield from enumerate(csv.DictReader(text.splitlines()), start=2)


def read(folder: Traversable, name: str, make: Callable[[Row], Made]) -> list[Made]:
    """Every row of a sheet, made into something.

    Raises
    ------
    SourceRefused
        With file and row when one can't be read.
    """
    made = []
    for number, row in rows_of(folder, name):
        try:
            made.append(make(row))
        except (KeyError, ValueError) as error:
            raise SourceRefused(f"{name}, row {number}: {error}") from error
    return made


def place(row: Row) -> Place:
    """One row of places.csv."""
    hub = (Means.FERRY,) if row["ferry"] == "yes" else ()
    hub = (Means.FLIGHT,) if row["kind"] == "airfield" else hub
    return Place(
        id=row["id"],
        name=row["name"],
        kind=PlaceKind(row["kind"]),
        latitude_deg=float(row["latitude"]),
        longitude_deg=float(row["longitude"]),
        height_m=float(row["height_m"]),
        hub=hub,
        has_water=_YES[row["water"]],
        has_food=_YES[row["food"]],
        has_shop=_YES[row["shop"]],
        note=row["note"],
    )


def stage(row: Row, points: tuple[StagePoint, ...], cues: tuple[Cue, ...]) -> Stage:
    """One row of stages.csv with its points and directions."""
    meant = tuple(Way) if row["ways"] == "both" else (Way(row["ways"]),)
    surfaces = tuple(SurfaceStretch(a, b, Surface(text)) for a, b, text in _stretches(row["surface"]))
    traffic = tuple(TrafficStretch(a, b, Traffic(text)) for a, b, text in _stretches(row["traffic"]))
    closures: tuple[Closure, ...] = ()
    if row["closed_season"]:
        closures = (Closure(row["closed_season"], ClosureLevel(row["closed_level"]), row["closed_text"]),)
    return Stage(
        id=row["id"],
        name=row["name"],
        from_place=row["from_place"],
        to_place=row["to_place"],
        track_id=row["id"],
        ways=tuple(
            StageWay(
                way=way,
                footing=_word(Footing, row[f"footing_{way.value}"]),
                exposure=_word(Exposure, row[f"exposure_{way.value}"]),
                grade=_word(Grade, row[f"grade_{way.value}"]),
                surfaces=surfaces,
                traffic=traffic,
            )
            for way in meant
        ),
        text=row["text"],
        highlights=_listed(row["highlights"]),
        closures=closures,
        snow_season=row["snow_season"],
        signal=Signal(row["signal"] or "unknown"),
        points=points,
        cues=cues,
    )


def point(row: Row) -> tuple[str, StagePoint]:
    """One row of points.csv: the stage, and what lies along it."""
    return row["stage"], StagePoint(float(row["km"]) * 1000, PointKind(row["kind"]), row["name"], row["note"])


def cue(row: Row) -> tuple[str, Cue]:
    """One row of cues.csv: the stage, and one written direction."""
    return row["stage"], Cue(float(row["km"]) * 1000, Direction(row["direction"]), row["text"])


def lodging(row: Row) -> Lodging:
    """One row of lodgings.csv."""
    return Lodging(
        id=row["id"],
        name=row["name"],
        place=row["place"],
        latitude_deg=float(row["latitude"]),
        longitude_deg=float(row["longitude"]),
        kind=row["kind"],
        rooms=tuple(_room(text) for text in _listed(row["rooms"])),
        closed=_listed(row["closed"]),
        check_in=row["check_in"],
        late_key=_YES[row["late_key"]],
        breakfast=row["breakfast"],
        serves_dinner=_YES[row["serves_dinner"]],
        diets=_diets(row["diets"]),
        charging=_YES[row["charging"]],
        bike_store=_YES[row["bike_store"]],
        vehicle_access=_YES[row["vehicle_access"]],
        release_days=_whole(row["release_days"]),
        address=row["address"],
        telephone=row["telephone"],
        text=row["text"],
    )


def restaurant(row: Row) -> Restaurant:
    """One row of restaurants.csv."""
    return Restaurant(
        id=row["id"],
        name=row["name"],
        place=row["place"],
        latitude_deg=float(row["latitude"]),
        longitude_deg=float(row["longitude"]),
        opening=row["opening"],
        closed=_listed(row["closed"]),
        diets=_diets(row["diets"]),
        seats=_whole(row["seats"]),
        telephone=row["telephone"],
        text=row["text"],
    )


def transfer(row: Row) -> Transfer:
    """One row of transfers.csv."""
    return Transfer(
        id=row["id"],
        name=row["name"],
        carrier=Carrier(row["carrier"]),
        from_place=row["from_place"] or None,
        to_place=row["to_place"] or None,
        minutes=_whole(row["minutes"]),
        both_ways=row["both_ways"] == "yes",
        seats=_whole(row["seats"]),
        bags=_whole(row["bags"]),
        bikes=_whole(row["bikes"]),
        runs=row["runs"],
        telephone=row["telephone"],
        note=row["note"],
    )


def bike(row: Row) -> Bike:
    """One row of bikes.csv."""
    assists = tuple(Assist(name, float(share)) for name, share in _pairs(row["assists"]))
    return Bike(
        id=row["id"],
        name=row["name"],
        kind=BikeKind(row["kind"]),
        rider_height_from_cm=_number(row["rider_height_from_cm"]),
        rider_height_to_cm=_number(row["rider_height_to_cm"]),
        mass_kg=_number(row["mass_kg"]),
        maximum_total_kg=_number(row["maximum_total_kg"]),
        battery_wh=_number(row["battery_wh"]),
        assists=assists,
        depots=tuple(Depot(where, int(count)) for where, count in _pairs(row["depots"])),
    )


def rate(row: Row, currency: str) -> tuple[Tariff, Rate]:
    """One row of rates.csv: the tariff it belongs to (without rates), and the rate."""
    tariff = Tariff(
        id=row["tariff"],
        name=row["name"],
        service=Service(row["service"]),
        subject_id=row["subject"],
        valid_from=date.fromisoformat(row["valid_from"]),
        valid_to=date.fromisoformat(row["valid_to"]),
        rates=(),
        paid_locally=row["paid_locally"] == "yes",
    )
    return tariff, Rate(
        unit=Unit(row["unit"]),
        amount=Money(Decimal(row["amount"]), currency),
        room_kind=row["room_kind"] or None,
        board=_word(Board, row["board"]),
        single_use=row["single_use"] == "yes",
        season=row["season"],
        age_from=_whole(row["age_from"]),
        age_to=_whole(row["age_to"]),
        vehicle_seats=_whole(row["vehicle_seats"]),
        minimum_nights=_whole(row["minimum_nights"]) or 1,
        meal=_word(MealKind, row["meal"]),
    )


def _room(text: str) -> Room:
    kind, sleeps, count, bath = text.split(":")
    return Room(kind=kind, sleeps=int(sleeps), count=int(count), private_bath=bath == "private")


def _diets(text: str) -> tuple[DietAnswer, ...]:
    return tuple(DietAnswer(need, Answer(answer)) for need, answer in _pairs(text))


def _pairs(text: str) -> list[tuple[str, str]]:
    """'a=1; b=2' as pairs."""
    found = (part.split("=", 1) for part in _listed(text))
    return [(name.strip(), value.strip()) for name, value in found]


def _stretches(text: str) -> list[tuple[float, float, str]]:
    """'0.0-1.2 asphalt; 1.2-5.4 path' in metres."""
    found = []
    for part in _listed(text):
        span, word = part.split(" ", 1)
        begin, end = span.split("-")
        found.append((float(begin) * 1000, float(end) * 1000, word))
    return found


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _word(kind: type[Any], text: str) -> Any:
    return kind(text) if text else None


def _whole(text: str) -> int | None:
    return int(text) if text else None


def _number(text: str) -> float | None:
    return float(text) if text else None
