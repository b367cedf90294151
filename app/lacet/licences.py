"""Whose packages Lacet stands on, and under which licences: reads the notice that ships with it.

`app/licence_notice.py` writes the notice.
"""

from dataclasses import dataclass

from lacet.resources import resource

RULE = "=" * 80
"""Stands above each package in the notice."""
THIN = "-" * 16 + " "
"""Stands before the name of each text of a licence."""


@dataclass(frozen=True)
class Licensed:
    """One package: its name and versions, its licence, and everything the notice holds of it."""

    package: str
    versions: str
    licence: str
    text: str


def licences() -> tuple[Licensed, ...]:
    """Every package of the notice, in its order."""
    _, *parts = resource("licences.txt").read_text(encoding="utf-8").split(f"\n{RULE}\n")
    return tuple(_read(part) for part in parts)


def _read(part: str) -> Licensed:
    head, licence, _ = part.split("\n", 2)
    package, _, versions = head.partition(" ")
    return Licensed(package, versions, licence.removeprefix("Licence: "), part.rstrip("\n") + "\n")
