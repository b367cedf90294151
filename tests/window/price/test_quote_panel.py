"""The quote in the window: lines by day and by kind, terms as one edit, nothing of the office's for a client.

The expected sums are by hand: nights 2 x 86.30 and dinners 2 x 21.70 are 216.00 net, with a mark-up of a
quarter 270.00, so 135.00 a head.
"""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import orjson
import pytest
from PySide6.QtCore import QAbstractItemModel, QCoreApplication, QEvent, QModelIndex, Qt
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QComboBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from lacet.price.frozen import thaw
from lacet.price.values import Quote
from lacet.service.session import Session
from lacet.service.shown import Selection
from lacet.store import open_project
from lacet.trip import edits
from lacet.trip.library import Rate, Ref, Tariff
from lacet.trip.money import Money
from lacet.trip.trip import Meal, Pricing
from lacet.trip.words import MealKind, Service, Unit
from lacet.window.compare.panel import ComparePanel
from lacet.window.price.panel import QuotePanel
from lacet.window.price.terms import HOUSE, MARGIN
from lacet.window.price.what_if import WhatIfPanel, bars
from lacet.window.qt_session import QtSession
from lacet.window.settle_panel import SettlePanel
from lacet.window.sheet.panel import SheetPanel
from tests.small_library import write_small_project

TODAY = date(2026, 11, 25)


def rate(amount: str, unit: Unit, **more: object) -> Rate:
    return Rate(unit=unit, amount=Money(Decimal(amount), "EUR"), **more)  # type: ignore[arg-type]  # its own fields


def tariff(item_id: str, service: Service, subject: str, *rates: Rate) -> Tariff:
    return Tariff(
        id=item_id,
        name=f"Prices of {subject}",
        service=service,
        subject_id=subject,
        valid_from=date(2027, 1, 1),
        valid_to=date(2027, 12, 31),
        rates=rates,
    )


@pytest.fixture
def session(tmp_path: Path, qtbot: QtBot) -> Iterator[QtSession]:
    """The small trip, with a tariff for Birch House and its dinners; Cedar Inn has none."""
    path = tmp_path / "small.lacet"
    write_small_project(path)
    with open_project(path) as project:
        with project.unit_of_work() as unit:
            unit.library.add_version(
                tariff("birch", Service.LODGING, "birch-house", rate("86.30", Unit.ROOM_NIGHT))
            )
            unit.library.add_version(
                tariff("loft", Service.RESTAURANT, "net-loft", rate("21.70", Unit.PERSON))
            )
            unit.commit()
        inner = Session(project, today=lambda: TODAY)
        inner.open_trip("trip")
        made = QtSession(inner)
        dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))
        assert made.apply(lambda trip: edits.set_meal(trip, "v1", "d1", dinner), "dinner")
        yield made


@pytest.fixture
def panel(session: QtSession, qtbot: QtBot) -> QuotePanel:
    made = QuotePanel(session)
    qtbot.addWidget(made)
    return made


def quote(session: QtSession) -> Quote:
    assert session.opened is not None
    return session.opened.assessment.quote


def rows(panel: QuotePanel) -> list[list[str]]:
    """Every line of the tree, heads before what stands under them."""
    tree, found = panel.lines, []
    for index in range(tree.topLevelItemCount()):
        head = tree.topLevelItem(index)
        assert head is not None
        for item in (head, *(head.child(each) for each in range(head.childCount()))):
            assert item is not None
            found.append([item.text(column) for column in range(tree.columnCount())])
    return found


def said(widget: QWidget) -> str:
    """All that a widget and everything in it shows, tells in a tip or to a screen reader."""
    texts: list[str] = []
    for each in (widget, *widget.findChildren(QWidget)):
        texts += [each.toolTip(), each.accessibleName(), each.accessibleDescription(), each.windowTitle()]
        if isinstance(each, QLabel | QAbstractButton | QLineEdit):
            texts.append(each.text())
        elif isinstance(each, QComboBox):
            texts += [each.itemText(index) for index in range(each.count())]
        elif isinstance(each, QAbstractItemView):
            texts += cells(each.model(), QModelIndex())
    return "\n".join(texts)


def cells(model: QAbstractItemModel, parent: QModelIndex) -> list[str]:
    roles = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole)
    found: list[str] = []
    for row in range(model.rowCount(parent)):
        for column in range(model.columnCount(parent)):
            index = model.index(row, column, parent)
            found += [str(index.data(role) or "") for role in roles]
        found += cells(model, model.index(row, 0, parent))
    return found


def test_lines_stand_by_day_with_where_each_comes_from(panel: QuotePanel) -> None:
    assert panel.head.text() == "from €135.00 a head"
    assert rows(panel)[:3] == [
        ["Day 1 Sat 8 May", "", "", "€129.70", "€162.13", ""],
        ["Net Loft: dinner", "2 × person", "€21.70", "€43.40", "€54.25", "Prices of net-loft"],
        [
            "Birch House: double, breakfast",
            "1 × room and night",
            "€86.30",
            "€86.30",
            "€107.88",
            "Prices of birch-house",
        ],
    ]


def test_an_unknown_line_says_so_and_what_to_do_and_is_never_nought(panel: QuotePanel) -> None:
    unknown = next(row for row in rows(panel) if row[0].startswith("Cedar Inn"))
    assert unknown[2:5] == ["unknown"] * 3
    assert ["Day 3 Mon 10 May", "", "", "unknown", "unknown", ""] in rows(panel)
    assert panel.doubt.text().startswith("'From', since ")
    item = next(
        each
        for each in panel.lines.findItems(
            "Cedar Inn", Qt.MatchFlag.MatchStartsWith | Qt.MatchFlag.MatchRecursive
        )
    )
    panel.lines.setCurrentItem(item)
    assert "no tariff" in panel.sentence.text()
    assert panel.sentence.text().endswith("Add a tariff for it in the library.")


def test_a_line_points_at_its_day_on_the_sheet(panel: QuotePanel, session: QtSession) -> None:
    head = panel.lines.topLevelItem(1)
    assert head is not None
    line = head.child(0)
    assert line is not None
    panel.lines.setCurrentItem(line)
    assert session.selection == Selection(day=1)


def test_by_kind_says_the_day_of_each_line(panel: QuotePanel) -> None:
    panel.by_kind.click()
    assert rows(panel)[0][0] == "Meals"
    assert rows(panel)[1][0] == "Net Loft: dinner  (day 1)"


def test_a_folded_group_stays_folded_when_the_trip_changes(panel: QuotePanel, session: QtSession) -> None:
    head = panel.lines.topLevelItem(0)
    assert head is not None
    head.setExpanded(False)
    assert session.apply(lambda trip: edits.set_day_note(trip, "v1", "d2", "x"), "note")
    head = panel.lines.topLevelItem(0)
    assert head is not None
    assert not head.isExpanded()


def test_a_margin_replaces_the_markup_in_one_edit(panel: QuotePanel, session: QtSession) -> None:
    assert panel.terms.way.currentData() == HOUSE
    assert panel.terms.other.text() == "= 20 % margin"
    panel.terms.way.setCurrentIndex(panel.terms.way.findData(MARGIN))
    panel.terms.way.activated.emit(panel.terms.way.currentIndex())
    assert session.opened is not None
    assert session.opened.variant.pricing == Pricing(margin_share=0.2)
    assert quote(session).total == Money(Decimal("270.00"), "EUR")
    panel.terms.percent.setValue(40.0)
    panel.terms.percent.editingFinished.emit()
    assert session.opened.variant.pricing == Pricing(margin_share=0.4)
    assert quote(session).total == Money(Decimal("360.00"), "EUR")
    assert panel.terms.other.text() == "= 66.67 % mark-up"
    assert session.undo()
    assert session.undo()
    assert session.opened.variant.pricing == Pricing()


def test_commission_and_rounding_are_kept_where_they_belong(panel: QuotePanel, session: QtSession) -> None:
    panel.terms.commission.setValue(10.0)
    panel.terms.commission.editingFinished.emit()
    assert session.opened is not None
    assert session.opened.variant.pricing == Pricing(commission_share=0.1)
    assert quote(session).commission == Money(Decimal("30.00"), "EUR")
    panel.terms.step.setCurrentIndex(panel.terms.step.findData(1000))
    panel.terms.step.activated.emit(0)
    assert session.session.rules.round_price_to_minor == 1000
    assert quote(session).total == Money(Decimal("300.00"), "EUR")


def test_terms_left_as_they_are_make_no_edit(panel: QuotePanel, session: QtSession) -> None:
    before = session.opened
    panel.terms.percent.editingFinished.emit()
    panel.terms.commission.editingFinished.emit()
    assert session.opened is before


def test_a_preview_shows_what_the_price_would_be(panel: QuotePanel, session: QtSession) -> None:
    session.session.start_preview(lambda trip: edits.clear_night(trip, "v1", "d2"))
    assert panel.head.text() == "from €82.00 a head"
    assert panel.party.text().startswith("would be from €164.00 for 2 guests")
    session.session.stop_preview()
    assert panel.head.text() == "from €135.00 a head"


OFFICE_FIGURES = ("216.00", "54.00", "86.30", "129.70", "43.40")


def test_while_a_client_looks_on_no_widget_tells_a_net_price_or_a_margin(
    panel: QuotePanel, session: QtSession, qtbot: QtBot
) -> None:
    assert session.apply(lambda trip: edits.copy_variant(trip, "v1"), "copy")
    views: list[QWidget] = [panel, SheetPanel(session), ComparePanel(session), WhatIfPanel(session)]
    for view in views:
        qtbot.addWidget(view)
    qtbot.waitUntil(lambda: not views[3].busy)  # type: ignore[attr-defined]  # the last is the what-if panel
    everything = "\n".join(map(said, views))
    assert all(figure in everything for figure in OFFICE_FIGURES), "the office sees each of them somewhere"
    session.let_client_look(True)
    everything = "\n".join(map(said, views))
    assert [figure for figure in OFFICE_FIGURES if figure in everything] == []
    assert "135.00" in everything
    assert "ark-up" not in "".join(said(each) for each in views if each.isVisible())
    assert panel.terms.isHidden()
    session.let_client_look(False)
    assert not panel.terms.isHidden()
    assert "216.00" in said(panel)


def test_findings_about_tariffs_are_not_for_a_client(session: QtSession, qtbot: QtBot) -> None:
    settle = SettlePanel(session)
    qtbot.addWidget(settle)
    settle.refresh()
    assert "Enter the tariff" in said(settle)
    session.let_client_look(True)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert "tariff" not in said(settle)


def test_a_workbook_saved_while_a_client_looks_on_is_the_clients(
    panel: QuotePanel, session: QtSession, tmp_path: Path
) -> None:
    def written(name: str) -> str:
        assert panel.save_as(tmp_path / name)
        book = openpyxl.load_workbook(tmp_path / name)
        return str([cell.value for sheet in book for line in sheet for cell in line])

    assert "86.3" in written("office.xlsx")
    session.let_client_look(True)
    assert "86.3" not in written("client.xlsx")


def test_an_issued_quote_is_kept_as_it_was_with_what_it_was_made_from(
    panel: QuotePanel, session: QtSession
) -> None:
    sent = quote(session)
    assert panel.issue()
    assert "Issued as document 1" in panel.sentence.text()
    session.apply(lambda trip: edits.rename_variant(trip, "v1", "Another name"), "rename")
    with session.session.project.reading() as unit:
        (row,) = unit.documents.rows()
        frozen = thaw(orjson.loads(unit.documents.payload(row.number)))
    assert (row.kind, row.variant_id) == ("quote", "v1")
    assert frozen.quote == sent
    assert frozen.trip is not None
    assert frozen.trip.variants[0].name != "Another name"


def test_a_quote_of_which_nothing_is_known_is_not_issued(tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / "bare.lacet"
    write_small_project(path)
    with open_project(path) as project:
        inner = Session(project, today=lambda: TODAY)
        bare = QuotePanel(QtSession(inner))
        qtbot.addWidget(bare)
        inner.open_trip("trip")
        assert not bare.issue()
        assert "nothing in it has a price" in bare.sentence.text()
        with project.reading() as unit:
            assert unit.documents.rows() == []


def test_what_if_tells_parties_and_months_and_what_is_unknown(session: QtSession, qtbot: QtBot) -> None:
    panel = WhatIfPanel(session)
    qtbot.addWidget(panel)
    qtbot.waitUntil(lambda: not panel.busy)
    says = [panel.table.item(line, 0).text() for line in range(panel.table.rowCount())]  # type: ignore[union-attr]  # filled
    assert says[:5] == ["2 guests", "4 guests", "6 guests", "8 guests", "January"]
    assert len(says) == 16
    first = panel.table.item(0, 1)
    assert first is not None
    assert first.text() == "from €135.00"
    four = [panel.table.item(1, column).text() for column in (1, 2, 3)]  # type: ignore[union-attr]  # filled
    assert four == ["from €135.00", "", "from €540.00"]
    assert session.apply(lambda trip: edits.clear_night(trip, "v1", "d2"), "one night less")
    qtbot.waitUntil(lambda: not panel.busy)
    first = panel.table.item(0, 1)
    assert first is not None
    assert first.text() == "from €82.00"


def test_bars_stand_in_groups_and_are_hollow_where_something_is_unknown(
    session: QtSession, qtbot: QtBot
) -> None:
    panel = WhatIfPanel(session)
    qtbot.addWidget(panel)
    qtbot.waitUntil(lambda: not panel.busy)
    made = bars(panel.rows)
    assert [bar.name for bar in made[:6]] == ["2", "4", "6", "8", "Jan", "Feb"]
    assert [bar.at for bar in made[:6]] == [0.0, 1.0, 2.0, 3.0, 5.0, 6.0]
    assert all(bar.hollow for bar in made)
    assert made[0].height == 135.0


def test_a_closed_panel_rests_and_catches_up_when_it_is_shown(
    panel: QuotePanel, session: QtSession, qtbot: QtBot
) -> None:
    with qtbot.waitExposed(panel):
        panel.show()
    panel.close()
    assert session.apply(lambda trip: edits.clear_night(trip, "v1", "d2"), "one night less")
    assert panel.head.text() == "from €135.00 a head"
    with qtbot.waitExposed(panel):
        panel.show()
    assert panel.head.text() == "from €82.00 a head"


def test_a_month_without_any_tariff_is_unknown_and_never_nought(session: QtSession, qtbot: QtBot) -> None:
    assert session.apply(lambda trip: edits.set_start(trip, date(2029, 5, 7)), "years ahead of any tariff")
    panel = WhatIfPanel(session)
    qtbot.addWidget(panel)
    qtbot.waitUntil(lambda: not panel.busy)
    texts = [panel.table.item(4, column).text() for column in range(6)]  # type: ignore[union-attr]  # filled
    assert texts == ["January", "unknown", "", "unknown", "unknown", "unknown"]
    assert bars(panel.rows)[4].height is None
