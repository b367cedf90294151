"""Every rider has a bike that fits and carries them, and that a depot has left.

Who is grown up is common practice, no source; a trailer is sat in, so no height is asked for.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import Case, DayCase, Ground
from lacet.checks.making import fix
from lacet.figures.values import DayFigures
from lacet.language import Text, to_count, to_say
from lacet.trip import edits
from lacet.trip.finding import COMMON_PRACTICE, Finding, Fix, Level, subject
from lacet.trip.hires import days_of, named_by_legs
from lacet.trip.library import Bike, Ref
from lacet.trip.party import Traveller
from lacet.trip.trip import Hire
from lacet.trip.words import BikeKind, Service, Way

ID = "bike_fits"
SAYS = "Every rider has a bike; a hired one fits its rider, carries the load and is free."
GROWN_UP = 16
MAKER = "the maker's maximum total mass"


def check(case: Case) -> Iterator[Finding]:
    had = (*case.variant.hires, *named_by_legs(case.trip.party, case.variant))
    for hire in had:
        bike = case.catalogue.get(Bike, hire.bike) if hire.bike else None
        guest = case.trip.party.traveller(hire.traveller)
        if bike is None or guest is None:
            continue
        yield from _kind(case, hire, bike, guest)
        yield from _height(case, hire, bike, guest)
        yield from _load(case, hire, bike, guest)
        yield from _free(case, hire, bike, had)


def _kind(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    """A child's bike is for a child, a bike of unknown size for somebody who isn't one."""
    name = case.trip.party.name_of(guest.id)
    grown = guest.age is None or guest.age >= GROWN_UP
    if bike.kind is BikeKind.CHILD and grown:
        says = to_say(
            "{bike} is a child's bike; {name} is grown up. Choose another.", bike=bike.name, name=name
        )
        fixes = _that_fit(case, hire, replace(bike, kind=BikeKind.TOURING), guest)
        yield _told(case, hire, Level.STOP, says, "kind", fixes=fixes)


def _height(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    low, high = bike.rider_height_from_cm, bike.rider_height_to_cm
    name = case.trip.party.name_of(guest.id)
    if bike.kind is BikeKind.TRAILER:
        return
    if low is None and high is None:
        says = to_say("For which heights {bike} is made isn't in the library. Look it up.", bike=bike.name)
        yield _told(case, hire, Level.NOTE, says, "height_unknown", unknown=True)
        return
    if guest.height_cm is None:
        says = to_say("How tall {name} is isn't known; {bike} may not fit. Ask.", name=name, bike=bike.name)
        yield _told(case, hire, Level.NOTE, says, "height_unknown", unknown=True)
    elif (low is not None and guest.height_cm < low) or (high is not None and guest.height_cm > high):
        says = to_say(
            "{bike} is made for riders {from_to}; {name} is {height_cm:.0f} cm tall. Choose another.",
            bike=bike.name,
            from_to=_from_to(low, high),
            name=name,
            height_cm=guest.height_cm,
        )
        limit = low if low is not None and guest.height_cm < low else high
        yield _told(
            case, hire, Level.STOP, says, "height", figure=guest.height_cm, limit=limit, unit="cm",
            fixes=_that_fit(case, hire, bike, guest),
        )  # fmt: skip


def _from_to(low: float | None, high: float | None) -> Text:
    if low is None:
        return to_say("up to {high_cm:.0f} cm", high_cm=high)
    if high is None:
        return to_say("from {low_cm:.0f} cm", low_cm=low)
    return to_say("from {low_cm:.0f} cm to {high_cm:.0f} cm", low_cm=low, high_cm=high)


def _load(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> Iterator[Finding]:
    if bike.maximum_total_kg is None:
        says = to_say(
            "The maximum load of {bike} isn't in the library. Look it up on the frame.", bike=bike.name
        )
        yield _told(case, hire, Level.NOTE, says, "load_unknown", unknown=True)
        return
    total_kg = _total_kg(case, bike, guest)
    if guest.mass_kg is None and total_kg <= bike.maximum_total_kg:
        most_kg = bike.maximum_total_kg - total_kg + case.rules.rider_mass_kg
        says = to_say(
            "How heavy {who} is isn't known; with luggage {bike} carries riders up to {most_kg:.0f} kg. Ask.",
            who=case.trip.party.name_of(guest.id),
            bike=bike.name,
            most_kg=most_kg,
        )
        yield _told(case, hire, Level.NOTE, says, "load_unknown", unknown=True, source=MAKER)
    elif total_kg > bike.maximum_total_kg:
        says = to_say(
            "{bike} with {who} and luggage weighs {total_kg:.0f} kg; the maker allows "
            "{maximum_total_kg:.0f} kg. Choose a stronger bike.",
            bike=bike.name,
            who=case.trip.party.name_of(guest.id),
            total_kg=total_kg,
            maximum_total_kg=bike.maximum_total_kg,
        )
        yield _told(
            case, hire, Level.STOP, says, "load", figure=total_kg, limit=bike.maximum_total_kg, unit="kg",
            source=MAKER, may_overrule=False, fixes=_that_fit(case, hire, bike, guest),
        )  # fmt: skip


def _free(case: Case, hire: Hire, bike: Bike, had: tuple[Hire, ...]) -> Iterator[Finding]:
    """Enough of this bike in the depots on the worst day of the hire, those of other trips taken off."""
    if not bike.depots:
        says = to_say("How many of {bike} there are isn't in the library. Ask the depot.", bike=bike.name)
        yield _told(case, hire, Level.NOTE, says, "count_unknown", unknown=True)
        return
    out, owned = _out(case, bike, had), sum(depot.count for depot in bike.depots)
    spare: dict[int, tuple[int, int]] = {}
    for number in days_of(hire, case.variant):
        on = case.trip.date_of(number)
        taken = case.commitments.count(Service.BIKE, bike.id, "", on) if on else 0
        spare[number] = (out[number], max(owned - taken, 0))
    wanted, have = max(spare.values(), key=lambda each: each[0] - each[1], default=(0, 0))
    if wanted > have:
        says = to_count(
            "{count} of {bike} is needed, {have} free. Choose another.",
            "{count} of {bike} are needed, {have} free. Choose another.",
            wanted,
            bike=bike.name,
            have=have,
        )
        yield _told(
            case, hire, Level.STOP, says, "free", figure=float(wanted), limit=float(have),
            unit="bikes", fixes=_that_fit(case, hire, bike, case.traveller(hire.traveller)),
        )  # fmt: skip


def _out(case: Case, bike: Bike, had: tuple[Hire, ...]) -> Counter[int]:
    """How many of this bike the variant has out on each day."""
    hires = [each for each in had if each.bike is not None and each.bike.id == bike.id]
    return Counter(day for each in hires for day in days_of(each, case.variant))


def check_day(case: DayCase) -> Iterator[Finding]:
    """Whoever rides has a bike of their own or a hired one."""
    hirers = [hire.traveller for hire in case.hires]
    for day, group in case.groups():
        for leg in group.legs:
            if leg.leg.way is not Way.CYCLING or leg.leg.bike is not None:
                continue
            missing = [who for who in group.travellers if who not in hirers]
            if missing:
                names = tuple(case.trip.party.name_of(who) for who in missing)
                yield Finding(
                    check=ID,
                    level=Level.STOP,
                    code="without",
                    subject=subject({"day": day.id, "leg": leg.leg.id}),
                    day=day.number,
                    travellers=tuple(missing),
                    says=to_say(
                        "No bike for {names}. Hire one, or note that they bring their own.", names=names
                    ),
                    fixes=_hires(case, missing, day),
                )


def _hires(case: DayCase, missing: list[str], day: DayFigures) -> tuple[Fix, ...]:
    if len(missing) != 1:
        return ()
    guest = case.traveller(missing[0])
    fitting = [bike for bike in case.catalogue.current(Bike) if _suits(case, bike, guest)]
    return tuple(
        fix(
            to_say("{bike} for {who}", bike=bike.name, who=case.trip.party.name_of(guest.id)),
            edits.set_hire, case,
            Hire(traveller=guest.id, bike=Ref(bike.id, bike.version), from_day=_from(day)),
        )
        for bike in fitting[:3]
    )  # fmt: skip


def _from(day: DayFigures) -> str | None:
    """From this day on; from the first day on is from the beginning, whichever day that becomes."""
    return None if day.number == 1 else day.id


def _that_fit(case: Case, hire: Hire, bike: Bike, guest: Traveller) -> tuple[Fix, ...]:
    """Bikes of the same kind that fit and carry the rider; one that a leg names is changed on the leg."""
    if hire not in case.variant.hires:
        return ()
    fitting = [
        other
        for other in case.catalogue.current(Bike)
        if other.id != bike.id and other.kind is bike.kind and _suits(case, other, guest)
    ]
    return tuple(
        fix(
            to_say("{other} instead", other=other.name),
            edits.set_hire,
            case,
            replace(hire, bike=Ref(other.id, other.version)),
        )
        for other in fitting[:3]
    )


def _suits(case: Ground, bike: Bike, guest: Traveller) -> bool:
    if bike.maximum_total_kg is not None and _total_kg(case, bike, guest) > bike.maximum_total_kg:
        return False
    if guest.height_cm is None:
        return True
    low, high = bike.rider_height_from_cm or 0.0, bike.rider_height_to_cm or 999.0
    return low <= guest.height_cm <= high


def _total_kg(case: Ground, bike: Bike, guest: Traveller) -> float:
    """Bike, rider and day luggage; what isn't known is as the house rules have it."""
    rider_kg = case.rules.rider_mass_kg if guest.mass_kg is None else guest.mass_kg
    return rider_kg + (bike.mass_kg or case.rules.bike_mass_kg) + case.rules.luggage_on_bike_kg


def _told(case: Case, hire: Hire, level: Level, says: Text, code: str, **more: object) -> Finding:
    source = more.pop("source", COMMON_PRACTICE)
    return Finding(
        check=ID, code=code, level=level, says=says,
        subject=subject({"guest": hire.traveller, "from": hire.from_day or "1"}),
        travellers=(hire.traveller,), source=str(source), **more,  # type: ignore[arg-type]  # named by the callers
    )  # fmt: skip
