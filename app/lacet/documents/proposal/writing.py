"""Writes a proposal's files: all of them or none, and never over one that is there.

Each is made beside its place under a passing name, then renamed.
"""

import os
from collections.abc import Mapping
from pathlib import Path

from lacet.documents.names import safe_name
from lacet.passing import passing_folder
from lacet.trip.errors import LacetError


class ProposalRefused(LacetError):
    """A proposal that can't be made, or not where it was asked for."""


def write_files(contents: Mapping[str, bytes], out: Path) -> tuple[Path, ...]:
    """Write files into a folder, which is made where it isn't there, and return their paths.

    Raises
    ------
    ProposalRefused
        When one of them is there already, a name isn't one safe path part, or the disk refuses.
    """
    paths = {name: out / name for name in contents}
    for name, path in paths.items():
        if safe_name(name) != name:
            raise ProposalRefused("'{name}' can't be the name of a file.", name=name)
        if os.path.lexists(path):
            raise ProposalRefused(
                "{path} is there already; move it away or choose another folder.", path=path
            )
    placed: list[Path] = []
    try:
        out.mkdir(parents=True, exist_ok=True)
        with passing_folder(out) as passing:
            for name, content in contents.items():
                (passing / name).write_bytes(content)
            for name, path in paths.items():
                (passing / name).rename(path)
                placed.append(path)
    except OSError as error:
        take_back(tuple(placed))
        raise ProposalRefused(
            "The proposal can't be written to {out}: {strerror}.", out=out, strerror=error.strerror or error
        ) from error
    return tuple(placed)


def take_back(paths: tuple[Path, ...]) -> None:
    """Remove files that were written, when what belongs to them could not be done."""
    for path in paths:
        path.unlink(missing_ok=True)
