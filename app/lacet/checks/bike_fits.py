"""Every rider has a bike that fits, carries them, and is where they are."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import Case
from lacet.checks.making import fix
from lacet.checks.words import begun
from lacet.trip import edits
from lacet.trip.finding import COMMON_PRACTICE, Finding, Fix, Level
from lacet.trip.library import Bike, Ref
from lacet.trip.party import Traveller
from lacet.trip.trip import Hire, Leg
from lacet.trip.words import Load, Service, Way

ID = "bike_fits"
SAYS = "A hired bike fits its rider, is free at a depot, carries the load, and stands where its rider is."
MAKER = "the maker's maximum total mass"


def check(case: Case) -> Iterator[Finding]:
    for hire in case.variant.hires:
        bike = case.catalogue.get(Bike, hire.bike) if hire.bike else None
        guest = case.trip.party.traveller(hire.traveller)
        if bike is None or guest is None:
            continue
        yield from _height(case, hire, bike, guest)
        yield from _load(case, hire, bike, guest)
        yield from _free(case, hire, bike)
        yield from _where(case, hire, bike, guest)
    yield from _without(case)


def _height(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    low, high = bike.rider_height_from_cm, bike.rider_height_to_cm
    name = case.trip.party.name_of(guest.id)
    if guest.height_cm is None:
        says = f"How tall {name} is isn't known; {bike.name} may not fit. Ask."
        yield _told(case, hire, Level.NOTE, says, "height", unknown=True)
    elif (low is not None and guest.height_cm < low) or (high is not None and guest.height_cm > high):
        says = (
            f"{bike.name} is made for riders {_from_to(low, high)}; {name} is {guest.height_cm:.0f} cm tall. "
            "Choose another."
        )
        limit = low if low is not None and guest.height_cm < low else high
        yield _told(
            case, hire, Level.STOP, says, "height", figure=guest.height_cm, limit=limit, unit="cm",
            fixes=_that_fit(case, hire, bike, guest),
        )  # fmt: skip


def _from_to(low: float | None, high: float | None) -> str:
    if low is None:
        return f"up to {high:.0f} cm"
    return f"from {low:.0f} cm" + ("" if high is None else f" to {high:.0f} cm")


def _load(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    if bike.maximum_total_kg is None:
        says = f"The maximum load of {bike.name} isn't in the library. Look it up on the frame."
        yield _told(case, hire, Level.NOTE, says, "load", unknown=True)
        return
    rider_kg = case.rules.rider_mass_kg if guest.mass_kg is None else guest.mass_kg
    total_kg = rider_kg + (bike.mass_kg or case.rules.bike_mass_kg) + case.rules.luggage_on_bike_kg
    if total_kg > bike.maximum_total_kg:
        says = (
            f"{bike.name} with {case.trip.party.name_of(guest.id)} and luggage weighs {total_kg:.0f} kg; "
            f"the maker allows {bike.maximum_total_kg:.0f} kg. Choose a stronger bike."
        )
        yield _told(
            case, hire, Level.STOP, says, "load", figure=total_kg, limit=bike.maximum_total_kg, unit="kg",
            source=MAKER, may_overrule=False, fixes=_that_fit(case, hire, bike, guest),
        )  # fmt: skip


def _free(case: Case, hire: Hire, bike: Bike) -> Iterator[Finding]:
    if not bike.depots:
        return
    on = case.trip.date_of(hire.from_day)
    taken = case.commitments.count(Service.BIKE, bike.id, "", on) if on else 0
    have = sum(depot.count for depot in bike.depots) - taken
    wanted = _at_once(case, hire, bike)
    if wanted > have:
        says = f"{wanted} of {bike.name} are needed, {max(have, 0)} are free. Choose another."
        guest = case.traveller(hire.traveller)
        yield _told(
            case, hire, Level.STOP, says, "free", figure=float(wanted), limit=float(have),
            unit="bikes", fixes=_that_fit(case, hire, bike, guest),
        )  # fmt: skip


def _at_once(case: Case, hire: Hire, bike: Bike) -> int:
    """The most of this bike that are out on any one day of the hire, this one included."""
    last = len(case.figures.days)
    hires = [each for each in case.variant.hires if each.bike is not None and each.bike.id == bike.id]
    out = Counter(day for each in hires for day in range(each.from_day, (each.to_day or last) + 1))
    return max((out[day] for day in range(hire.from_day, (hire.to_day or last) + 1)), default=1)


def _where(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    """Follow the bike: it goes where it is ridden or moved, and stays behind on foot."""
    stands: str | None = None
    last = hire.to_day or len(case.figures.days)
    for day in case.figures.days[hire.from_day - 1 : last]:
        group = next((each for each in day.groups if guest.id in each.travellers), None)
        moved = any(move.load is Load.BIKES for move in case.day(day.number).moves)
        if group is None:
            continue
        if moved:
            stands = None
        for step in group.steps:
            if not isinstance(step.item, Leg) or step.item.way is not Way.CYCLING:
                continue
            begins = step.from_place
            if stands is not None and begins is not None and stands != begins:
                who = begun(case.trip.party.name_of(guest.id))
                says = (
                    f"{who} rides from {case.place_name(begins)}, but the bike stands at "
                    f"{case.place_name(stands)}. Move the bikes by van."
                )
                yield replace(_told(case, hire, Level.STOP, says, f"where {day.id}"), day=day.number)
            stands = step.to_place
        if moved:
            stands = group.end_place


def _without(case: Case) -> Iterator[Finding]:
    """Whoever rides has a bike of their own or a hired one."""
    for day in case.figures.days:
        for group in day.groups:
            for leg in group.legs:
                if leg.leg.way is not Way.CYCLING or leg.leg.bike is not None:
                    continue
                missing = [who for who in group.travellers if not _has_bike(case, who, day.number)]
                if missing:
                    names = ", ".join(case.trip.party.name_of(who) for who in missing)
                    yield Finding(
                        check=ID,
                        level=Level.STOP,
                        subject=f"day {day.id} {leg.leg.id} without",
                        day=day.number,
                        travellers=tuple(missing),
                        says=f"No bike for {names}. Hire one, or note that they bring their own.",
                        fixes=_hires(case, missing, day.number),
                    )


def _has_bike(case: Case, who: str, number: int) -> bool:
    return any(
        hire.traveller == who and hire.from_day <= number and (hire.to_day is None or number <= hire.to_day)
        for hire in case.variant.hires
    )


def _hires(case: Case, missing: list[str], number: int) -> tuple[Fix, ...]:
    if len(missing) != 1:
        return ()
    guest = case.traveller(missing[0])
    fitting = [bike for bike in case.catalogue.current(Bike) if _suits(case, bike, guest)]
    return tuple(
        fix(
            f"{bike.name} for {case.trip.party.name_of(guest.id)}",
            edits.set_hire, case, Hire(traveller=guest.id, bike=Ref(bike.id, bike.version), from_day=number),
        )
        for bike in fitting[:3]
    )  # fmt: skip


def _that_fit(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> tuple[Fix, ...]:
    """Bikes of the same kind that fit the rider and carry the load."""
    fitting = [
        other
        for other in case.catalogue.current(Bike)
        if other.id != bike.id and other.kind is bike.kind and _suits(case, other, guest)
    ]
    return tuple(
        fix(f"{other.name} instead", edits.set_hire, case, replace(hire, bike=Ref(other.id, other.version)))
        for other in fitting[:3]
    )


def _suits(case: Case, bike: Bike, guest: Traveller) -> bool:
    rider_kg = case.rules.rider_mass_kg if guest.mass_kg is None else guest.mass_kg
    total_kg = rider_kg + (bike.mass_kg or case.rules.bike_mass_kg) + case.rules.luggage_on_bike_kg
    if bike.maximum_total_kg is not None and total_kg > bike.maximum_total_kg:
        return False
    if guest.height_cm is None:
        return True
    low, high = bike.rider_height_from_cm or 0.0, bike.rider_height_to_cm or 999.0
    return low <= guest.height_cm <= high


def _told(case: Case, hire: Hire, level: Level, says: str, about: str, **more: object) -> Finding:
    source = more.pop("source", COMMON_PRACTICE)
    return Finding(
        check=ID, level=level, subject=f"hire {hire.traveller} {hire.from_day} {about}", says=says,
        travellers=(hire.traveller,), source=str(source), **more,  # type: ignore[arg-type]  # named by the callers
    )  # fmt: skip
