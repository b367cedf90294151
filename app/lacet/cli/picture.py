"""`lacet picture`: photographs of places, stages, houses and restaurants, for the documents."""

import argparse
from dataclasses import replace
from typing import TypeAlias

from lacet.cli.telling import say
from lacet.service.opening import NotFound, project_at
from lacet.service.picturing import keep_pictures, pictures_in
from lacet.store import Project
from lacet.trip.errors import LacetError
from lacet.trip.library import Lodging, Place, Restaurant, Stage

Pictured: TypeAlias = Place | Stage | Lodging | Restaurant


class WordsMissing(LacetError):
    """A picture nobody has described."""


def picture(arguments: argparse.Namespace) -> None:
    """Take in pictures of one item, all of them or none; the item gets a new version."""
    alt = " ".join(arguments.alt.split())
    if not alt:
        raise WordsMissing("Say in --alt what the picture shows, for those who can't see it.")
    credit = " ".join(arguments.credit.split())
    prepared = pictures_in(list(dict.fromkeys(arguments.files)), alt=alt, credit=credit)
    with project_at(arguments.project) as project:
        item = pictured(project, arguments.item)
        with project.unit_of_work() as unit:
            ids = keep_pictures(unit, prepared)
            order = (*ids, *item.picture_ids) if arguments.first else (*item.picture_ids, *ids)
            kept = unit.library.add_version(replace(item, picture_ids=tuple(dict.fromkeys(order))))
            unit.commit()
    count = len(kept.picture_ids)
    pictures = "one picture" if count == 1 else f"{count} pictures"
    say(f"{kept.name} has {pictures} in its version {kept.version}.")
    say("Trips that use it go on showing its older version until you take the newer one.")


def pictured(project: Project, named: str) -> Pictured:
    """The place, stage, house or restaurant a person means, by id or by its whole name.

    Raises
    ------
    NotFound
        When nothing or more than one thing is called so.
    """
    catalogue = project.catalogue()
    items: list[Pictured] = [
        *catalogue.current(Place), *catalogue.current(Stage), *catalogue.current(Lodging),
        *catalogue.current(Restaurant),
    ]  # fmt: skip
    wanted = named.casefold()
    for names in ([item.id.casefold() for item in items], [item.name.casefold() for item in items]):
        found = [item for item, name in zip(items, names, strict=True) if name == wanted]
        if len(found) == 1:
            return found[0]
        if found:
            several = " and ".join(f"the {type(item).__name__.lower()} '{item.id}'" for item in found)
            raise NotFound("'{named}' can be {several}; say which by its id.", named=named, several=several)
    raise NotFound("The library has no place, stage, lodging or restaurant called '{named}'.", named=named)
