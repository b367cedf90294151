"""What the map's page may load and run: its own files, its own scripts by their digest, chosen tiles. No Qt.

The page is kept between starts, so the policy is written into it when it is served: it names the servers of
the tile layer that is switched on then, or none.
"""

import base64
import hashlib
import re
from collections.abc import Iterator
from html import escape
from urllib.parse import urlsplit

from lacet.window.map.page import ADDRESS
from lacet.window.map.tiles import TileLayer

_INLINE = re.compile(r"<(script|style)>(.*?)</\1>", re.DOTALL)
_HOST = re.compile(r"[a-z0-9.-]+")
# The map puts these in place of {s} in turn.
_SUBDOMAINS = "abc"
_HEAD = "<head>"


def guarded(page: bytes, tiles: TileLayer | None) -> bytes:
    """The page with its policy before anything it could load."""
    text = page.decode()
    meta = f'<meta http-equiv="Content-Security-Policy" content="{escape(policy(text, tiles))}">'
    return text.replace(_HEAD, _HEAD + meta, 1).encode()


def policy(page: str, tiles: TileLayer | None) -> str:
    """The policy as its standard writes it; `tiles` None = none are shown from the network."""
    inline: dict[str, list[str]] = {"script": [], "style": []}
    for kind, content in _INLINE.findall(page):
        inline[kind].append(f"'sha256-{_digest(content)}'")
    # Leaflet puts an empty picture in the place of a tile it no longer waits for.
    pictures = (ADDRESS, "data:", *servers(tiles))
    allowed = {
        "default-src": ("'none'",),
        "script-src": (ADDRESS, *inline["script"]),
        "style-src": (ADDRESS, *inline["style"]),
        "img-src": pictures,
        "base-uri": ("'none'",),
        "form-action": ("'none'",),
    }
    return "; ".join(" ".join((directive, *sources)) for directive, sources in allowed.items())


def servers(tiles: TileLayer | None) -> tuple[str, ...]:
    """Scheme, host and port of each server of a layer's tiles; none where the address can't be read."""
    if tiles is None:
        return ()
    return tuple(dict.fromkeys(_origins(tiles.url)))


def _origins(template: str) -> Iterator[str]:
    for subdomain in _SUBDOMAINS:
        try:
            parts = urlsplit(template.replace("{s}", subdomain))
            host = (parts.hostname or "").encode("idna").decode()
            port = "" if parts.port is None else f":{parts.port}"
        except ValueError:  # an address that is none, or a host no name can be made of
            return
        if parts.scheme in ("https", "http") and _HOST.fullmatch(host):
            yield f"{parts.scheme}://{host}{port}"


def _digest(content: str) -> str:
    return base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
