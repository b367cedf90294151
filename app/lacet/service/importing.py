"""Takes in what an operator brings, for command line and window alike: all that was chosen, or nothing."""

from collections.abc import Sequence
from pathlib import Path

from lacet.files import is_there
from lacet.intake.material import Chosen, Material, Step, choose, keep
from lacet.intake.proposals import Proposal
from lacet.service.opening import project_at
from lacet.store import SUFFIX, Project, open_project
from lacet.trip.catalogue import Catalogue


def library_at(path: Path) -> tuple[Catalogue, tuple[Path, ...]]:
    """The library in a file, and its elevation rasters; empty where a project of that name could be made.

    Raises
    ------
    NotFound
        When there is no file and its name isn't a project's.
    """
    if not is_there(path) and path.suffix == SUFFIX:
        return Catalogue(), ()
    with project_at(path) as project:
        catalogue = project.catalogue()
        return catalogue, project.raster_files(catalogue.region.rasters)


def keep_at(path: Path, chosen: Chosen) -> None:
    """Keep what was chosen in a file, which is made where there is none.

    Raises
    ------
    NameTaken, StoreError
    """
    with open_project(path, create=True) as project:
        keep_chosen(project, chosen)


def take_in(project: Project, material: Material, proposals: Sequence[Proposal], step: Step) -> Chosen:
    """Choose from what files hold, as a person corrected it, and keep it.

    Raises
    ------
    NameTaken, StoreError
    """
    rasters = project.raster_files(material.catalogue.region.rasters)
    chosen = choose(material, rasters, proposals)
    keep_chosen(project, chosen, step)
    return chosen


def keep_chosen(project: Project, chosen: Chosen, step: Step | None = None) -> None:
    """Keep what was chosen: items as new versions, rasters beside the project's file.

    Raises
    ------
    NameTaken
        When another file beside the project has a raster's name.
    StoreError
    """
    with project.unit_of_work() as unit:
        keep(unit, chosen, project.path.parent, step)
        unit.commit()
