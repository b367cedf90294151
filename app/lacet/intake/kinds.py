"""All kinds of sheets, parents before what belongs to them."""

from lacet.intake.columns import SheetKind
from lacet.intake.ground import CLOSURES, CUES, PLACES, POINTS, RECORDINGS, STAGES
from lacet.intake.trade import BIKES, LODGINGS, RATES, RESTAURANTS, ROOMS, TARIFFS, TRANSFERS

KINDS: tuple[SheetKind, ...] = (
    PLACES,
    STAGES,
    LODGINGS,
    RESTAURANTS,
    TRANSFERS,
    BIKES,
    TARIFFS,
    POINTS,
    CUES,
    CLOSURES,
    RECORDINGS,
    ROOMS,
    RATES,
)
BY_NAME: dict[str, SheetKind] = {kind.name: kind for kind in KINDS}
ITEMS: tuple[SheetKind, ...] = tuple(kind for kind in KINDS if not kind.parent)
PARTS: tuple[SheetKind, ...] = tuple(kind for kind in KINDS if kind.parent)


def kind_called(name: str) -> SheetKind | None:
    """The kind a sheet or file is named after: 'Lodgings', 'lodging', 'room'."""
    plain = name.strip().casefold().replace(" ", "_").replace("-", "_")
    for kind in KINDS:
        if plain in (kind.name, kind.name[:-1], kind.one):
            return kind
    return None
