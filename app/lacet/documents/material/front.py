"""The front of a proposal: cover, the trip at a glance, and why it suits this party."""

from collections.abc import Iterator

from lacet.documents.material.days import row
from lacet.documents.material.lengths import lengths, parted
from lacet.documents.material.telling import Telling, paragraphs, told
from lacet.documents.material.values import Cover, Fact, Glance, Section
from lacet.documents.material.wishes import answers
from lacet.language import begun

MONTHS_ONLY = "yMMMM"


def cover(telling: Telling) -> Cover:
    """Title, party and dates, and what the party wrote."""
    wishes = telling.trip.party.wishes
    asked = telling.speech.say("You wrote: “{wish}”", wish=wishes.text) if wishes.text else ""
    return Cover(
        title=telling.trip.name,
        subtitle=_subtitle(telling),
        line=" · ".join(told(telling.trip.party.name, _guests(telling), dates(telling))),
        paragraphs=paragraphs(asked, telling.text_of("welcome")),
        map_key="map-trip",
    )


def _subtitle(telling: Telling) -> str:
    groups = [group for day in telling.figures.days for group in day.groups]
    days = telling.speech.many("{count} day", "{count} days", len(telling.variant.days))
    ways = telling.ways_of(groups)
    said = f"{days} {ways}".strip()
    region = telling.catalogue.region.name
    return f"{region}: {said}" if region else begun(said)


def _guests(telling: Telling) -> str:
    count = len(telling.trip.party.travellers)
    return telling.speech.many("one guest", "{count} guests", count) if count else ""


def dates(telling: Telling) -> str:
    """'8–16 May 2027', or the month asked for, or that the dates are open."""
    first = telling.trip.start
    last = telling.trip.date_of(len(telling.variant.days))
    if first is not None and last is not None:
        return telling.speech.dates(first, last)
    if telling.trip.month is not None:
        return telling.speech.say(
            "in {month}, dates to be confirmed", month=telling.speech.month(telling.trip.month)
        )
    return telling.speech.say("dates to be confirmed")


def glance(telling: Telling, hardest: int | None) -> Glance:
    """Totals and a row a day."""
    say = telling.speech.say
    days = telling.figures.days
    note = say("Where the group splits, the table shows the longer route.") if parted(telling) else ""
    return Glance(
        figures=tuple(_figures(telling)),
        heads=(
            say("Day"), say("Date"), say("Route"), say("Activity"), say("Distance"), say("Ascent"),
            say("Moving time"), say("Night"),
        ),
        rows=tuple(row(telling, day, hardest) for day in days),
        map_key="map-trip",
        profile_key="profile-trip",
        notes=told(note),
    )  # fmt: skip


def _figures(telling: Telling) -> Iterator[Fact]:
    say, wording = telling.speech.say, telling.speech.wording
    totals = telling.figures.totals
    houses = {night.lodging.id for day in telling.variant.days for night in day.nights}
    nights = telling.speech.many(
        "night in {houses}", "nights in {houses}", totals.nights, houses=_houses(telling, len(houses))
    )
    if totals.nights:
        yield Fact(str(totals.nights), nights)
    yield from lengths(telling)
    if totals.distance_m and not parted(telling):
        yield Fact(wording.height(totals.ascent_m), say("total ascent"))
    if totals.rest_days:
        rests = telling.speech.many("rest day", "rest days", totals.rest_days)
        yield Fact(str(totals.rest_days), rests)


def _houses(telling: Telling, count: int) -> str:
    return telling.speech.many("one place", "{count} places", count)


def suits(telling: Telling) -> Section:
    """What the party wished, each wish with the trip's own figure beside it."""
    facts = tuple(answers(telling))
    lead = telling.speech.say("What you asked for, and what this trip offers.") if facts else ""
    return Section(
        heading=telling.speech.say("Why this trip suits you"),
        paragraphs=told(lead) if facts else (),
        facts=facts,
    )
