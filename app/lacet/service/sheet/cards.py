"""Cards: a stage, a transfer, a visit, a rest day, a note, as one cell."""

from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.service.sheet.cells import Cell
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Bike, Stage, Transfer
from lacet.trip.trip import Item, Leg, Note, Rest, Ride, Visit
from lacet.trip.words import Way
from lacet.wording import Wording


def card_of(
    item: Item, catalogue: Catalogue, day: DayFigures, group: GroupFigures | None, wording: Wording
) -> Cell:
    """The card of one item."""
    if isinstance(item, Leg):
        figures = next((leg for leg in group.legs if leg.leg.id == item.id), None) if group else None
        return _leg(item, catalogue, figures, wording)
    if isinstance(item, Ride):
        return _ride(item, catalogue)
    if isinstance(item, Visit):
        sub = f"visit, {wording.duration(item.minutes * 60.0)}" if item.minutes else "visit"
        return Cell(item.name, sub, card="visit", item_id=item.id)
    if isinstance(item, Rest):
        return Cell("Rest day" if not item.says else item.says, "as they like", card="rest", item_id=item.id)
    assert isinstance(item, Note)
    return Cell(item.says, "note", card="note", item_id=item.id)


def leg_title(stage: Stage, catalogue: Catalogue, backward: bool) -> str:
    """'Port Verrin → Ciderfold', or the stage's name when it comes back to where it began."""
    if stage.from_place == stage.to_place:
        return stage.name
    ends = (stage.to_place, stage.from_place) if backward else (stage.from_place, stage.to_place)
    return " → ".join(catalogue.place_name(end) for end in ends)


def _leg(leg: Leg, catalogue: Catalogue, figures: LegFigures | None, wording: Wording) -> Cell:
    stage = catalogue.get(Stage, leg.stage)
    way = way_words(leg, catalogue, figures)
    if stage is None:
        return Cell(leg.stage.id, "not in the library", tone="stop", card=leg.way.value, item_id=leg.id)
    length = wording.length(figures.distance_m) if figures else ""
    part = " · part" if leg.cut_from_m is not None or leg.cut_to_m is not None else ""
    title = leg_title(stage, catalogue, leg.backward)
    return Cell(
        title,
        f"{length} {way}{part}",
        short_title(title),
        says=f"{title}, {stage.name}, {way}, {length}{part}",
        card=leg.way.value,
        item_id=leg.id,
    )


def way_words(leg: Leg, catalogue: Catalogue, figures: LegFigures | None) -> str:
    """'on foot', 'by bike' or 'by e-bike'."""
    if leg.way is Way.WALKING:
        return "on foot"
    electric = bool(figures and figures.batteries)
    if leg.bike is not None:
        bike = catalogue.get(Bike, leg.bike)
        electric = electric or bool(bike and bike.battery_wh)
    return "by e-bike" if electric else "by bike"


def _ride(ride: Ride, catalogue: Catalogue) -> Cell:
    service = catalogue.get(Transfer, ride.transfer) if ride.transfer else None
    minutes = ride.minutes or (service.minutes if service else None)
    took = f", {minutes} min" if minutes else ""
    carrier = service.carrier.value if service else "transfer"
    ends = f"{catalogue.place_name(ride.from_place)} → {catalogue.place_name(ride.to_place)}"
    says = f"Transfer {ends}, {carrier}{took}"
    return Cell(ends, f"{carrier}{took}", short_title(ends), says=says, card="ride", item_id=ride.id)


def short_title(title: str) -> str:
    """'→ Oster' of 'Port Verrin → Oster': days follow one another, so the start is known."""
    _, arrow, end = title.partition(" → ")
    return f"→ {end}" if arrow else ""
