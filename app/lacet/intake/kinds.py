"""All kinds of sheets, parents before what belongs to them."""

import re

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


_NUMBERED = re.compile(r"[ _-](\d{1,4})$")


def kind_called(name: str) -> SheetKind | None:
    """The kind a sheet or file is named after: 'Lodgings', 'lodging', 'room'; or a part of it, 'cues 2'."""
    plain = _NUMBERED.sub("", name.strip()).casefold().replace(" ", "_").replace("-", "_")
    for kind in KINDS:
        if plain in (kind.name, kind.name[:-1], kind.one):
            return kind
    return None


def part_number(name: str) -> int:
    """Which part of a sheet a file is: 2 for 'cues 2', 1 for 'cues'."""
    found = _NUMBERED.search(name.strip())
    return 1 if found is None else int(found[1])
