"""What care of a whole project comes to, in sentences: before it is done, and after."""

from pathlib import Path

from lacet.store import Compacted, TakenIn
from lacet.wording import listed

MEGABYTE = 1_000_000


def before_restoring(copy: Path) -> tuple[str, ...]:
    """What restoring does."""
    return (
        f"Library, trips, bookings and documents become what '{copy.name}' holds.",
        "A copy of what is here now is made first, beside the project, so that nothing is lost.",
        "What was changed since that copy was made is then only in the other one.",
    )


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
