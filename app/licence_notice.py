"""Writes `resources/licences.txt`: whose packages Lacet stands on, under which licences, with every text.

`PYTHONPATH=app .venv/bin/python app/licence_notice.py`, after each change of `app/requirements.lock`.
Names come from the lock, licences and texts from what is installed. What a package leaves out is added here
and in `app/licence_texts/`.
"""

import re
import sys
from dataclasses import dataclass
from email.message import Message
from importlib.metadata import Distribution, distribution
from pathlib import Path
from typing import cast

from lacet.licences import RULE, THIN

APP = Path(__file__).resolve().parent
NOTICE = APP.parent / "resources" / "licences.txt"
TEXTS = APP / "licence_texts"
TEXT_NAME = re.compile(r"licen[cs]e|copying|notice", re.IGNORECASE)

OPENING = """\
Lacet itself is under the MIT licence. It stands on the packages below, each under its own licence, and
changes none of them. Each is named with its version, its licence, where it and its source are to be had, and
the texts it is given out under. Written by app/licence_notice.py.
"""

_QT = (
    "used under LGPL-3.0; the source of this version is to be had at "
    "https://download.qt.io/official_releases/QtForPython/ and that of Qt at "
    "https://download.qt.io/official_releases/qt/. Both are separate files that may be exchanged for others. "
    "What Qt carries of others, Chromium in its web view among it, is listed at "
    "https://doc.qt.io/qt-6/licenses-used-in-qt.html"
)
SAYS = {
    "pyside6": _QT,
    "pyside6-addons": _QT,
    "pyside6-essentials": _QT,
    "shiboken6": _QT,
    "certifi": "its source, also that of this version, is to be had at "
    "https://github.com/certifi/python-certifi; the whole text of its licence stands under orjson",
    "orjson": "its source, also that of this version, is to be had at https://github.com/ijl/orjson",
    "shapely": "carries GEOS, used under LGPL-2.1; its source is to be had at https://libgeos.org",
    "xstatic-leaflet": "carries Leaflet, whose licence this is",
    "fontpkg": "the package carries no text of the licence it names; this is its published wording",
}
"""What has to be said of a package beyond its own metadata: above all where a source is to be had."""

LICENCES = {
    "colorama": "BSD-3-Clause",
    "jinja2": "BSD-3-Clause",
    "markdown-it-py": "MIT",
    "mdurl": "MIT",
    "segno": "BSD-3-Clause",
    "contourpy": "BSD-3-Clause",
    "python-dateutil": "Apache-2.0 AND BSD-3-Clause",
    "rasterio": "BSD-3-Clause",
    "cligj": "BSD-3-Clause",
    "click-plugins": "BSD-3-Clause",
    "gpxpy": "Apache-2.0",
    "xstatic-leaflet": "BSD-2-Clause",
}
"""Licences where the metadata names none, or not by the name the others use; read in the packages' texts."""

ADDED = {
    "pyside6": ("lgpl-3.0.txt", "gpl-3.0.txt"),
    "pyside6-addons": ("lgpl-3.0.txt", "gpl-3.0.txt"),
    "pyside6-essentials": ("lgpl-3.0.txt", "gpl-3.0.txt"),
    "shiboken6": ("lgpl-3.0.txt", "gpl-3.0.txt"),
    "xstatic-leaflet": ("leaflet.txt",),
    "fontpkg": ("fontpkg.txt",),
}
"""Texts of licences that packages name and don't carry. The LGPL adds to the GPL, so both stand here."""


@dataclass(frozen=True)
class Entry:
    """One package: its head, line by line, and the texts of its licences, each with the file it stands in."""

    head: tuple[str, ...]
    texts: tuple[tuple[str, str], ...]


def main() -> int:
    """Write the notice; refuse a package that isn't installed as locked, or whose licence isn't known."""
    try:
        NOTICE.write_text(notice(locked(APP / "requirements.lock")), encoding="utf-8")
    except LookupError as refusal:
        print(f"The notice is as it was: {refusal.args[0]}.", file=sys.stderr)
        return 1
    return 0


def locked(lock: Path) -> dict[str, set[str]]:
    """Every package of a lock and its versions; some have one for older and one for newer Pythons."""
    found: dict[str, set[str]] = {}
    for name, version in re.findall(r"^([\w.-]+)==(\S+)", lock.read_text(encoding="utf-8"), re.MULTILINE):
        found.setdefault(name, set()).add(version)
    return found


def notice(packages: dict[str, set[str]]) -> str:
    """The whole notice; a text that stood before is named, not repeated."""
    parts, first = [OPENING], dict[str, str]()
    for name, versions in packages.items():
        entry = _entry(name, versions)
        parts.append("\n".join((RULE, *entry.head)) + "\n")
        parts += [_part(name, file, text, first) for file, text in entry.texts]
    return "\n".join(parts)


def _part(name: str, file: str, text: str, first: dict[str, str]) -> str:
    before = first.setdefault(" ".join(text.split()), name)
    return f"{THIN}{file}\n\n" + (text if before == name else f"The same text as under {before}.\n")


def _entry(name: str, versions: set[str]) -> Entry:
    installed = distribution(name)
    if _plain(installed.version) not in versions:
        raise LookupError(f"{name} is installed as {installed.version}, locked as {' and '.join(versions)}")
    facts = cast(Message, installed.metadata)
    licence = LICENCES.get(name) or facts["License-Expression"] or facts["License"]
    added = ((file, _tidy((TEXTS / file).read_text(encoding="utf-8"))) for file in ADDED.get(name, ()))
    texts = (*_texts(installed), *added)
    if not licence or not texts:
        raise LookupError(f"{name} names no licence, or carries no text; say it in app/licence_notice.py")
    head = [
        f"{name} {' and '.join(sorted(versions))}",
        f"Licence: {licence}",
        f"From: https://pypi.org/project/{name}/",
    ]
    if name in SAYS:
        head.append(f"Note: {SAYS[name]}.")
    return Entry(tuple(head), texts)


def _texts(installed: Distribution) -> tuple[tuple[str, str], ...]:
    """The texts of licences a package carries, by the names of their files, each text once."""
    found: dict[str, str] = {}
    for file in sorted(installed.files or [], key=str):
        if TEXT_NAME.search(file.name) and file.suffix not in {".py", ".pyc"}:
            text = _tidy(Path(str(file.locate())).read_text(encoding="utf-8", errors="replace"))
            if text not in found.values():
                found[str(file).partition(".dist-info/")[2].removeprefix("licenses/") or str(file)] = text
    return tuple(found.items())


def _plain(version: str) -> str:
    """A version without leading zeros, as locks write it (1.002 is 1.2)."""
    return re.sub(r"\b0+(?=\d)", "", version)


def _tidy(text: str) -> str:
    """No spaces at the ends of lines, no form feeds, one end of line."""
    return "\n".join(line.rstrip() for line in text.replace("\f", "").splitlines()).strip("\n") + "\n"


if __name__ == "__main__":
    sys.exit(main())
