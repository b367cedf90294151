"""The material of a proposal, as frozen values that JSON can hold.

Every text is final: translated, localised, plain (never markup). An empty text or tuple means 'leave it out'.
`..._key` names a drawing in `drawings` or a picture in `pictures`. Fixed headings are in `words`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A map or a profile as SVG, its natural size [mm], and what it shows for those who can't see it."""

    svg: str
    width_mm: float
    height_mm: float
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A photograph; `payload` is base64."""

    payload: str
    media_type: str
    alt: str
    credit: str


@dataclass(frozen=True, slots=True)
class Fact:
    """Something with its value: 'Distance', '13.6 km'."""

    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A heading with paragraphs, then facts, then points of a list."""

    heading: str
    paragraphs: tuple[str, ...] = ()
    facts: tuple[Fact, ...] = ()
    points: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """`line` stands above the title: who, how many, when."""

    title: str
    subtitle: str
    line: str
    paragraphs: tuple[str, ...]
    map_key: str = ""
    picture_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GlanceRow:
    """A day in the table. `day_id` is its anchor within the document; `moves`: there are figures."""

    day_id: str
    number: str
    date: str
    title: str
    how: str
    distance: str
    ascent: str
    time: str
    night: str
    moves: bool = True
    hardest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """The trip at a glance: totals, map, one profile of all days, the table of days and its heads."""

    figures: tuple[Fact, ...]
    heads: tuple[str, ...]
    rows: tuple[GlanceRow, ...]
    map_key: str = ""
    profile_key: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LegTold:
    """One stage of a way: its name, 'on foot, 7.2 km', its text and what is worth seeing."""

    name: str
    how: str
    paragraphs: tuple[str, ...]
    highlights: tuple[str, ...] = ()
    picture_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayTold:
    """How a group spends its day. `who` is empty where all stay together.

    `clock` tells setting out and arrival; `sentence` tells effort, ground and exposure; `way` is 'walking',
    'cycling', 'mixed' or ''.
    """

    who: str
    title: str
    way: str
    clock: str
    sentence: str
    facts: tuple[Fact, ...]
    legs: tuple[LegTold, ...]
    steps: tuple[str, ...] = ()
    good_to_know: tuple[str, ...] = ()
    map_key: str = ""
    profile_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWay:
    """Another way to spend the day: 'If it rains', how, and its figures."""

    heading: str
    text: str
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BedTold:
    """Where (some of) the party sleeps. `rooms`: who sleeps in which room."""

    who: str
    name: str
    kind: str
    stay: str
    paragraphs: tuple[str, ...]
    rooms: tuple[Fact, ...]
    facts: tuple[Fact, ...]
    held: str = ""
    picture_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MealTold:
    """A meal: 'Dinner', where and when, and how each need is met."""

    heading: str
    where: str
    text: str
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTold:
    """One day. `id` is its anchor; `ways` holds one way, or one for each group on a parted day.

    `picture_key` shows the place where a day without a stage is spent.
    """

    id: str
    label: str
    date: str
    title: str
    how: str
    rest: bool
    hardest: str
    ways: tuple[WayTold, ...]
    beds: tuple[BedTold, ...]
    meals: tuple[MealTold, ...]
    bags: tuple[str, ...] = ()
    transfers: tuple[str, ...] = ()
    others: tuple[OtherWay, ...] = ()
    rescue: str = ""
    ideas: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    picture_key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What it costs: by room and in all, how and until when to pay, and how to say yes."""

    total: str
    total_note: str
    by_room: tuple[Fact, ...]
    by_guest: tuple[Fact, ...]
    extras: tuple[Fact, ...]
    payments: tuple[Fact, ...]
    notes: tuple[str, ...]
    say_yes: tuple[str, ...]
    included: tuple[str, ...]
    locally: tuple[Fact, ...]
    own: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeTold:
    """A guest's bike: 'E-bike, medium', 'frame for 160 to 176 cm', 'helmet', 'days 5 and 6'."""

    who: str
    bike: str
    size: str
    extras: str
    days: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Somebody to ring: 'Your consultant', the name, the ways to reach them."""

    role: str
    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposalMaterial:
    """All of a proposal, in the order in which it is told.

    Attributes
    ----------
    language, direction
        A BCP 47 tag and 'ltr' or 'rtl'.
    title
        Of the document, for its metadata: the trip, the variant and the party.
    operator
        The office's name.
    edition
        Revision and date, for every page.
    estimate
        The line at the foot of every page: estimates, authorities first, the emergency number.
    draft
        Words that mark a draft on every page; empty when it is none.
    words
        Fixed headings by key, in the document's language; all keys are in `material.words`.
    """

    language: str
    direction: str
    title: str
    operator: str
    edition: str
    estimate: str
    draft: str
    words: Mapping[str, str]
    cover: Cover
    glance: Glance
    suits: Section
    days: tuple[DayTold, ...]
    price: Price
    rooms_held: tuple[str, ...]
    bikes: tuple[BikeTold, ...]
    baggage: tuple[str, ...]
    practical: tuple[Section, ...]
    contacts: tuple[Contact, ...]
    cautions: Section
    emergency: Section
    terms: Section
    drawings: Mapping[str, Drawn] = field(default_factory=dict)
    pictures: Mapping[str, Shown] = field(default_factory=dict)
