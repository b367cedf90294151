"""What care of a whole project comes to, in sentences: before it is done, and after. No Qt."""

from pathlib import Path

from lacet.session import Session
from lacet.store.copies import own_copies
from lacet.store.forget import Forgotten
from lacet.store.take_in import TakenIn
from lacet.store.upkeep import Compacted
from lacet.wording import listed

MEGABYTE = 1_000_000


def before_restoring(copy: Path) -> tuple[str, ...]:
    """What restoring does."""
    return (
        f"Library, trips, bookings and documents become what '{copy.name}' holds.",
        "A copy of what is here now is made first, beside the project, so that nothing is lost.",
        "What was changed since that copy was made is then only in the other one.",
    )


def before_forgetting(session: Session, trip_id: str) -> tuple[str, ...]:
    """What goes, what stays, and what can't be reached."""
    path = session.project.path
    with session.project.reading() as unit:
        revisions = len(unit.trips.history(trip_id))
        documents = len(unit.documents.rows(trip_id))
    copies = len(own_copies(path))
    return (
        "What goes: names, ages, heights and masses, needs, contacts, wishes and remarks, in the trip and in "
        f"{_count(revisions, 'revision')} of its history, so that it can't be undone.",
        f"What goes: the contents of {_count(documents, 'issued document')}; their figures stay.",
        f"What goes: the same in {_count(copies, 'copy', 'copies')} the program made beside the project, and "
        "in backups made from here, where they still lie where they were put.",
        "What stays: days, stages, nights, bookings and prices without anybody's name, so that the year's "
        "figures still add up.",
        "What isn't reached: files that were sent, printed or copied by other means. Delete those yourself.",
    )


def after_forgetting(done: Forgotten) -> tuple[str, ...]:
    """What was proved, and what still names the guests."""
    searched = _count(len(done.files), "file")
    if not done.left:
        return (
            f"Proved: every byte of {searched} was searched for their names, addresses and numbers, "
            "and none was found.",
        )
    return (f"The bytes of {searched} were searched. Something is left to do:", *done.left)


def after_taking_in(done: TakenIn, names: dict[str, str]) -> tuple[str, ...]:
    """What came, under which names, and whose rules hold."""
    said = [f"Taken in: {listed([names.get(each, each) for each in done.trips])}."] if done.trips else []
    said += [f"Already here, unchanged: {names.get(each, each)}." for each in done.already_here]
    said += [
        f"The {each.kind} '{each.name}' is kept as '{each.new_id}', since '{each.old_id}' means something "
        "else here."
        for each in done.renamed
    ]
    if done.newer:
        said.append(f"{_count(len(done.newer), 'version')} of things that were here already came with it.")
    return (*said, *done.notes, "Nothing that was here has been changed.")


def after_compacting(done: Compacted) -> str:
    """How large the file was and is."""
    return f"Compacted: {_megabytes(done.before)} became {_megabytes(done.after)}."


def file_name(name: str, end: str = ".lacet") -> str:
    """A name for a file, from a trip's name: what any system can write."""
    plain = "".join(letter if letter.isalnum() or letter in " -_" else " " for letter in name)
    return f"{' '.join(plain.split()) or 'trip'}{end}"


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _megabytes(size: int) -> str:
    return f"{size / MEGABYTE:.1f} MB"
