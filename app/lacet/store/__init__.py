"""Where everything is kept: one SQLite file is a library and its trips.

    with open_project("verrin.lacet") as project, project.unit_of_work() as uow:
        trip, revision = uow.trips.load("may")
        revision = uow.trips.save(edited, revision, "swap days 2 and 3")
        uow.commit()

Importing this package imports neither SQLAlchemy nor Alembic: a name is fetched when it is first used,
so that a window can show itself first. `open_project` needs SQLAlchemy; `warm_up` fetches it beforehand,
from any thread.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from lacet.store.bookings import BookingStep as BookingStep
    from lacet.store.documents import DocumentRow as DocumentRow
    from lacet.store.erasing_words import after_erasing as after_erasing
    from lacet.store.erasing_words import all_done as all_done
    from lacet.store.erasing_words import before_erasing as before_erasing
    from lacet.store.erasing_words import plain_erasing as plain_erasing
    from lacet.store.erasing_words import still_there as still_there
    from lacet.store.errors import FileBusy as FileBusy
    from lacet.store.errors import FileLost as FileLost
    from lacet.store.errors import StaleRevision as StaleRevision
    from lacet.store.errors import StoreError as StoreError
    from lacet.store.forget import SHEETS as SHEETS
    from lacet.store.forget import Forgotten as Forgotten
    from lacet.store.item_rows import ItemRow as ItemRow
    from lacet.store.keeping import as_kept as as_kept
    from lacet.store.listed import Listed as Listed
    from lacet.store.pictures import Picture as Picture
    from lacet.store.project import Project as Project
    from lacet.store.project import open_project as open_project
    from lacet.store.rescue import Rescued as Rescued
    from lacet.store.schema import SUFFIX as SUFFIX
    from lacet.store.search import Box as Box
    from lacet.store.search import box_around as box_around
    from lacet.store.stage_rows import StageFilter as StageFilter
    from lacet.store.stage_rows import StageRow as StageRow
    from lacet.store.take_in import TakenIn as TakenIn
    from lacet.store.tile_file import TileFile as TileFile
    from lacet.store.trip_rows import TripRow as TripRow
    from lacet.store.trip_rows import VariantRow as VariantRow
    from lacet.store.trips import HistoryRow as HistoryRow
    from lacet.store.trips import Position as Position
    from lacet.store.unit_of_work import UnitOfWork as UnitOfWork
    from lacet.store.upkeep import Compacted as Compacted
    from lacet.store.written import delete_files as delete_files

_HOMES = {
    "BookingStep": "bookings",
    "DocumentRow": "documents",
    "after_erasing": "erasing_words",
    "all_done": "erasing_words",
    "before_erasing": "erasing_words",
    "plain_erasing": "erasing_words",
    "still_there": "erasing_words",
    "FileBusy": "errors",
    "FileLost": "errors",
    "StaleRevision": "errors",
    "StoreError": "errors",
    "Forgotten": "forget",
    "SHEETS": "forget",
    "ItemRow": "item_rows",
    "as_kept": "keeping",
    "Listed": "listed",
    "Picture": "pictures",
    "open_project": "project",
    "Project": "project",
    "Rescued": "rescue",
    "SUFFIX": "schema",
    "Box": "search",
    "box_around": "search",
    "StageFilter": "stage_rows",
    "StageRow": "stage_rows",
    "TakenIn": "take_in",
    "TileFile": "tile_file",
    "TripRow": "trip_rows",
    "VariantRow": "trip_rows",
    "HistoryRow": "trips",
    "Position": "trips",
    "UnitOfWork": "unit_of_work",
    "Compacted": "upkeep",
    "delete_files": "written",
}
__all__ = [*_HOMES, "warm_up"]


def warm_up() -> None:
    """Import what opening a project needs; for a thread of its own while the window shows itself."""
    import_module("lacet.store.project")


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
