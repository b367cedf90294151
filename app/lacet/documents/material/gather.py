"""Gathers the whole material of a proposal from one assessment."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from lacet.assess import Assessment
from lacet.checks.case import case_of
from lacet.documents.material import practical as said
from lacet.documents.material.beds import rooms_held
from lacet.documents.material.cleaning import cleaned
from lacet.documents.material.days import day_told
from lacet.documents.material.front import cover, dates, glance, suits
from lacet.documents.material.hardness import hardest_day
from lacet.documents.material.price import price_told
from lacet.documents.material.safety import cautions, emergency, estimate
from lacet.documents.material.telling import Telling, told
from lacet.documents.material.values import DayTold, Drawn, ProposalMaterial, Shown
from lacet.documents.material.words import fixed_words
from lacet.figures.variant import follow
from lacet.inputs import Inputs
from lacet.language import Language
from lacet.price.offering import selling_prices
from lacet.trip.commitments import NO_COMMITMENTS


def gather(
    telling: Telling,
    *,
    draft: bool = False,
    drawings: Callable[[Telling], dict[str, Drawn]] | None = None,
    pictures: Callable[[str], Shown | None] | None = None,
) -> ProposalMaterial:
    """Return everything a proposal says, in the language and units of its speech.

    Parameters
    ----------
    draft
        Whether every page is marked as a draft.
    drawings
        Draws maps and profiles under the keys the material names; None = a document without drawings.
    pictures
        Finds a photograph by its id; None = a document without photographs.
    """
    trip, speech = telling.trip, telling.speech
    hardest = hardest_day(telling)
    days = tuple(day_told(telling, day, hardest) for day in telling.figures.days)
    drawn = {} if drawings is None else drawings(telling)
    material = ProposalMaterial(
        language=speech.tag,
        direction=speech.direction,
        title=" · ".join(told(trip.name, trip.party.name, dates(telling))),
        operator=telling.catalogue.office.name,
        edition=edition(telling),
        estimate=estimate(telling),
        draft=speech.say("Draft, for information only; not an offer. Some details are still to be confirmed.")
        if draft
        else "",
        words=fixed_words(speech),
        cover=cover(telling),
        glance=glance(telling, hardest),
        suits=suits(telling),
        days=days,
        price=price_told(telling),
        rooms_held=tuple(rooms_held(telling)),
        bikes=tuple(said.bikes_told(telling)),
        baggage=tuple(said.baggage(telling)),
        practical=tuple(said.practical(telling)),
        contacts=tuple(said.contacts(telling)),
        cautions=cautions(telling),
        emergency=emergency(telling),
        terms=said.terms(telling),
        drawings=drawn,
        pictures=_pictures(days, pictures),
    )
    return cleaned(material)


def telling_of(
    inputs: Inputs, found: Assessment, speech: Language, *, revision: int, made_at: datetime
) -> Telling:
    """What the parts are told from.

    Parameters
    ----------
    found
        What became of the inputs: every figure and price is read from it, as of its own day.
    speech
        Language and units of the document.
    """
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    # Those who are told of a trip don't hear what others hold.
    of_its_day = replace(inputs, commitments=NO_COMMITMENTS, as_of=found.as_of)
    case = case_of(of_its_day, follow(trip, variant, catalogue), found.figures, found.quote)
    return Telling(
        trip=trip, variant=variant, figures=found.figures, findings=found.findings,
        prices=selling_prices(found.quote), as_of=found.as_of, catalogue=catalogue, rules=inputs.rules,
        case=case, speech=speech, revision=revision, made_at=made_at,
    )  # fmt: skip


def edition(telling: Telling) -> str:
    """Revision and date, for every page."""
    made: date = telling.made_at.date()
    return telling.speech.say(
        "Revision {revision}, {date}", revision=telling.revision, date=telling.speech.day(made)
    )


def _pictures(days: tuple[DayTold, ...], find: Callable[[str], Shown | None] | None) -> dict[str, Shown]:
    if find is None:
        return {}
    keys = dict.fromkeys(key for day in days for key in _keys(day) if key)
    return {key: shown for key in keys if (shown := find(key)) is not None}


def _keys(day: DayTold) -> list[str]:
    legs = [leg.picture_key for way in day.ways for leg in way.legs]
    return [day.picture_key, *legs, *(bed.picture_key for bed in day.beds)]
