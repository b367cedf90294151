"""What is to be looked after is counted on the tab, grouped, and a step from the field where it is mended."""

import pytest
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from lacet.intake.health import Doubt
from lacet.intake.health import health as look
from lacet.service.library.fields import BY_NAME, BY_ONE
from lacet.service.library.looking_after import remedy
from lacet.trip.library import Tariff
from lacet.trip.words import Service
from lacet.window.library import dialogs
from lacet.window.library.desk import LibraryDesk
from lacet.window.qt_session import QtSession
from lacet.window.work import CalledOff
from tests.small_library import small_catalogue


@pytest.fixture
def desk(session: QtSession, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> LibraryDesk:
    monkeypatch.setattr(dialogs.LeavingDialog, "ask", lambda *_: dialogs.DROP)
    made = LibraryDesk(session)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitUntil(lambda: bool(made.health.found))
    return made


def test_every_doubt_of_a_library_leads_to_a_field_or_a_table(session: QtSession) -> None:
    catalogue = session.session.catalogue
    found = look(catalogue, session.session.as_of)
    assert found
    for doubt in found:
        where = remedy(doubt, catalogue)
        kind = BY_NAME[where.kind]
        assert where.field in {column.name for column in kind.columns} | {part.field for part in kind.parts}


@pytest.mark.parametrize(
    ("kind", "what", "says", "field"),
    [
        ("stage", "ground", "footing or exposure by bike isn't noted.", "footing_cycling"),
        ("stage", "places", "the library has no place 'x', where it ends.", "to_place"),
        ("stage", "unreadable", "The season can't be read.", "closures"),
        ("lodging", "check-in", "nobody has said when guests are received.", "check_in"),
        ("lodging", "access", "nobody has said whether a van reaches the door.", "vehicle_access"),
        ("restaurant", "opening", "no opening times.", "opening"),
        ("bike", "depots", "nobody has said where any stands.", "depots"),
        ("transfer", "capacity", "nobody has said how many.", "seats"),
    ],
)
def test_doubts_lead_where_they_are_mended(kind: str, what: str, says: str, field: str) -> None:
    doubt = Doubt(kind=kind, id="it", name="It", what=what, says=says)
    assert remedy(doubt, small_catalogue()).field == field
    assert remedy(doubt, small_catalogue()).kind == BY_ONE[kind].name


def test_the_tab_counts_and_groups_narrow(desk: LibraryDesk, qtmodeltester: ModelTester) -> None:
    number = len(desk.health.found)
    assert desk.tabs.tabText(desk.tabs.indexOf(desk.health)) == f"To look after ({number})"
    assert desk.health.model.rowCount() == number
    qtmodeltester.check(desk.health.model)
    words = [desk.health.groups.item(row).text() for row in range(desk.health.groups.count())]
    assert words[0] == f"everything  {number}"
    rates = next(row for row, text in enumerate(words) if text.startswith("lodging: rates"))
    desk.health.groups.setCurrentRow(rates)
    assert {row.doubt.what for row in desk.health.model.rows} == {"rates"}


def test_missing_rates_open_a_new_tariff_that_knows_whose_it_is(desk: LibraryDesk) -> None:
    doubt = next(each for each in desk.health.found if (each.id, each.what) == ("cedar-inn", "rates"))
    desk.mend(remedy(doubt, desk.session.session.catalogue))
    page = desk.current()
    assert page is not None
    assert page.kind.name == "tariffs"
    texts = page.editor.form.draft().texts
    assert (texts["service"], texts["subject"]) == (Service.LODGING, "cedar-inn")
    assert page.editor.edited


def test_mending_goes_to_the_field_and_the_count_follows(desk: LibraryDesk, qtbot: QtBot) -> None:
    doubt = next(each for each in desk.health.found if each.what == "surface")
    number = len(desk.health.found)
    desk.mend(remedy(doubt, desk.session.session.catalogue))
    page = desk.current()
    assert page is not None
    assert page.editor.item.id == doubt.id
    page.editor.form.fields["surface_cycling"].set_text("0-9 path")
    assert page.editor.save(), desk.sentence.text()
    qtbot.waitUntil(lambda: len(desk.health.found) == number - 1)


def test_a_look_can_be_called_off(session: QtSession) -> None:
    def off(done: int, of: int) -> None:
        assert done <= of
        if done == 3:
            raise CalledOff("Called off.")

    with pytest.raises(CalledOff):
        look(session.session.catalogue, session.session.as_of, off)
    assert not session.session.catalogue.current(Tariff)
