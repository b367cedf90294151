"""What erasing guest data does and did, in sentences: for the window and the command line alike.

No sentence claims more than was done: what was read is counted, and what can't be reached is named.
"""

from pathlib import Path

from lacet.store.copies import own_copies
from lacet.store.forget import SHEETS, Forgotten, Written
from lacet.store.mentions import Mention
from lacet.store.unit_of_work import UnitOfWork

_NOT_REACHED = (
    "What can't be reached: what was printed, sent on or copied by other means. Lacet doesn't know of it, so "
    "delete it yourself."
)


def before_erasing(unit: UnitOfWork, trip_id: str) -> tuple[str, ...]:
    """What goes, what stays, and what can't be reached."""
    revisions, documents = len(unit.trips.history(trip_id)), len(unit.documents.rows(trip_id))
    copies = len(own_copies(unit.path))
    return (
        "What goes: names, ages, heights and masses, needs, contacts, wishes and every note, in the trip and "
        f"in {_count(revisions, 'revision')} of its history, so that it can't be undone.",
        f"What goes: the contents of {_count(documents, 'issued document')}; their figures stay.",
        f"What goes: the same in {_count(copies, 'copy', 'copies')} the program made beside the project, and "
        "in backups made from here, where they still lie where they were put.",
        "What stays: days, stages, nights, bookings and prices without anybody's name, so that the year's "
        "figures still add up.",
        "What is only told: where other trips, the library and the settings name them, and which files of "
        "this trip were written.",
        _NOT_REACHED,
    )


def after_erasing(done: Forgotten) -> tuple[str, ...]:
    """What was read, what was found, and what is left to do."""
    return (
        _read(done),
        *(_mentioned(each) for each in done.mentions),
        *(_written(each) for each in done.written),
        *(f"Not read: {each}." for each in done.unread),
        *done.left,
        _NOT_REACHED,
    )


def all_done(done: Forgotten) -> bool:
    """Whether nothing is left that a person has to look at."""
    return not (done.mentions or done.written or done.unread or done.left)


def still_there(done: Forgotten) -> tuple[Path, ...]:
    """Files of the trip that still lie where they were written, packs as folders too; for deleting them."""
    return tuple(
        each.path
        for each in done.written
        if each.there and each.kind != SHEETS and (each.kind == "pack" or not each.path.is_dir())
    )


def plain_erasing(done: Forgotten) -> dict[str, object]:
    """The same as data, for other programs."""
    return {
        "trip": done.trip_id,
        "revision": done.revision,
        "files": [str(file) for file in done.files],
        "texts_read": done.texts,
        "mentions": [
            {"where": each.where, "trip": each.trip_id, "says": each.says, "sure": each.sure}
            for each in done.mentions
        ],
        "written": [
            {
                "path": str(each.path),
                "kind": each.kind,
                "written_at": each.made_at.isoformat(),
                "still_there": each.there,
            }
            for each in done.written
        ],
        "not_read": list(done.unread),
        "left": list(done.left),
    }


def _read(done: Forgotten) -> str:
    read = (
        f"Read afterwards, word by word: {_count(done.texts, 'text')} in {_count(len(done.files), 'file')}."
    )
    if not done.mentions:
        return f"{read} No name, address or number of theirs was found."
    sure = sum(each.sure for each in done.mentions)
    doubtful = len(done.mentions) - sure
    found = [f"{sure} where they are named"] if sure else []
    found += [f"{doubtful} where a word may mean them"] if doubtful else []
    return f"{read} Found, and left as it is: {', '.join(found)}."


def _mentioned(mention: Mention) -> str:
    named = "Named in" if mention.sure else "Perhaps named in"
    look = "" if mention.sure else " – please look"
    return f"{named} {mention.where}: '{mention.says}'{look}."


def _written(file: Written) -> str:
    day = f"{file.made_at:%Y-%m-%d}"
    if file.path.name.startswith("erased-"):
        return f"Written on {day}: {file.kind}; its name was erased with an earlier one."
    state = "still there; delete it if nobody needs it" if file.there else "no longer where it was put"
    return f"Written on {day}: {file.kind}, '{file.path}', {state}. Copies that were sent can't be reached."


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
