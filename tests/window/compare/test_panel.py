"""Side by side follows every edit."""

from dataclasses import replace

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent
from pytestqt.qtbot import QtBot

from lacet.trip import edits
from lacet.window.compare.lines import variant_line
from lacet.window.compare.panel import ComparePanel
from lacet.window.qt_session import QtSession


def copy(session: QtSession) -> list[str]:
    """Copy the open variant; the ids of all."""
    here = session.opened
    assert here is not None
    assert session.apply(lambda trip: edits.copy_variant(trip, here.variant_id), "copy")
    after = session.opened
    assert after is not None
    return [variant.id for variant in after.trip.variants]


def test_side_by_side_follows_one_edit_after_another(session: QtSession, qtbot: QtBot) -> None:
    """The boxes of the edit before are deleted for good between edits, as an event loop does."""
    shown = copy(session)
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    assert panel.chosen() == shown
    for _ in range(3):
        copy(session)
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        assert panel.chosen() == shown, "what the person chose stays chosen, each once"


def test_other_variants_are_assessed_again_under_other_house_rules(session: QtSession, qtbot: QtBot) -> None:
    copy(session)
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    opened = session.opened
    assert opened is not None
    other = next(each for each in opened.trip.variants if each.id != opened.variant_id)
    before = panel.assessed(opened, other)
    assert panel.assessed(opened, other) is before
    inner = session.session
    inner.keep_rules(replace(inner.rules, walking_limit_m=1_000.0))
    assert session.opened is not None
    after = panel.assessed(session.opened, other)
    assert len(after.findings) > len(before.findings)


def test_a_profile_is_broken_where_guests_are_driven(session: QtSession) -> None:
    """Up to Birch on foot, and on from Alder: nothing was climbed down in between."""
    opened = session.opened
    assert opened is not None
    whole = variant_line(opened.assessment)
    first, last = opened.trip.variants[0].days[0], opened.trip.variants[0].days[-1]
    assert not np.isnan(whole.height_m).any()
    again = replace(first.items[0], id="again")
    assert session.apply(lambda trip: edits.place_item(trip, opened.variant_id, last.id, again), "again")
    broken = variant_line(session.session.opened.assessment)  # type: ignore[union-attr]  # it is open
    assert np.isnan(broken.height_m).sum() == 1
    assert not np.isnan(broken.height_m[-1])
