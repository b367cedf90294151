"""What can be done with a variant: rename, copy, propose, take out."""

from functools import partial

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QInputDialog, QMenu, QWidget

from lacet.trip import edits
from lacet.window.qt_session import QtSession


def variant_menu(session: QtSession, variant_id: str, at: QPoint, window: QWidget) -> QMenu:
    """The menu, shown at a place on the screen; each entry makes one edit that can be undone."""
    menu = QMenu(window)
    for text, action in (
        ("Rename…", partial(rename, session, variant_id, window)),
        ("Copy", partial(copy, session, variant_id)),
        ("Propose this one", partial(propose, session, variant_id)),
        ("Take out", partial(take_out, session, variant_id)),
    ):
        menu.addAction(text).triggered.connect(lambda _=False, action=action: action())
    menu.popup(at)
    return menu


def rename(session: QtSession, variant_id: str, window: QWidget) -> None:
    """Ask for another name."""
    opened = session.opened
    variant = opened.trip.variant(variant_id) if opened is not None else None
    if variant is None:
        return
    name, kept = QInputDialog.getText(window, "Rename the variant", "Name", text=variant.name)
    if kept:
        session.apply(lambda trip: edits.rename_variant(trip, variant_id, name), "rename the variant")


def copy(session: QtSession, variant_id: str) -> None:
    """One more of the same, to change."""
    session.apply(lambda trip: edits.copy_variant(trip, variant_id), "copy the variant")


def propose(session: QtSession, variant_id: str) -> None:
    """The one the client is offered, and the one that is shown first from now on."""
    session.apply(lambda trip: edits.propose(trip, variant_id), "propose the variant")


def take_out(session: QtSession, variant_id: str) -> None:
    """It goes; undo brings it back."""
    session.apply(lambda trip: edits.remove_variant(trip, variant_id), "take the variant out")
