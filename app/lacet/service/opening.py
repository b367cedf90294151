"""Opens a project that must be there, makes one that isn't, and finds trips and variants by name."""

from collections.abc import Sequence
from pathlib import Path

from lacet.files import is_there
from lacet.store import SUFFIX, Project, TripRow, open_project
from lacet.trip.edits import letter
from lacet.trip.errors import LacetError
from lacet.trip.region import Region
from lacet.trip.trip import Trip, Variant


class NotFound(LacetError):
    """Nothing, or more than one thing, goes by that name."""


class NotMade(LacetError):
    """No project was made."""


def project_at(path: Path) -> Project:
    """The project in a file that must be there."""
    if not is_there(path):
        raise NotFound("{path}: there is no such file; 'lacet demo DIR' writes one to try.", path=path)
    return open_project(path)


def make_project(path: Path, region: Region) -> None:
    """Make an empty project in a file.

    Raises
    ------
    NotMade
        When its name isn't a project's, or something of that name is there.
    StoreError
    """
    if path.suffix != SUFFIX:
        raise NotMade(
            "{path}: a project's name ends in {suffix}; give it that ending.", path=path, suffix=SUFFIX
        )
    if is_there(path):
        raise NotMade("{path} is there already; choose another name, or open it.", path=path)
    with open_project(path, create=True) as project, project.unit_of_work() as unit:
        unit.settings.save(region)
        unit.commit()


def trip_row(rows: Sequence[TripRow], named: str) -> TripRow:
    """The trip a person means."""
    index = _index([(row.id, row.name) for row in rows], named, "trip")
    return rows[index]


def variant_named(trip: Trip, named: str) -> Variant:
    """The variant a person means: also by its letter."""
    for variant in trip.variants:
        if letter(trip, variant.id).casefold() == named.casefold():
            return variant
    index = _index(
        [(variant.id, variant.name) for variant in trip.variants], named, f"variant of '{trip.name}'"
    )
    return trip.variants[index]


def _index(known: Sequence[tuple[str, str]], named: str, what: str) -> int:
    """Exact id, exact name, the number in the list, then the only name that begins so."""
    wanted = named.casefold()
    for choose in (0, 1):
        found = [index for index, each in enumerate(known) if each[choose].casefold() == wanted]
        if len(found) == 1:
            return found[0]
    # Python turns no more than some thousand digits into a number.
    if named.isdecimal() and len(named) <= 9 and 1 <= int(named) <= len(known):
        return int(named) - 1
    found = [index for index, (_, name) in enumerate(known) if name.casefold().startswith(wanted)]
    if len(found) == 1:
        return found[0]
    # Of several with one name, only the ids tell which is which.
    ambiguous = [known[index] for index in found]
    names = ", ".join(f"'{name}' ({each})" for each, name in ambiguous or known) or "none"
    many = "more than one" if found else "no"
    raise NotFound(
        "There is {many} {what} called '{named}'. There is: {names}.",
        many=many,
        what=what,
        named=named[:100],
        names=names,
    )
