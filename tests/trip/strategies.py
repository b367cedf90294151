"""Random trips, library items and the like, for whoever tests what trips are put through.

`trips()` makes sound trips: ids unique, travellers of the party, cuts in order. `of_type(kind)` makes any
frozen value from its annotations alone, with no regard to what its parts mean.
"""

from dataclasses import fields
from datetime import date, time, timedelta
from decimal import Decimal
from enum import Enum
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings, add_all
from lacet.trip.edits.naming import named, with_ids
from lacet.trip.library import Ref
from lacet.trip.money import Money
from lacet.trip.party import Party, Traveller, placeholder_party
from lacet.trip.trip import (
    About,
    Accepted,
    Alternative,
    Crossing,
    Day,
    Hire,
    Item,
    Leg,
    Meal,
    Move,
    Night,
    Note,
    Overrule,
    Pricing,
    Rest,
    Ride,
    RoomUse,
    Travellers,
    Trip,
    Variant,
    Visit,
)
from lacet.trip.words import BookingState, Load, MealKind, Means, Reason, Service, Way

STAGES = ("s-moor", "s-ridge", "s-lane")
PLACES = ("Harbour", "Crater", "Pans", "Orchard")
HOUSES = ("h-weir", "h-forge", "h-lamp")
SPAN = st.tuples(st.floats(0, 4_000), st.floats(1, 5_000)).map(lambda pair: (pair[0], pair[0] + pair[1]))
WORDS = st.sampled_from(("", "by the lake", "Straße", "路", 'a "quote"'))
CLOCKS = st.none() | st.times(max_value=time(23, 59)).map(
    lambda clock: clock.replace(second=0, microsecond=0)
)
AMOUNTS = st.integers(-10_000, 10_000).map(lambda cents: Money(Decimal(cents) / 100, "EUR"))


def refs(ids: tuple[str, ...]) -> st.SearchStrategy[Ref]:
    return st.builds(Ref, st.sampled_from(ids), st.integers(1, 3))


def travellers_of(party: Party) -> st.SearchStrategy[Travellers]:
    """None (everybody) or some of the party: naming the whole party is saying None."""
    names = tuple(guest.id for guest in party.travellers)
    if not names:
        return st.none()
    some = st.sets(st.sampled_from(names), min_size=1).map(lambda chosen: tuple(sorted(chosen)))
    return st.none() | some.map(lambda chosen: None if chosen == names else chosen)


@st.composite
def parties(draw: st.DrawFn) -> Party:
    count = draw(st.integers(0, 4))
    guests = tuple(
        Traveller(
            id=f"t{number}",
            name=draw(WORDS),
            age=draw(st.none() | st.integers(0, 90)),
            from_day=draw(st.integers(1, 3)),
            to_day=draw(st.none() | st.integers(3, 6)),
        )
        for number in range(1, count + 1)
    )
    pairs = tuple(tuple(guest.id for guest in guests[at : at + 2]) for at in range(0, count, 2))
    return Party(name=draw(WORDS), travellers=guests, sharing=pairs)


def legs(item_id: str, some: st.SearchStrategy[Travellers]) -> st.SearchStrategy[Leg]:
    cut = st.sampled_from(((None, None), (None, 900.0), (250.0, None))) | SPAN
    return st.builds(
        lambda cut, **parts: Leg(id=item_id, cut_from_m=cut[0], cut_to_m=cut[1], **parts),
        cut,
        stage=refs(STAGES),
        way=st.sampled_from(Way),
        backward=st.booleans(),
        assist=st.sampled_from((None, "eco", "tour")),
        travellers=some,
    )


def items(item_id: str, some: st.SearchStrategy[Travellers]) -> st.SearchStrategy[Item]:
    """One card of any kind."""
    place = st.sampled_from(PLACES)
    ride = st.builds(
        Ride, id=st.just(item_id), from_place=place, to_place=place, departs=CLOCKS, travellers=some
    )
    visit = st.builds(Visit, id=st.just(item_id), name=WORDS, place=st.none() | place, travellers=some)
    rest = st.builds(Rest, id=st.just(item_id), says=WORDS, travellers=some)
    note = st.builds(Note, id=st.just(item_id), says=WORDS, travellers=some)
    return st.one_of(legs(item_id, some), ride, visit, rest, note)


@st.composite
def nights(draw: st.DrawFn, party: Party) -> tuple[Night, ...]:
    """No night, one for all, or two houses that part the party between them."""
    houses = draw(st.lists(refs(HOUSES), max_size=2, unique_by=lambda ref: ref.id))
    names = tuple(guest.id for guest in party.travellers)
    if len(houses) == 2 and len(names) >= 2:
        at = draw(st.integers(1, len(names) - 1))
        return tuple(
            Night(lodging=house, travellers=some, rooms=(RoomUse(kind="double", travellers=some),))
            for house, some in zip(houses, (names[:at], names[at:]), strict=True)
        )
    return tuple(Night(lodging=house) for house in houses[:1])


@st.composite
def days(draw: st.DrawFn, day_id: str, first_item: int, party: Party) -> Day:
    """A day; its items are numbered from `first_item` (at most four, alternatives included)."""
    some = travellers_of(party)
    cards = tuple(draw(items(f"i{first_item + n}", some)) for n in range(draw(st.integers(0, 3))))
    rainy: tuple[Alternative, ...] = ()
    if draw(st.booleans()):
        other = Alternative(
            id=f"a{first_item}", reason=Reason.SHORTER, items=(draw(items(f"i{first_item + 3}", some)),)
        )
        rainy = (other,)
    meals = st.lists(
        st.builds(Meal, kind=st.sampled_from(MealKind), at_lodging=st.booleans(), at=CLOCKS, travellers=some),
        max_size=2,
    ).map(tuple)
    moves = st.lists(
        st.builds(Move, load=st.sampled_from(Load), count=st.none() | st.integers(1, 9)), max_size=2
    )
    return Day(
        id=day_id,
        items=cards,
        nights=draw(nights(party)),
        meals=draw(meals),
        moves=tuple(draw(moves)),
        alternatives=rainy,
        departs=draw(CLOCKS),
        stops_s=draw(st.none() | st.floats(0, 7_200)),
        briefing=draw(st.booleans()),
        note=draw(WORDS),
    )


@st.composite
def variants(draw: st.DrawFn, variant_id: str, party: Party) -> Variant:
    count = draw(st.integers(0, 5))
    names = [guest.id for guest in party.travellers]
    hired = draw(st.sets(st.sampled_from(names))) if names else set()
    overrules = st.lists(
        st.builds(
            Overrule,
            check=st.just("ascent"),
            code=st.just("over"),
            subject=st.integers(1, max(count, 1)).map(lambda number: (About("day", f"d{number}"),)),
            figure=st.none() | st.floats(0, 2_000),
            name=st.just("Consultant"),
            reason=WORDS,
            decided_on=st.none() | st.just(date(2026, 1, 7)),
        ),
        max_size=1 if count else 0,
    )
    variant = Variant(
        id=variant_id,
        name=draw(WORDS),
        days=tuple(draw(days(f"d{number}", 4 * number, party)) for number in range(1, count + 1)),
        hires=tuple(
            Hire(traveller=guest, bike=draw(st.none() | refs(("b-hill",)))) for guest in sorted(hired)
        ),
        overrules=tuple(draw(overrules)),
        pricing=draw(st.builds(Pricing, markup_share=st.none() | st.floats(0, 1))),
    )
    return named(variant)


@st.composite
def bookings(draw: st.DrawFn, booking_id: str = "") -> Booking:
    first = draw(st.dates(date(2026, 6, 1), date(2026, 6, 6)))
    return Booking(
        id=booking_id,
        service=draw(st.sampled_from(Service)),
        supplier=draw(st.sampled_from(HOUSES)),
        from_day=first,
        to_day=first + timedelta(days=draw(st.integers(0, 3))),
        travellers=draw(travellers_of(placeholder_party(3))),
        state=draw(st.sampled_from(BookingState)),
        price=draw(st.none() | AMOUNTS),
        made_for=tuple(draw(st.lists(st.sampled_from(("n1", "n2", "n3")), max_size=2, unique=True))),
    )


def booked() -> st.SearchStrategy[Bookings]:
    """What was asked for one trip: up to four bookings, under the ids acts give."""
    return st.lists(bookings(), max_size=4).map(lambda asked: add_all(NO_BOOKINGS, asked))


@st.composite
def trips(draw: st.DrawFn) -> Trip:
    """A sound trip: enquiry or dated, one to three variants, items of all kinds, parted days, two houses."""
    party = draw(parties())
    count = draw(st.integers(1, 3))
    crossing = st.builds(
        Crossing,
        hub=st.sampled_from(PLACES),
        means=st.sampled_from(Means),
        at=CLOCKS,
        travellers=travellers_of(party),
    )
    accepted = st.none() | st.builds(
        Accepted, variant=st.sampled_from([f"v{n}" for n in range(1, count + 1)]), revision=st.integers(1, 99)
    )
    return Trip(
        id="trip",
        name=draw(WORDS),
        party=party,
        start=draw(st.none() | st.dates(date(2026, 1, 1), date(2027, 12, 31))),
        month=draw(st.none() | st.integers(1, 12)),
        arrivals=with_ids("c", draw(st.lists(crossing, max_size=2))),
        departures=with_ids("c", draw(st.lists(crossing, max_size=1)), ("c1", "c2")),
        variants=tuple(draw(variants(f"v{number}", party)) for number in range(1, count + 1)),
        accepted=draw(accepted),
        fixed_through=draw(st.sampled_from((None, None, "d1"))),
        note=draw(WORDS),
    )


def of_type(kind: Any) -> st.SearchStrategy[Any]:
    """Any value of an annotated type: dataclasses, enums, unions, tuples, and the plain types."""
    origin, parts = get_origin(kind), get_args(kind)
    if kind in _PLAIN:
        return _PLAIN[kind]
    if origin in (Union, UnionType):
        return st.one_of([of_type(part) for part in parts])
    if origin is tuple and parts[-1] is Ellipsis:
        return st.lists(of_type(parts[0]), max_size=2).map(tuple)
    if origin is tuple:
        return st.tuples(*(of_type(part) for part in parts))
    if isinstance(kind, type) and issubclass(kind, Enum):
        return st.sampled_from(kind)
    assert isinstance(kind, type), f"no values known for {kind}"
    hints = get_type_hints(kind)
    return st.builds(kind, **{part.name: of_type(hints[part.name]) for part in fields(kind)})


_PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    type(None): st.none(),
    str: st.text(max_size=8),
    Decimal: st.decimals(allow_nan=False, allow_infinity=False, places=6),
    bool: st.booleans(),
    int: st.integers(-(10**6), 10**6),
    float: st.floats(allow_nan=False, allow_infinity=False),
    date: st.dates(),
    time: st.times(),
    Money: AMOUNTS,
}
