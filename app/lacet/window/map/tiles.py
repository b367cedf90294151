"""A tile layer the office may switch on: its name, address and attribution. Off until it is."""

import re
from dataclasses import dataclass

from PySide6.QtCore import QSettings

_GROUP = "map"
_HOLES = {"{s}": "[a-z0-9]{1,3}", "{z}": r"\d+", "{x}": r"\d+", "{y}": r"\d+", "{r}": "(@2x)?"}


@dataclass(frozen=True, slots=True)
class TileLayer:
    """Tiles of a provider. `url` is a template with {z}, {x} and {y}, and {s} or {r} where it has them."""

    name: str
    url: str
    attribution: str

    @property
    def usable(self) -> bool:
        """Whether the address is a template over http or https, and the attribution is there."""
        whole = all(hole in self.url for hole in ("{z}", "{x}", "{y}"))
        return whole and self.url.startswith(("https://", "http://")) and bool(self.attribution.strip())

    def allows(self, address: str) -> bool:
        """Whether an address is that of a tile of this layer."""
        pattern = re.escape(self.url)
        for hole, digits in _HOLES.items():
            pattern = pattern.replace(re.escape(hole), digits)
        return re.fullmatch(pattern, address) is not None


def named_layer() -> TileLayer:
    """The layer that was last named, be it on or off; empty when none was."""
    settings = QSettings()
    settings.beginGroup(_GROUP)
    return TileLayer(*(str(settings.value(key, "")) for key in ("name", "url", "attribution")))


def tile_layer() -> TileLayer | None:
    """The layer that is switched on, or None."""
    layer = named_layer()
    return layer if QSettings().value(f"{_GROUP}/on", False, bool) and layer.usable else None


def save_tile_layer(layer: TileLayer | None) -> None:
    """Switch a layer on; None switches it off and keeps what was last named."""
    settings = QSettings()
    settings.beginGroup(_GROUP)
    settings.setValue("on", layer is not None)
    if layer is not None:
        for key in ("name", "url", "attribution"):
            settings.setValue(key, getattr(layer, key))
