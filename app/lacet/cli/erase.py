"""`lacet erase`: guest data out of a trip, its history, its documents and the program's copies."""

import argparse
import os

from lacet.cli.telling import print_json, progress, say
from lacet.service.opening import project_at, trip_row
from lacet.store import after_erasing, before_erasing, delete_files, plain_erasing, still_there


def erase(arguments: argparse.Namespace) -> None:
    """Say what would go; with `--yes`, erase it and tell what was read and found."""
    with project_at(arguments.project) as project:
        with project.reading() as unit:
            row = trip_row(unit.trips.rows(), arguments.trip)
            told = before_erasing(unit, row.id)
        if not arguments.yes:
            _say_what_would_go(row.name, told, as_data=arguments.json)
            return
        with progress("Erasing, and reading everything again"):
            done = project.forget_party(row.id, row.revision)
            redacted = project.redact(done.known) if arguments.redact else ()
    there = still_there(done) if arguments.delete_files else ()
    not_deleted = delete_files(there)
    deleted = [str(path) for path in there if not os.path.lexists(path)]
    if arguments.json:
        more = {"erased": True, "redacted": list(redacted), "deleted": deleted, "not_deleted": not_deleted}
        print_json(plain_erasing(done) | more)
        return
    for sentence in after_erasing(done):
        say(sentence)
    if arguments.redact:
        say(f"Names taken out of: {', '.join(redacted) or 'nothing'}.")
    if arguments.delete_files:
        say(f"Deleted: {', '.join(deleted) or 'no file'}.")
    for sentence in not_deleted:
        say(sentence)


def _say_what_would_go(name: str, told: tuple[str, ...], *, as_data: bool) -> None:
    if as_data:
        print_json({"erased": False, "says": list(told)})
        return
    say(f"Nothing was erased yet of '{name}'. This can't be taken back; with --yes it is done.")
    for sentence in told:
        say(sentence)
