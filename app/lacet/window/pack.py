"""Writes what travels with the guests from the open variant."""

from datetime import UTC, datetime
from pathlib import Path

from lacet.window.qt_session import QtSession


def write_pack(session: QtSession, out: Path) -> bool:
    """The pack as a folder and a zip in `out`; a refusal is shown as a sentence and leaves nothing."""
    # Calendars and zips are no part of the first second of a window.
    from lacet.documents.pack.making import make_pack

    shown = session.opened
    if shown is None:
        return False
    return session.do(
        lambda: make_pack(
            shown.trip, shown.variant, shown.assessment, session.session.catalogue, out,
            revision=shown.revision, made_at=datetime.now(UTC),
        ),
        f"Pack written to {out}",
    )  # fmt: skip
