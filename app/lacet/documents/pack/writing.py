"""Writes the pack as a folder and a zip: all of it or nothing, and equal packs as equal bytes.

Everything is made beside its place under a passing name, then renamed.
"""

import os
import zipfile
from collections.abc import Mapping
from pathlib import Path

from lacet.documents.names import safe_name
from lacet.passing import passing_folder
from lacet.trip.errors import LacetError

# The earliest moment a zip can hold: the pack says itself when it was made.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


class PackRefused(LacetError):
    """A pack that can't be written where it was asked for."""


def pack_paths(out: Path, title: str) -> tuple[Path, Path]:
    """Where a pack of that title lies in a folder: as a folder, and as a zip."""
    name = safe_name(title, "Travel pack")
    return out / name, out / f"{name}.zip"


def write_pack(files: Mapping[str, bytes], out: Path, title: str) -> Path:
    """Write files as `out/<title>/` and `out/<title>.zip`, and return the folder.

    Raises
    ------
    PackRefused
        When a pack of that title is there already, or a name isn't one safe path part, or the disk refuses.
    """
    folder, archive = pack_paths(out, title)
    for there in (folder, archive):
        if os.path.lexists(there):
            raise PackRefused("{there} is there already; move it away or choose another folder.", there=there)
    for each in files:
        if safe_name(each) != each:
            raise PackRefused("'{each}' can't be the name of a file of a pack.", each=each)
    try:
        out.mkdir(parents=True, exist_ok=True)
        with passing_folder(out) as passing:
            made = passing / "pack"
            made.mkdir()
            for each, content in files.items():
                (made / each).write_bytes(content)
            packed = passing / "pack.zip"
            _zip(files, packed, folder.name)
            packed.rename(archive)
            try:
                made.rename(folder)
            except OSError:
                archive.unlink()
                raise
    except OSError as error:
        raise PackRefused(
            "The pack can't be written to {out}: {strerror}.", out=out, strerror=error.strerror or error
        ) from error
    return folder


def _zip(files: Mapping[str, bytes], path: Path, folder: str) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        for each in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{each}", _NO_TIME)
            entry.external_attr = 0o644 << 16
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, files[each])
