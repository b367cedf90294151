"""Where a doubt about the library is mended: which form, which field, what stands there already."""

from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as kept

from lacet.intake.health import Doubt
from lacet.service.library.fields import BY_ONE
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Tariff
from lacet.trip.words import Service

_FIELDS = {
    "check-in": "check_in",
    "access": "vehicle_access",
    "capacity": "seats",
    "size": "rider_height_from_cm",
    "position": "latitude",
    "surface": "surface_cycling",
    "line": "from_place",
    "ends": "from_place",
}
# Kinds that have tariffs of their own, and the service these are for.
SERVICES = {
    "lodging": Service.LODGING,
    "restaurant": Service.RESTAURANT,
    "transfer": Service.TRANSFER,
    "bike": Service.BIKE,
}


@dataclass(frozen=True, slots=True)
class Remedy:
    """A form to open: of an item, or of a new one (no id) with some texts filled in.

    `on_stage_desk` says that it is the stage's line that wants mending, on a desk of its own.
    """

    kind: str
    id: str
    field: str
    texts: Mapping[str, str] = kept(default_factory=dict)
    on_stage_desk: bool = False


def remedy(doubt: Doubt, catalogue: Catalogue) -> Remedy:
    """Where to go to mend something."""
    if doubt.what == "rates":
        return _rates(doubt, catalogue)
    kind, field = BY_ONE[doubt.kind].name, _field(doubt)
    return Remedy(kind, doubt.id, field, on_stage_desk=doubt.what == "elevation")


def _field(doubt: Doubt) -> str:
    if doubt.what == "ground":
        return "footing_walking" if "on foot" in doubt.says else "footing_cycling"
    if doubt.what == "places":
        return "place" if doubt.kind != "stage" else "to_place" if "ends" in doubt.says else "from_place"
    if doubt.what == "unreadable":
        return {"stage": "closures", "restaurant": "opening"}.get(doubt.kind, "closed")
    if doubt.what in ("elevation", "dead end", "unreached"):
        return "name"
    return _FIELDS.get(doubt.what, doubt.what)


def _rates(doubt: Doubt, catalogue: Catalogue) -> Remedy:
    """The newest tariff, where it ends; or a new one for what has none."""
    theirs = [tariff for tariff in catalogue.current(Tariff) if tariff.subject_id == doubt.id]
    if theirs:
        newest = max(theirs, key=lambda tariff: tariff.valid_to)
        return Remedy("tariffs", newest.id, "valid_to")
    texts = {"name": doubt.name, "service": SERVICES[doubt.kind].value, "subject": doubt.id}
    return Remedy("tariffs", "", "valid_from", texts)
