"""What would it cost if: other parties, other months, all by e-bike, in a table and a plot, live.

Reads `price.what_if` alone. What is only a lowest price stands there as 'from', and its bar is hollow.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import pyqtgraph as pg
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.days.seasons import covers
from lacet.price.shares import price_a_head
from lacet.price.values import Quote
from lacet.price.what_if import WhatIf, each_what_if, more_a_head
from lacet.service.quote_rows import UNPRICED
from lacet.service.shown import Shown
from lacet.trip.money import Money
from lacet.window.beside import Beside
from lacet.window.parts import label
from lacet.window.qt_session import QtSession
from lacet.window.theme import Theme, current_theme
from lacet.wording import Wording

AFTER_MS = 60
LEGEND = "A hollow bar, and 'from', say that a price isn't wholly known; '?' that nothing of it is."
GAP = 1.0
HEADS = ("If", "A head", "to now", "The party", "Net", "Margin", "Not known")
OFFICE_COLUMNS = (4, 5)
SHORT = {"party": slice(0, 1), "month": slice(0, 3)}
BIKES = "e-bike"


@dataclass(frozen=True, slots=True)
class Bar:
    """Where a bar stands, how high (None = no price), what stands under it, whether it is only 'from'."""

    at: float
    height: float | None
    name: str
    hollow: bool


def bars(rows: tuple[WhatIf, ...]) -> tuple[Bar, ...]:
    """The bars of the plot, in groups with room between them."""
    made: list[Bar] = []
    at, group = 0.0, rows[0].group if rows else ""
    for row in rows:
        at += GAP if row.group != group else 0.0
        group = row.group
        a_head = price_a_head(row.quote)
        height = None if a_head is None or not row.quote.net.amount else float(a_head.amount)
        name = row.says[SHORT[group]] if group in SHORT else BIKES
        made.append(Bar(at, height, name, row.quote.is_from))
        at += 1.0
    return tuple(made)


class WhatIfPanel(Beside):
    """Waits until hands are still for a moment, then prices all suppositions anew."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.theme: Theme = current_theme()
        self.resize(820, 740)
        self.rows: tuple[WhatIf, ...] = ()
        self._coming: Iterator[WhatIf] = iter(())
        self._come: list[WhatIf] = []
        self._shown: Shown | None = None
        self.now = label(name="As it is")
        self.plot = BarPlot(self.theme)
        self.table = QTableWidget(0, len(HEADS))
        self._lay_out()
        self._soon = QTimer(self, singleShot=True, interval=AFTER_MS)
        self._soon.timeout.connect(self._begin)
        # One supposition between two events, so that the window never waits for all of them.
        self._next = QTimer(self, interval=0)
        self._next.timeout.connect(self._price_next)
        session.client_looks.connect(lambda _: self._show())
        self.follow()

    def _lay_out(self) -> None:
        self.table.setAccessibleName("What it would cost if")
        self.table.setHorizontalHeaderLabels(list(HEADS))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setShowGrid(False)
        self.table.verticalHeader().hide()
        self.table.setStyleSheet(f"QTableView::item {{ border-bottom: 1px solid {self.theme.hairline}; }}")
        self.table.verticalHeader().setDefaultSectionSize(23)
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        for column in (0, len(HEADS) - 1):
            head = QTableWidgetItem(HEADS[column])
            head.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
            self.table.setHorizontalHeaderItem(column, head)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(len(HEADS) - 1, QHeaderView.ResizeMode.Stretch)
        parts = QSplitter(Qt.Orientation.Vertical, childrenCollapsible=False)
        parts.addWidget(self.plot)
        parts.addWidget(self.table)
        parts.setSizes([220, 430])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 14, 10)
        whole.addWidget(self.now)
        whole.addWidget(parts, 1)
        whole.addWidget(
            label(
                "A hollow bar, and 'from', say that a price isn't wholly known; '?' that nothing of it is.",
                quiet=True,
            )
        )

    @property
    def busy(self) -> bool:
        """Whether suppositions are still being priced."""
        return self._soon.isActive() or self._next.isActive()

    def refresh(self) -> None:
        """Price every supposition of what is shown anew, once hands are still."""
        self._soon.start()

    def _begin(self) -> None:
        """The table changes when all suppositions are priced."""
        inner = self.session.session
        shown = self._shown = inner.preview or inner.opened
        if shown is not None:
            self.setWindowTitle(f"What would it cost if: {shown.variant.name} – Lacet")
            self._coming = each_what_if(inner.inputs(shown.trip, shown.variant_id), covers)
            self._come = []
            self._next.start()

    def _price_next(self) -> None:
        found = next(self._coming, None)
        if found is not None:
            self._come.append(found)
            return
        self._next.stop()
        self.rows = tuple(self._come)
        self._show()

    def _show(self) -> None:
        shown = self._shown
        self._show_columns(self.session.client_looks_on)
        if shown is not None:
            wording = self.session.wording
            self._show_now(shown)
            self.plot.show_bars(bars(self.rows), price_a_head(shown.assessment.quote), wording)
            self._show_table(shown.assessment.quote, wording, self.session.client_looks_on)

    def _show_now(self, shown: Shown) -> None:
        quote, wording = shown.assessment.quote, self.session.wording
        said = wording.money(price_a_head(quote), starting=quote.is_from)
        heads = len(quote.per_traveller)
        self.now.setText(f"As it is: {said} a head, {heads} guest{'s' if heads != 1 else ''}")

    def _show_columns(self, looks: bool) -> None:
        for column in OFFICE_COLUMNS:
            self.table.setColumnHidden(column, looks)
            # A hidden column's head is still told by assistive technology.
            self.table.setHorizontalHeaderItem(column, QTableWidgetItem("" if looks else HEADS[column]))

    def _show_table(self, now: Quote, wording: Wording, looks: bool) -> None:
        self.table.setRowCount(len(self.rows))
        for line, row in enumerate(self.rows):
            for column, text in enumerate(_texts(row, now, wording, looks)):
                item = QTableWidgetItem(text)
                if 0 < column < len(HEADS) - 1:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                if column == len(HEADS) - 1:
                    item.setForeground(self.theme.color("warn"))
                    item.setToolTip(text)
                self.table.setItem(line, column, item)

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        super().closeEvent(event)
        self._soon.stop()
        self._next.stop()


class BarPlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph ships no types
    """A bar for each supposition; a line where the price stands now."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(background=theme.paper)
        self.theme = theme
        self.setAccessibleName("Price a head by supposition; the table below says the same")
        self.setMinimumHeight(140)
        self.plotItem.setMenuEnabled(False)
        self.plotItem.hideButtons()
        self.setMouseEnabled(False, False)
        for axis in ("left", "bottom"):
            self.getAxis(axis).setTextPen(theme.color("quiet"))
            self.getAxis(axis).setPen(theme.color("hairline"))

    def show_bars(self, made: tuple[Bar, ...], now: object, wording: Wording) -> None:
        """Draw them from zero, so that heights compare."""
        self.plotItem.clear()
        for bar in made:
            if bar.height is None:
                mark = pg.TextItem("?", color=self.theme.color("warn"), anchor=(0.5, 1.0))
                mark.setPos(bar.at, 0.0)
                self.addItem(mark)
                continue
            fill = None if bar.hollow else pg.mkBrush(self.theme.color("accent"))
            pen = pg.mkPen(self.theme.color("accent"), width=1.5, style=_style(bar.hollow))
            self.addItem(pg.BarGraphItem(x=[bar.at], height=[bar.height], width=0.7, brush=fill, pen=pen))
        amount = getattr(now, "amount", None)
        if amount is not None:
            line = pg.InfiniteLine(float(amount), angle=0, pen=pg.mkPen(self.theme.color("stone"), width=1))
            self.addItem(line, ignoreBounds=True)
        self.getAxis("bottom").setTicks([[(bar.at, bar.name) for bar in made]])
        self.setLabel("left", f"{getattr(now, 'currency', '')} a head", color=self.theme.quiet)
        highest = max((bar.height for bar in made if bar.height is not None), default=1.0)
        self.setYRange(0, highest * 1.05, padding=0)


def _style(hollow: bool) -> Qt.PenStyle:
    return Qt.PenStyle.DashLine if hollow else Qt.PenStyle.SolidLine


def _texts(row: WhatIf, now: Quote, wording: Wording, looks: bool) -> tuple[str, ...]:
    quote = row.quote
    if not quote.net.amount and any(line.net is None for line in quote.included):
        office = ("", "") if looks else (UNPRICED, UNPRICED)
        return (row.says, UNPRICED, "", UNPRICED, *office, _missing(row, looks))
    a_head = wording.money(price_a_head(quote), starting=quote.is_from)
    party = wording.money(quote.total, starting=quote.is_from)
    office = ("", "") if looks else (wording.money(quote.net), wording.money(quote.margin))
    return (row.says, a_head, _more(row, now, wording), party, *office, _missing(row, looks))


def _more(row: WhatIf, now: Quote, wording: Wording) -> str:
    """'+€85.00', '−€40.00'; nothing where it costs the same or nobody knows."""
    change = more_a_head(row, now)
    if change is None or not change.amount:
        return ""
    sign = "+" if change.amount > 0 else "−"
    return f"{sign}{wording.money(Money(abs(change.amount), change.currency))}"


def _missing(row: WhatIf, looks: bool) -> str:
    """What the price leaves out: how many services, and for the office the first of them."""
    unknown = list(dict.fromkeys(line.reason_unknown for line in row.quote.included if line.net is None))
    if not unknown:
        assumed = (line.assumed for line in row.quote.included if line.assumed)
        return "; ".join(dict.fromkeys((*row.quote.assumptions, *assumed)))
    if looks:
        return f"{len(unknown)} services"
    more = f", and {len(unknown) - 1} more" if len(unknown) > 1 else ""
    return f"{unknown[0]}{more}"
