"""Asks for the settings and keeps each where it belongs; what changed shows at once everywhere."""

from decimal import Decimal
from pathlib import Path

from PySide6.QtWidgets import QWidget

from lacet.days.region import proposed, zone_doubt
from lacet.trip.money import Money
from lacet.window.dialogs.settings import Page, Settings, SettingsDialog
from lacet.window.map.base_map import base_map_path, set_base_map
from lacet.window.map.tiles import named_layer, save_tile_layer, tile_layer
from lacet.window.preferences import keep_wording
from lacet.window.qt_session import QtSession
from lacet.wording import NO_CURRENCY

EXAMPLE_AMOUNT = Decimal("1482.00")


def settings_now(session: QtSession) -> Settings:
    """Everything as it is."""
    inner = session.session
    return Settings(
        inner.wording,
        inner.catalogue.office,
        named_layer(),
        tile_layer() is not None,
        inner.rules,
        str(base_map_path() or ""),
        inner.catalogue.region,
        proposed(inner.catalogue),
    )


def ask_settings(session: QtSession, parent: QWidget, page: Page = Page.FIGURES) -> bool:
    """Show the settings; returns whether anything was kept."""
    before = settings_now(session)
    example = Money(EXAMPLE_AMOUNT, session.session.catalogue.region.currency or NO_CURRENCY)
    after = SettingsDialog.ask(before, example, page, parent)
    return after is not None and after != before and keep_settings(session, before, after)


def keep_settings(session: QtSession, before: Settings, after: Settings) -> bool:
    """Units, language and map for this person; office and rules in the project, only where they changed."""
    inner = session.session
    keep_wording(after.wording)
    if after.map_file != before.map_file:
        session.do(lambda: set_base_map(Path(after.map_file) if after.map_file else None))
    save_tile_layer(after.layer)
    if not after.layer_on:
        save_tile_layer(None)
    session.do(lambda: inner.speak(after.wording))
    kept = True
    if after.office != before.office:
        kept = session.do(lambda: inner.keep_office(after.office))
    if after.rules != before.rules:
        kept = session.do(lambda: inner.keep_rules(after.rules)) and kept
    if after.region != before.region:
        kept = session.do(lambda: inner.keep_region(after.region)) and kept
    if kept:
        session.kept.emit("Kept: settings")
        doubt = zone_doubt(after.region, inner.catalogue)
        if doubt is not None and after.region.zone != before.region.zone:
            session.refused.emit(doubt)
    return kept
