"""The region is said in a form: empty until somebody says it, proposed beside the fields."""

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from lacet.trip.region import UNSET, EmergencyNumber, Region
from lacet.window.dialogs.region_form import RegionDialog, RegionForm
from lacet.window.dialogs.settings import Page, SettingsDialog
from lacet.window.qt_session import QtSession
from lacet.window.settings import ask_settings

OFFER = Region(
    zone="Atlantic/Azores", currency="EUR", country="PT", emergency_numbers=(EmergencyNumber("112"),)
)
FULL = Region(
    name="Test",
    zone="Europe/Lisbon",
    currency="GBP",
    country="PT",
    subdivision="20",
    holidays=("05-01 Labour Day",),
    emergency_numbers=(EmergencyNumber("112"), EmergencyNumber("140", "mountain rescue")),
    monthly_temperature_c=(None, 5.5, *(12.0,) * 10),
    temperature_height_m=400.0,
    rasters=("island.tif",),
)


def form(qtbot: QtBot, region: Region, offer: Region = UNSET) -> RegionForm:
    made = RegionForm(region, offer)
    qtbot.addWidget(made)
    return made


@pytest.mark.parametrize("region", [UNSET, FULL])
def test_what_was_said_comes_through_unchanged(region: Region, qtbot: QtBot) -> None:
    assert form(qtbot, region, OFFER).answer() == region


def test_a_proposal_is_shown_and_holds_only_once_taken(qtbot: QtBot) -> None:
    made = form(qtbot, UNSET, OFFER)
    said = " ".join(each.text() for each in made.findChildren(QLabel))
    assert "proposes: Atlantic/Azores, EUR, PT, 112" in said
    assert made.answer() == UNSET
    made.take_proposed()
    assert made.answer() == OFFER


def test_what_was_said_is_never_overwritten_by_a_proposal(qtbot: QtBot) -> None:
    made = form(qtbot, FULL, OFFER)
    made.take_proposed()
    assert made.answer() == FULL


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("zone", "Europe/Berlim", "Europe/Berlin"),
        ("currency", "Euros", "EUR"),
        ("country", "Portugall", "PT"),
    ],
)
def test_what_isnt_known_is_told_with_the_nearest(field: str, typed: str, says: str, qtbot: QtBot) -> None:
    made = form(qtbot, UNSET)
    made.lines[field].setText(typed)
    with pytest.raises(ValueError, match=says):
        made.answer()


def test_a_temperature_that_is_none_is_told_with_its_month(qtbot: QtBot) -> None:
    made = form(qtbot, UNSET)
    made.months[4].setText("mild")
    with pytest.raises(ValueError, match="May: 'mild'"):
        made.answer()
    made.months[4].setText("12,5")
    assert made.answer().monthly_temperature_c[4] == 12.5


def test_the_settings_keep_it_in_the_project_and_the_trip_follows(
    session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def say_it(dialog: SettingsDialog) -> bool:
        qtbot.addWidget(dialog)
        assert dialog.pages.currentWidget() is dialog.region
        dialog.region.lines["zone"].setText("")
        return True

    monkeypatch.setattr(SettingsDialog, "said_yes", say_it)
    assert session.opened is not None
    assert session.opened.assessment.figures.days[0].sunset_s is not None
    assert ask_settings(session, None, Page.REGION)  # type: ignore[arg-type]  # a dialog without a window
    assert session.session.project.catalogue().region.zone is None
    assert session.opened.assessment.figures.days[0].sunset_s is None


def test_a_new_library_may_leave_it_for_later(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(RegionDialog, "said_yes", lambda _: False)
    assert RegionDialog.ask() == UNSET
