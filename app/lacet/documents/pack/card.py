"""The card: one folded sheet with what must be at hand when something goes wrong, or the taxi asks where to.

Each house has its address, telephone number and a code to scan (a geo URI); so has the representative (a
tel URI). The codes hold nothing else, least of all who the guests are.

References
----------
RFC 5870 (geo URI); RFC 3966 (tel URI); ISO/IEC 18004 (QR code).
"""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import timedelta

import segno

from lacet.documents.material.gather import edition
from lacet.documents.material.safety import emergency, estimate, number_of
from lacet.documents.material.telling import Telling, told
from lacet.documents.material.values import Drawn, Section
from lacet.documents.typeset.setting import Paper, typeset
from lacet.documents.typeset.theme import OURS, Theme
from lacet.trip.library import Lodging
from lacet.trip.stays import Stay, stays

CODE_MM = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Somebody or a house to reach: when, who, how; `code_key` names the code to scan."""

    when: str
    name: str
    lines: tuple[str, ...]
    code_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What the card says, ready to print."""

    emergency: Section
    number: str
    people: tuple[Address, ...]
    nights: tuple[Address, ...]
    codes: dict[str, Drawn]


def card(telling: Telling) -> Card:
    """Return what the card says."""
    codes: dict[str, Drawn] = {}
    people = tuple(_people(telling, codes))
    nights = tuple(_nights(telling, codes))
    return Card(
        emergency=emergency(telling), number=number_of(telling), people=people,
        nights=nights, codes=codes,
    )  # fmt: skip


def write_card(telling: Telling, paper: Paper = Paper.A4, theme: Theme = OURS) -> bytes:
    """Return the card as a PDF of one sheet, or more where there are many houses."""
    say = telling.speech.say
    told_card = card(telling)
    data = {
        **{each.name: getattr(told_card, each.name) for each in fields(told_card) if each.name != "codes"},
        "heading": telling.trip.name,
        "line": " · ".join(told(telling.trip.party.name, say("Keep this card with you"))),
        "estimate": estimate(telling),
        "operator": telling.catalogue.office.name,
        "edition": edition(telling),
        "words": {"nights": say("Where you stay"), "people": say("Your contacts")},
    }  # fmt: skip
    return typeset(
        "card", data, title=say("Card: {trip}", trip=telling.trip.name), language=telling.speech.tag,
        made_at=telling.made_at, paper=paper, theme=theme, drawings=told_card.codes,
    )  # fmt: skip


def qr_code(content: str, alt: str) -> Drawn:
    """A code to scan as a drawing, with the quiet margin it needs."""
    drawn = io.BytesIO()
    code = segno.make(content, error="m", micro=False)
    code.save(drawn, kind="svg", border=4, xmldecl=False, svgclass=None, lineclass=None, omitsize=True)
    return Drawn(svg=drawn.getvalue().decode("ascii"), width_mm=CODE_MM, height_mm=CODE_MM, alt=alt)


def _people(telling: Telling, codes: dict[str, Drawn]) -> Iterator[Address]:
    office, say = telling.catalogue.office, telling.speech.say
    for role, name, number, more in (
        (say("Your local representative"), office.rep_name, office.rep_telephone, ""),
        (say("Organiser"), office.name, office.telephone, office.email),
    ):
        if not (name or number):
            continue
        key = f"tel-{len(codes)}" if _dialled(number) else ""
        if key:
            codes[key] = qr_code(f"tel:{_dialled(number)}", say("Scan to call {name}.", name=name or role))
        yield Address(when=role, name=name, lines=told(number, more), code_key=key)


def _nights(telling: Telling, codes: dict[str, Drawn]) -> Iterator[Address]:
    for stay in stays(telling.variant):
        house = telling.catalogue.get(Lodging, stay.lodging)
        if house is None:
            continue
        key = f"geo-{len(codes)}"
        at = f"geo:{house.latitude_deg:.5f},{house.longitude_deg:.5f}"
        codes[key] = qr_code(at, telling.speech.say("Scan to find {name} on a map.", name=house.name))
        who = () if stay.travellers is None else (telling.some(tuple(stay.travellers), stay.first + 1),)
        yield Address(
            when=_when(telling, stay), name=house.name, code_key=key,
            lines=told(*who, house.address or telling.place(house.place), house.telephone),
        )  # fmt: skip


def _when(telling: Telling, stay: Stay) -> str:
    """'8–10 May 2027', or 'nights 1 to 2' while there is no date."""
    start, say = telling.trip.start, telling.speech.say
    if start is not None:
        first = start + timedelta(days=stay.first)
        return telling.speech.dates(first, first + timedelta(days=stay.nights))
    if stay.nights == 1:
        return say("Night {number}", number=stay.first + 1)
    return say("Nights {first} to {last}", first=stay.first + 1, last=stay.first + stay.nights)


def _dialled(number: str) -> str:
    """A telephone number as a tel URI takes it; empty where it isn't one that is known everywhere."""
    digits = re.sub(r"[\s()./-]", "", number)
    return digits if re.fullmatch(r"\+\d{4,15}", digits) else ""
