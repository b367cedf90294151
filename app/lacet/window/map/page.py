"""The map's page, made once by folium from local files only, and where these files are. No Qt.

folium takes half a second to import, so the page is kept in the user's cache until a part of it changes.
What the page shows comes later, as messages; nothing of a trip is ever written into it.
"""

from contextlib import suppress
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path
from typing import Any

ADDRESS = "lacet://map/"
# Changes with anything that changes the page itself.
EDITION = 1
CHANNEL_SCRIPT = "qwebchannel.js"
_STYLES = ("leaflet.css", "map.css")
_SCRIPTS = ("leaflet.js", CHANNEL_SCRIPT, "map.js")
_OURS = files("lacet.window.map")
TYPES = {
    "html": "text/html",
    "js": "text/javascript",
    "css": "text/css",
    "png": "image/png",
}


def page(cache: Path) -> bytes:
    """The page, from the cache where it is there already."""
    parts = f"{EDITION}-{version('folium')}-{version('XStatic-Leaflet')}"
    kept = cache / f"page-{parts}.html"
    try:
        return kept.read_bytes()
    except OSError:
        made = make_page().encode()
        with suppress(OSError):  # a cache that can't be written only costs time
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_bytes(made)
        return made


def make_page() -> str:
    """Let folium make the page: a map without tiles that hands itself to our script."""
    import folium
    from branca.element import MacroElement
    from jinja2 import Template

    made = folium.Map(
        location=(0.0, 0.0),
        zoom_start=2,
        tiles=None,
        zoom_control=False,
        attribution_control=False,
        zoom_snap=0.25,
        zoom_delta=0.5,
        wheel_px_per_zoom_level=120,
        max_zoom=17,
        keyboard_pan_delta=60,
    )
    # Of this map only: folium's own lists belong to the class and name addresses on the network.
    made.default_css = [(name, ADDRESS + name) for name in _STYLES]
    made.default_js = [(name, ADDRESS + name) for name in _SCRIPTS]
    start: Any = MacroElement()  # type: ignore[no-untyped-call]  # branca ships no types for it
    start._template = Template(
        "{% macro script(this, kwargs) %}lacet.begin({{ this._parent.get_name() }});{% endmacro %}"
    )
    made.add_child(start)
    return str(made.get_root().render())


def asset(name: str) -> bytes:
    """A script or style sheet of the page.

    Raises
    ------
    FileNotFoundError
        When the page has none of that name.
    """
    if name in ("map.js", "map.css"):
        return (_OURS / name).read_bytes()
    if name in ("leaflet.js", "leaflet.css"):
        from xstatic.pkg import leaflet

        return (Path(leaflet.BASE_DIR) / name).read_bytes()
    raise FileNotFoundError(name)


def content_type(name: str) -> str:
    """The media type of a file, by the end of its name."""
    return TYPES.get(name.rpartition(".")[2], "application/octet-stream")
