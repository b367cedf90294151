"""Rows of services: nights as pills, dinners, what is moved, the price, and what the checks say."""

from decimal import Decimal

from lacet.figures.values import GroupFigures
from lacet.language import Language
from lacet.service.sheet.cells import Cell, Pill
from lacet.service.shown import Shown
from lacet.trip.bookings import Booking
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.money import Money
from lacet.trip.trip import Day, Meal, Night
from lacet.trip.words import BookingState, Load, MealKind, Service
from lacet.wording import Wording, listed

STATES = {
    BookingState.CONFIRMED: ("✓", "booked"),
    BookingState.OPTION: ("◔", "option"),
    BookingState.REQUESTED: ("?", "asked"),
    BookingState.WAITLISTED: ("…", "waitlisted"),
    BookingState.REFUSED: ("×", "refused"),
    BookingState.CANCELLED: ("×", "cancelled"),
}


def night_cell(
    shown: Shown, catalogue: Catalogue, day: int, group: GroupFigures | None, wording: Wording
) -> Cell:
    """The two halves of stays that a day's cell shows: the night before, and the night after."""
    who = group.travellers[0] if group and group.travellers else ""
    days = shown.variant.days
    pills = []
    if day > 0 and (before := night_of(days[day - 1], who)):
        pills.append(_pill(shown, catalogue, before, day - 1, (who, "left"), wording))
    after = night_of(days[day], who)
    if after:
        pills.append(_pill(shown, catalogue, after, day, (who, "right"), wording))
    text = _name(catalogue, after) if after else ""
    missing = after is None and day < len(days) - 1
    says = pills[-1].text if after else "no lodging yet" if missing else "the trip ends here"
    return Cell(text, says=f"Night: {says}", tone="warn" if missing else "ink", pills=tuple(pills))


def _pill(
    shown: Shown, catalogue: Catalogue, night: Night, day: int, half: tuple[str, str], wording: Wording
) -> Pill:
    """A stay of the guest and on the side of the cell that `half` names."""
    who, part = half
    first = day
    days = shown.variant.days
    while first > 0 and _same(night_of(days[first - 1], who), night):
        first -= 1
    last = day
    while last + 1 < len(days) and _same(night_of(days[last + 1], who), night):
        last += 1
    nights = last - first + 1
    booking = _booking(shown, night, first)
    mark, word = STATES[booking.state] if booking else ("", "")
    counted = f" · {nights} nights" if nights > 1 else ""
    until = wording.day(booking.option_until, "d MMM") if booking else ""
    told = f"{word} to {until}" if until else word
    said = f" · {told}" if booking else ""
    state = booking.state.value if booking else "planned"
    marked = f"{mark} " if mark else ""
    return Pill(f"{marked}{_name(catalogue, night)}{counted}{said}", state, first, nights, part)


def _same(one: Night | None, other: Night) -> bool:
    return one is not None and one.lodging.id == other.lodging.id


def _name(catalogue: Catalogue, night: Night | None) -> str:
    lodging = catalogue.get(Lodging, night.lodging) if night else None
    return lodging.name if lodging else (night.lodging.id if night else "")


def _booking(shown: Shown, night: Night, first: int) -> Booking | None:
    on = shown.trip.date_of(first + 1)
    held = (
        booking
        for booking in shown.bookings
        if booking.service is Service.LODGING
        and booking.supplier == night.lodging.id
        and on is not None
        and booking.from_day <= on < booking.to_day
    )
    return next(held, None)


def dinner_cell(day: Day, catalogue: Catalogue, group: GroupFigures | None) -> Cell:
    """Where they eat."""
    who = group.travellers[0] if group and group.travellers else ""
    for meal in day.meals:
        if meal.kind is MealKind.DINNER and (meal.travellers is None or who in meal.travellers):
            return _dinner(meal, day, catalogue)
    return Cell("", says="no dinner yet", tone="quiet")


def _dinner(meal: Meal, day: Day, catalogue: Catalogue) -> Cell:
    when = f" {meal.at:%H:%M}" if meal.at else ""
    if meal.restaurant is not None:
        restaurant = catalogue.get(Restaurant, meal.restaurant)
        name = restaurant.name if restaurant else meal.restaurant.id
        return Cell(name, says=f"Dinner at {name}{when}, {meal.payer.value}")
    if meal.at_lodging:
        houses = listed(list(dict.fromkeys(_name(catalogue, night) for night in day.nights)))
        return Cell("at the house", short="house", says=f"Dinner at the lodging, {houses}{when}")
    return Cell("own choice", says="Dinner of their own choice", tone="quiet")


def moves_cell(day: Day, group: int, catalogue: Catalogue) -> Cell:
    """Bags and bikes moved by somebody else that day."""
    if group > 0 or not day.moves:
        return Cell()
    parts, told = [], []
    for move in day.moves:
        what = "bags" if move.load is Load.BAGS else "bikes"
        count = f"{move.count} " if move.count else ""
        by = f"{move.delivered_by.hour}:{move.delivered_by:%M}" if move.delivered_by else ""
        parts.append(f"{count}{what} {by}".strip())
        told.append(f"{count}{what} moved" + (f", there by {by}" if by else ""))
    return Cell(", ".join(parts), short=parts[0].rpartition(" ")[0], says="; ".join(told), tone="quiet")


def price_cell(shown: Shown, number: int, group: int, wording: Wording, show: bool) -> Cell:
    """What a head pays for the services of the day, net prices and margin never shown here."""
    quote = shown.assessment.quote
    if group > 0 or not show or not quote.per_traveller:
        return Cell()
    lines = [line for line in quote.included if line.day == number]
    if not lines:
        return Cell()
    unknown = any(line.net is None for line in lines)
    net = sum((line.net.amount for line in lines if line.net is not None), Decimal(0))
    if not quote.net.amount:
        return Cell()
    heads = len(quote.per_traveller)
    selling = (net * quote.total.amount / quote.net.amount / heads).quantize(Decimal(1))
    said = wording.round_money(Money(selling, quote.currency), starting=unknown)
    return Cell(said, says=f"about {said} a head for this day", tone="warn" if unknown else "quiet")


def checks_cell(shown: Shown, number: int, group: int, speech: Language) -> Cell:
    """'works', or how much there is to settle, worst first."""
    if group > 0:
        return Cell()
    assessment = shown.assessment
    found = [each for each in assessment.findings_of(number) if each.overruled_by is None]
    counts = {level: sum(each.level is level for each in found) for level in Level}
    works = assessment.day_works(number)
    says = "; ".join(speech.say(each.says) for each in found) or "nothing to settle"
    if counts[Level.STOP]:
        return Cell(_count(counts[Level.STOP], "stop"), short=str(counts[Level.STOP]), says=says, tone="stop")
    if works is None:
        return Cell("not proved", short="?", says=says, tone="warn")
    if counts[Level.WARN]:
        return Cell(
            _count(counts[Level.WARN], "warning"), short=str(counts[Level.WARN]), says=says, tone="warn"
        )
    if counts[Level.NOTE]:
        return Cell(f"works · {_count(counts[Level.NOTE], 'note')}", short="works", says=says, tone="good")
    return Cell("works", short=" ", says=says, tone="good")


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
