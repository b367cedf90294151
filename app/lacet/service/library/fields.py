"""What can be edited of each kind of item, made from the one description that sheets are read by.

A draft is text: what a person has typed, field by field. Reading a draft gives the item, or says what is
wrong with which field. An empty field is 'nobody has said'.
"""

from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from lacet.intake.cells import OPENING, SEASON, SEASONS
from lacet.intake.columns import Column, SheetKind
from lacet.intake.ground import PLACES, STAGES
from lacet.intake.problems import CellRefused
from lacet.intake.trade import BIKES, LODGINGS, RESTAURANTS, TARIFFS, TRANSFERS
from lacet.service.library.parts import PARTS, Part
from lacet.trip.library import Stage, StageWay
from lacet.trip.words import Service

Row = tuple[str, ...]
Names = Mapping[str, Mapping[str, str]]
LONG = frozenset({"text", "note", "address"})
LABELS = {
    "from_place": "From",
    "to_place": "To",
    "latitude": "Latitude",
    "height_m": "Height above the sea [m]",
    "hub": "Guests come and go by",
    "water": "Drinking water",
    "closed": "Closed",
    "check_in": "Receives guests",
    "late_key": "Leaves a key for late guests",
    "breakfast": "Breakfast",
    "charging": "E-bikes can be charged",
    "bike_store": "Bikes stand locked and dry",
    "vehicle_access": "A van reaches the door",
    "release_days": "Rooms go back [days before]",
    "opening": "Opening hours",
    "runs": "Runs",
    "minutes": "Takes [min]",
    "rider_height_from_cm": "Shortest rider [cm]",
    "rider_height_to_cm": "Tallest rider [cm]",
    "mass_kg": "Mass [kg]",
    "maximum_total_kg": "Maker's maximum total [kg]",
    "battery_wh": "Battery [Wh]",
    "battery_health": "Left of it by age (1 = all)",
    "subject": "For",
    "paid_locally": "Paid on the spot",
    "allotment": "Rooms held each night",
    "vat_note": "VAT note",
    "text": "Text for the proposal",
    "note": "Note for the office",
    "signal": "Telephone signal",
    "snow_season": "Snow possible",
    "ways": "For those",
    "surface": "Surface by km",
    "traffic": "Traffic by km",
}
HEADS = {"text": "What to say", "note": "Note", "moving_s": "Moving [s]", "distance_m": "Distance [m]"}
SECTIONS: dict[str, tuple[tuple[str, str], ...]] = {
    "places": (
        ("", "name kind hub"),
        ("Where", "latitude longitude height_m"),
        ("What there is", "water food shop rest_day_ideas"),
        ("Words", "note"),
    ),
    "stages": (
        ("", "name from_place to_place ways"),
        ("On foot", "grade_walking footing_walking exposure_walking surface_walking traffic_walking"),
        ("By bike", "grade_cycling footing_cycling exposure_cycling surface_cycling traffic_cycling"),
        ("When and whether", "snow_season signal"),
        ("Words", "highlights text note"),
    ),
    "lodgings": (
        ("", "name place kind"),
        ("Where", "latitude longitude address telephone"),
        ("When", "closed check_in late_key breakfast serves_dinner dinner_hours"),
        ("For guests with bikes", "charging bike_store vehicle_access"),
        ("Agreed with the house", "release_days"),
        ("Words", "text note"),
    ),
    "restaurants": (
        ("", "name place seats telephone"),
        ("Where", "latitude longitude"),
        ("When", "opening closed"),
        ("Words", "text note"),
    ),
    "transfers": (
        ("", "name carrier telephone"),
        ("Between", "from_place to_place both_ways minutes"),
        ("Room for", "seats bags bikes"),
        ("When", "runs"),
        ("Words", "note"),
    ),
    "bikes": (
        ("", "name kind"),
        ("Whom it fits", "rider_height_from_cm rider_height_to_cm mass_kg maximum_total_kg"),
        ("Battery", "battery_wh battery_health"),
        ("Words", "note"),
    ),
    "tariffs": (
        ("", "name service subject valid_from valid_to"),
        ("Agreed", "paid_locally release_days allotment vat_note"),
        ("Words", "note"),
    ),
}
SUBJECTS: dict[str, tuple[str, ...]] = {
    Service.LODGING: ("lodgings",),
    Service.RESTAURANT: ("restaurants", "lodgings"),
    Service.TRANSFER: ("transfers",),
    Service.BAG_MOVE: ("transfers",),
    Service.BIKE: ("bikes",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskKind:
    """One kind of item on the desk."""

    sheet: SheetKind
    title: str
    sections: tuple[tuple[str, tuple[Column, ...]], ...]

    @property
    def name(self) -> str:
        return self.sheet.name

    @property
    def one(self) -> str:
        return self.sheet.one

    @property
    def makes(self) -> type[Any]:
        return self.sheet.makes

    @property
    def parts(self) -> tuple[Part, ...]:
        return PARTS.get(self.name, ())

    @property
    def columns(self) -> tuple[Column, ...]:
        return tuple(column for _, columns in self.sections for column in columns)


@dataclass(frozen=True, slots=True)
class Draft:
    """What a person has typed: a text for each field, and rows of texts for each table."""

    texts: Mapping[str, str]
    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with a field, or with a cell of a table: row from 0, column by name."""

    field: str
    says: str
    row: int | None = None
    column: str = ""


def label_of(column: Column) -> str:
    """What stands before a field or over a column."""
    name = column.name.removesuffix("_walking").removesuffix("_cycling")
    return LABELS.get(name, name.replace("_", " ").capitalize())


def head_of(column: Column) -> str:
    """What stands over a column of a table within a form."""
    return HEADS.get(column.name, label_of(column))


def draft_of(kind: DeskKind, item: Any) -> Draft:
    """An item as a person would have typed it; None is a form that holds what is meant by saying nothing."""
    if item is None:
        texts = {column.name: written(column, kind.sheet.default_of(column)) for column in kind.columns}
        return Draft(texts, {part.field: () for part in kind.parts})
    known = _given(kind, item)
    texts = {column.name: written(column, known.get(column.field)) for column in kind.columns}
    rows = {part.field: tuple(_row(part, one) for one in getattr(item, part.field)) for part in kind.parts}
    return Draft(texts, rows)


def written(column: Column, value: Any) -> str:
    """A value as text; unknown is empty."""
    return "" if value is None or value in ((), "") else str(column.cell.write(value))


def trouble_with(column: Column, text: str) -> str:
    """A sentence when a text can't stand in a field, else nothing. Empty is only wrong where needed."""
    try:
        _value(column, text)
    except CellRefused as refusal:
        return str(refusal)
    return ""


def read(kind: DeskKind, draft: Draft, base: Any, item_id: str, names: Names) -> tuple[Any, list[Trouble]]:
    """The item a draft describes, on top of what it was; None with what is wrong.

    Parameters
    ----------
    item_id
        For an item that is new (`base` is None).
    names
        Ids and names of what there is, by kind, so that what leads nowhere is told.
    """
    troubles: list[Trouble] = []
    values: dict[str, Any] = {}
    for column in kind.columns:
        values[column.field] = _told(column, draft.texts.get(column.name, ""), troubles, column.name)
    parts = {part.field: _part(part, draft.rows.get(part.field, ()), names, troubles) for part in kind.parts}
    troubles += _beyond_fields(kind, draft, values, names)
    if troubles:
        return None, troubles
    for column in kind.columns:
        if values[column.field] is None:
            values[column.field] = kind.sheet.default_of(column)
    wanted = (_take_stage(values) if kind.makes is Stage else kind.sheet.take(values)) | parts
    if base is not None:
        return replace(base, **wanted), []
    new = {"track_id": ""} if kind.makes is Stage else {}
    return kind.makes(id=item_id, **new, **wanted), []


def slug(name: str, taken: Container[str]) -> str:
    """An id for a new item, from its name: lower case, hyphens, and a number where it is taken."""
    plain = "".join(letter if letter.isalnum() else " " for letter in name.casefold())
    base = "-".join(plain.split()) or "new"
    number, found = 2, base
    while found in taken:
        found, number = f"{base}-{number}", number + 1
    return found


def checks_a_calendar(column: Column) -> bool:
    """Whether a field holds opening hours or a season, which are told in a sentence and by days."""
    return column.cell in (OPENING, SEASON, SEASONS)


def _value(column: Column, text: str) -> Any:
    text = text.strip()
    if text and column.refers:
        # Whether it is there is asked of the library, which has better words for a name that isn't.
        return text
    if text:
        return column.cell.read(text)
    if column.required:
        raise CellRefused(f"This is needed: {column.cell.expects}.")
    return None


def _told(column: Column, text: str, troubles: list[Trouble], name: str) -> Any:
    try:
        return _value(column, text)
    except CellRefused as refusal:
        troubles.append(Trouble(name, str(refusal)))
        return None


def _part(part: Part, rows: tuple[Row, ...], names: Names, troubles: list[Trouble]) -> tuple[Any, ...]:
    made = []
    for number, row in enumerate(rows):
        if not any(text.strip() for text in row):
            continue
        values: dict[str, Any] = {}
        before = len(troubles)
        for column, text in zip(part.columns, row, strict=True):
            try:
                values[column.field] = _value(column, text)
                _must_be_there(column.refers, values[column.field], names)
            except CellRefused as refusal:
                troubles.append(Trouble(part.field, str(refusal), number, column.name))
        if len(troubles) == before:
            made.append(_one_of(part.sheet, values))
    return tuple(made)


def _one_of(sheet: SheetKind, values: dict[str, Any]) -> Any:
    by_field = {column.field: column for column in sheet.kept}
    filled = {
        name: sheet.default_of(by_field[name]) if value is None else value for name, value in values.items()
    }
    return sheet.makes(**sheet.take(filled))


def _beyond_fields(kind: DeskKind, draft: Draft, values: dict[str, Any], names: Names) -> Iterator[Trouble]:
    """What is wrong although each field can be read."""
    for column in kind.columns:
        try:
            _must_be_there(column.refers, values[column.field], names)
        except CellRefused as refusal:
            yield Trouble(column.name, str(refusal))
    first, last = values.get("valid_from"), values.get("valid_to")
    if first and last and last < first:
        yield Trouble("valid_to", "It ends before it begins.")
    yield from _subject(values, names)
    low, high = values.get("rider_height_from_cm"), values.get("rider_height_to_cm")
    if low and high and high < low:
        yield Trouble("rider_height_to_cm", "The tallest rider is shorter than the shortest.")
    if kind.name == "tariffs" and not any(map("".join, draft.rows.get("rates", ()))):
        yield Trouble("rates", "A tariff needs at least one rate: add one.")


def _subject(values: dict[str, Any], names: Names) -> Iterator[Trouble]:
    kinds = SUBJECTS.get(values.get("service") or "", ())
    subject = values.get("subject_id")
    if "service" not in values or not kinds:
        return
    if not any(subject in names.get(kind, {}) for kind in kinds):
        wanted = " or ".join(kind.removesuffix("s") for kind in kinds)
        says = f"'{subject}' is no {wanted} of the library" if subject else f"This is needed: which {wanted}"
        yield Trouble("subject", f"{says}; choose one from the list.")


def _must_be_there(refers: str, value: Any, names: Names) -> None:
    if refers and value and value not in names.get(refers, {}):
        raise CellRefused(
            f"The library has no {refers.removesuffix('s')} '{value}'; choose one from the list."
        )


def _row(part: Part, one: Any) -> Row:
    known = part.sheet.fields_of(one)
    return tuple(written(column, known.get(column.field)) for column in part.columns)


def _given(kind: DeskKind, item: Any) -> dict[str, Any]:
    """The fields of an item; of a stage, what is underfoot stands under each of its ways."""
    known: dict[str, Any] = kind.sheet.fields_of(item)
    if isinstance(item, Stage):
        for facts in item.ways:
            known[f"surface_{facts.way}"] = facts.surfaces
            known[f"traffic_{facts.way}"] = facts.traffic
    return known


def _take_stage(values: dict[str, Any]) -> dict[str, Any]:
    kept = {name: value for name, value in values.items() if not name.endswith(("_walking", "_cycling"))}
    ways = []
    for way in values["ways"]:
        facts: dict[str, Any] = {name: values[f"{name}_{way}"] for name in ("footing", "exposure", "grade")}
        facts["surfaces"] = values[f"surface_{way}"] or ()
        facts["traffic"] = values[f"traffic_{way}"] or ()
        ways.append(StageWay(way=way, **facts))
    return kept | {"ways": tuple(ways)}


def _desk_kind(sheet: SheetKind) -> DeskKind:
    by_name = {column.name: column for column in sheet.columns}
    pick: Callable[[str], tuple[Column, ...]] = lambda names: tuple(by_name[name] for name in names.split())  # noqa: E731 - one use, beside it
    sections = tuple((title, pick(names)) for title, names in SECTIONS[sheet.name])
    return DeskKind(sheet=sheet, title=sheet.name.capitalize(), sections=sections)


KINDS: tuple[DeskKind, ...] = tuple(
    _desk_kind(sheet) for sheet in (PLACES, STAGES, LODGINGS, RESTAURANTS, TRANSFERS, BIKES, TARIFFS)
)
BY_NAME: dict[str, DeskKind] = {kind.name: kind for kind in KINDS}
BY_ONE: dict[str, DeskKind] = {kind.one: kind for kind in KINDS}
