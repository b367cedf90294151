"""Settings: what is set is kept where it belongs, and every figure in the window follows at once."""

from dataclasses import replace
from decimal import Decimal

import pytest
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from lacet.effort import walking
from lacet.service.brief import brief_text
from lacet.service.sheet.table import RowKind
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.window.dialogs.house_rules import HouseRulesForm
from lacet.window.dialogs.office_form import OfficeForm
from lacet.window.dialogs.settings import Settings, SettingsDialog
from lacet.window.map.tiles import TileLayer, named_layer, tile_layer
from lacet.window.preferences import kept_wording, languages
from lacet.window.qt_session import QtSession
from lacet.window.settings import keep_settings, settings_now
from lacet.window.settle_panel import CauseRow, SettlePanel
from lacet.window.sheet.panel import SheetPanel
from lacet.window.shelf.panel import ShelfPanel
from lacet.wording import Wording

MILES = Wording("en_US", imperial=True)
EXAMPLE = Money(Decimal("1482.00"), "EUR")
LAYER = TileLayer("Own", "https://tiles.example/{z}/{x}/{y}.png", "Surveyors of Verrin")


def texts_of(panel: SheetPanel, kind: RowKind) -> set[str]:
    table = panel.model.table
    assert table is not None
    row = table.row_of(kind)
    return {table.cells[row, column].text for column in range(len(table.columns))} - {""}


def keep(session: QtSession, **changes: object) -> None:
    now = settings_now(session)
    keep_settings(session, now, replace(now, **changes))  # type: ignore[arg-type]  # fields by name


def test_miles_show_at_once_on_sheet_shelf_totals_and_in_findings(qtbot: QtBot, session: QtSession) -> None:
    sheet, shelf, settle = SheetPanel(session), ShelfPanel(session), SettlePanel(session)
    for widget in (sheet, shelf, settle):
        qtbot.addWidget(widget)
    inner = session.session
    inner.keep_rules(replace(inner.rules, walking_limit_m=1_000.0))
    assert all(text.endswith("km") for text in texts_of(sheet, RowKind.DISTANCE))
    keep(session, wording=MILES)
    assert all(text.endswith("mi") for text in texts_of(sheet, RowKind.DISTANCE))
    assert all(text.endswith("ft") for text in texts_of(sheet, RowKind.CLIMB))
    assert " mi " in sheet.totals.text()
    assert " km" not in sheet.totals.text()
    stages = [entry for entry in shelf.model.entries if entry.stage is not None]
    assert stages
    assert all(" mi " in entry.sub and " ft" in entry.sub for entry in stages)
    rows = [row for row in settle.findChildren(CauseRow) if not row.isHidden()]
    said = " ".join(label.text() for row in rows for label in row.findChildren(QLabel))
    assert " mi" in said
    assert " km" not in said


def test_the_brief_says_limits_in_miles(session: QtSession) -> None:
    opened = session.opened
    assert opened is not None
    guests = tuple(
        replace(guest, limits=replace(guest.limits, walking_m=16_093.44))
        for guest in opened.trip.party.travellers
    )
    trip = replace(opened.trip, party=replace(opened.trip.party, travellers=guests))
    assert "10.0 mi on foot" in brief_text(trip, MILES)


def test_days_are_named_in_the_language_chosen(qtbot: QtBot, session: QtSession) -> None:
    sheet = SheetPanel(session)
    qtbot.addWidget(sheet)
    keep(session, wording=Wording("de_DE"))
    opened = session.opened
    assert opened is not None
    on = opened.trip.date_of(1)
    assert on is not None
    assert sheet.view.days.labels[0][1] == Wording("de_DE").day(on)
    assert "," in " ".join(texts_of(sheet, RowKind.DISTANCE))


def test_units_and_language_are_remembered_for_the_person(session: QtSession) -> None:
    keep(session, wording=MILES)
    assert kept_wording() == MILES


def test_the_base_map_is_off_until_it_is_switched_on_and_keeps_its_name_when_off(session: QtSession) -> None:
    assert tile_layer() is None
    keep(session, layer=LAYER, layer_on=True)
    assert tile_layer() == LAYER
    keep(session, layer_on=False)
    assert tile_layer() is None
    assert named_layer() == LAYER


def test_the_office_is_kept_in_the_project(qtbot: QtBot, session: QtSession) -> None:
    form = OfficeForm(session.session.catalogue.office)
    qtbot.addWidget(form)
    name = form.editors["name"]
    assert isinstance(name, QLineEdit)
    name.setText("Verrin Ways")
    form.kind.setCurrentIndex(form.kind.findData("payment"))
    form.text.setPlainText("A quarter now.")
    form.kind.setCurrentIndex(form.kind.findData("welcome"))
    keep(session, office=form.answer())
    office = session.session.project.catalogue().office
    assert office.name == "Verrin Ways"
    assert dict(office.texts)["payment"] == "A quarter now."
    assert "welcome" not in dict(office.texts)


def test_a_switched_on_map_without_attribution_is_refused_in_a_sentence(
    qtbot: QtBot, session: QtSession
) -> None:
    dialog = SettingsDialog(settings_now(session), EXAMPLE)
    qtbot.addWidget(dialog)
    dialog.map.on.setChecked(True)
    dialog.map.lines["Address"].setText(LAYER.url)
    with pytest.raises(ValueError, match="attribution"):
        dialog.answer()


def test_settings_that_nobody_touched_are_answered_as_they_were(qtbot: QtBot, session: QtSession) -> None:
    now: Settings = settings_now(session)
    for imperial in (False, True):
        before = replace(now, wording=Wording("en_GB", imperial=imperial))
        dialog = SettingsDialog(before, EXAMPLE)
        qtbot.addWidget(dialog)
        assert dialog.answer() == before


def test_rules_are_read_in_the_units_a_person_uses(qtbot: QtBot) -> None:
    form = HouseRulesForm(HouseRules())
    qtbot.addWidget(form)
    for name, text in (
        ("walking_limit_m", "15,5"), ("moving_limit_s", "5.5"), ("sunset_stop_s", "45"),
        ("battery_reserve_share", "25"), ("departs_minute", "8:45"),
    ):  # fmt: skip
        editor = form.editors[name]
        assert isinstance(editor, QLineEdit)
        editor.setText(text)
    rules = form.answer()
    assert rules.walking_limit_m == 15_500.0
    assert rules.moving_limit_s == 5.5 * 3600
    assert rules.sunset_stop_s == 45 * 60
    assert rules.battery_reserve_share == 0.25
    assert rules.departs_minute == 8 * 60 + 45


def test_the_walking_rule_is_chosen_by_name_and_tells_its_source(qtbot: QtBot) -> None:
    form = HouseRulesForm(HouseRules())
    qtbot.addWidget(form)
    box = form.editors["walking_rule"]
    assert isinstance(box, QComboBox)
    box.setCurrentText("Naismith")
    assert form.answer().walking_rule == "naismith"
    assert "1892" in form.source.text()


def test_a_new_rule_object_can_be_chosen_without_another_line(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    stroll = replace(walking.OFFICE_DEFAULT, id="stroll", name="A stroll", source="this test")
    monkeypatch.setattr(walking, "RULES", (*walking.RULES, stroll))
    form = HouseRulesForm(HouseRules())
    qtbot.addWidget(form)
    box = form.editors["walking_rule"]
    assert isinstance(box, QComboBox)
    box.setCurrentText("A stroll")
    assert form.answer().walking_rule == "stroll"
    assert "this test" in form.source.text()


def test_every_language_offered_is_one_that_figures_can_be_said_in() -> None:
    offered = languages()
    assert ("de_AT", "German (Austria)") in offered
    assert all(Wording(code).money(EXAMPLE) for code, _ in offered[::40])


def test_every_text_may_be_written_for_readers_of_each_language(session: QtSession, qtbot: QtBot) -> None:
    form = OfficeForm(session.session.catalogue.office)
    qtbot.addWidget(form)
    form.kind.setCurrentIndex(form.kind.findText("Payment (Deutsch)"))
    form.text.setPlainText("Ein Viertel bei der Buchung.")
    assert ("payment.de", "Ein Viertel bei der Buchung.") in form.answer().texts
