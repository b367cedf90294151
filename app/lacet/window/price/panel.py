"""The quote of the open variant, as it is or as it would become while something is dragged."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import (
    QButtonGroup,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.price.shares import price_a_head
from lacet.price.values import Quote
from lacet.price.words import rooms_said
from lacet.service.documents import QUOTE, Order, Whom
from lacet.service.quote_rows import HEADS, OFFICE_COLUMNS, UNPRICED, Row, RowGroup, RowMaker
from lacet.service.shown import Selection, Shown
from lacet.trip.errors import LacetError
from lacet.window.beside import Beside
from lacet.window.file_dialogs import ask_save
from lacet.window.parts import label, push_button
from lacet.window.price.terms import TermsEditor
from lacet.window.qt_session import QtSession
from lacet.window.theme import current_theme

ROW_ROLE = Qt.ItemDataRole.UserRole
KEY_ROLE = Qt.ItemDataRole.UserRole + 1


class QuotePanel(Beside):
    """Prices above, terms below them, then every line by day or by kind."""

    what_if_wanted = Signal()

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.theme = current_theme()
        self.setWindowTitle("Price – Lacet")
        self.resize(920, 700)
        self._folded: set[tuple[bool, object]] = set()
        self._filling = False
        self.head = label(name="Price a head")
        large = QFont(self.font())
        large.setPointSizeF(large.pointSizeF() * 1.7)
        large.setBold(True)
        self.head.setFont(large)
        self.party = label(name="Price for the party", quiet=True)
        self.facts = QFormLayout()
        self.office = label(name="What stays with the office")
        self.terms = TermsEditor(session)
        self.by_day = push_button("By day", self.refresh)
        self.by_kind = push_button("By kind", self.refresh)
        self.lines = QTreeWidget()
        self.doubt = label(name="What is unknown")
        self.doubt.setWordWrap(True)
        self.sentence = label(name="Message", quiet=True)
        self._lay_out()
        session.changed.connect(lambda _: self.sentence.setText(""))
        session.refused.connect(self.sentence.setText)
        self.follow()

    def _lay_out(self) -> None:
        self.facts.setVerticalSpacing(2)
        self.facts.setHorizontalSpacing(14)
        self._left = left = QVBoxLayout()
        for widget in (self.head, self.party, self.office, self.terms):
            left.addWidget(widget)
        left.addStretch(1)
        left.setSpacing(4)
        top = QHBoxLayout()
        top.setSpacing(24)
        top.addLayout(left, 3)
        top.addLayout(self.facts, 2)
        switch = QButtonGroup(self)
        bar = QHBoxLayout()
        for button in (self.by_day, self.by_kind):
            button.setCheckable(True)
            button.setMinimumWidth(88)
            switch.addButton(button)
            bar.addWidget(button)
        self.by_day.setChecked(True)
        bar.addStretch(1)
        bar.addWidget(push_button("What would it cost if…", self.what_if_wanted.emit))
        bar.addWidget(push_button("Save as a workbook…", self.choose_file))
        self.issue_button = push_button("Issue it", self.issue)
        self.issue_button.setToolTip("Keeps this quote as it is, with all it was made from")
        bar.addWidget(self.issue_button)
        self.lines.setAccessibleName("Lines of the quote")
        self.lines.setColumnCount(len(HEADS))
        self.lines.setHeaderLabels(list(HEADS))
        self.lines.setAlternatingRowColors(False)
        self.lines.setUniformRowHeights(True)
        self.lines.setStyleSheet("QTreeView { border: none; } QTreeView::item { padding: 2px 4px; }")
        self.lines.currentItemChanged.connect(lambda item, _: self._on_current_changed(item))
        self.lines.itemCollapsed.connect(lambda item: self._folded.add(self._key(item)))
        self.lines.itemExpanded.connect(lambda item: self._folded.discard(self._key(item)))
        header = self.lines.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in range(1, 5):
            self.lines.headerItem().setTextAlignment(
                column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            )
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 14, 8)
        whole.setSpacing(8)
        whole.addLayout(top)
        whole.addWidget(self.doubt)
        whole.addLayout(bar)
        whole.addWidget(self.lines, 1)
        whole.addWidget(self.sentence)

    @property
    def shown(self) -> Shown | None:
        """What is drawn: a preview while there is one."""
        return self.session.session.preview or self.session.opened

    def refresh(self) -> None:
        """Show the price of what is shown."""
        shown = self.shown
        if shown is None:
            return
        looks = self.session.client_looks_on
        quote = shown.assessment.quote
        self._show_prices(shown, quote)
        self._show_facts(shown, quote)
        self._show_office(shown, quote, looks)
        self._show_lines(shown, quote, looks)
        self._show_doubt(quote, looks)

    def choose_file(self) -> None:
        """Ask where the workbook goes."""
        (ending,) = QUOTE.endings
        chosen = ask_save(self, "Where the quote goes", f"quote{ending}", f"*{ending}")
        if chosen is not None:
            self.save_as(chosen[0].with_suffix(ending))

    def save_as(self, path: Path) -> bool:
        """Write the quote as a workbook: the client's while one looks on, else the office's."""
        from lacet.service.gathering import as_open

        opened = self.session.opened
        if opened is None:
            return False
        inner, looks = self.session.session, self.session.client_looks_on
        try:
            whom = Whom.CLIENT if looks else Whom.OFFICE
            QUOTE.hand_over(inner.project, Order(it=as_open(inner, opened), whom=whom, over=True), path)
        except LacetError as refusal:
            self.sentence.setText(str(refusal))
            return False
        self.sentence.setText(f"Saved as {path.name}, {'for the client' if looks else 'for the office'}.")
        return True

    def issue(self) -> bool:
        """Keep the quote as it is sent: what was issued stays, whatever changes afterwards."""
        from lacet.service.gathering import as_open
        from lacet.service.issuing import issue_quote

        opened = self.session.opened
        if opened is None:
            return False
        inner = self.session.session
        try:
            # What is issued names the revision it was made from.
            inner.finish_saving()
            opened = inner.need_open()
            quote = opened.assessment.quote
            number = issue_quote(inner.project, as_open(inner, opened))
        except LacetError as refusal:
            self.sentence.setText(str(refusal))
            return False
        until = self.session.wording.day(quote.valid_until, "d MMM y")
        self.sentence.setText(f"Issued as document {number}, at {self._total(quote)}, valid until {until}.")
        return True

    # --- within

    def _total(self, quote: Quote) -> str:
        return self.session.wording.money(quote.total, starting=quote.is_from)

    def _show_prices(self, shown: Shown, quote: Quote) -> None:
        wording = self.session.wording
        a_head = price_a_head(quote)
        said = wording.money(a_head, starting=quote.is_from)
        self.head.setText(f"{said} a head" if a_head is not None else "No price yet")
        heads = len(quote.per_traveller)
        guests = "1 guest" if heads == 1 else f"{heads} guests"
        total = self._total(quote)
        until = wording.day(quote.valid_until, "d MMM y")
        would = "would be " if self.session.session.preview is not None else ""
        self.party.setText(f"{would}{total} for {guests}  ·  valid until {until}")

    def _show_facts(self, shown: Shown, quote: Quote) -> None:
        while self.facts.rowCount():
            self.facts.removeRow(0)
        wording = self.session.wording
        facts = [
            (says, f"{wording.money(each.price)} a head")
            for each, says in rooms_said(quote, shown.trip.party)
        ]
        if quote.single_supplement is not None:
            facts.append(("single supplement", wording.money(quote.single_supplement)))
        for payment in quote.payments:
            due = f" by {wording.day(payment.due, 'd MMM y')}" if payment.due else ""
            facts.append((payment.says, f"{wording.money(payment.amount)}{due}"))
        for says, value in facts:
            self.facts.addRow(label(f"{says[0].upper()}{says[1:]}", quiet=True), label(value, name=says))

    def _show_office(self, shown: Shown, quote: Quote, looks: bool) -> None:
        wording = self.session.wording
        self.office.setVisible(not looks)
        if looks:
            self.office.setText("")
            self.terms.clear_terms()
            # Out of the window altogether: what is only hidden still tells assistive technology its labels.
            self._left.removeWidget(self.terms)
            self.terms.hide()
            self.terms.setParent(None)
            return
        if self.terms.parent() is None:
            self._left.insertWidget(self._left.indexOf(self.office) + 1, self.terms)
        self.terms.show()
        parts = [f"Net {wording.money(quote.net)}", f"margin {wording.money(quote.margin)}"]
        if quote.commission.amount:
            parts.append(f"commission {wording.money(quote.commission)}")
        self.office.setText("  ·  ".join(parts))
        if not any(field.hasFocus() for field in self.terms.findChildren(QWidget)):
            # What is being typed stays until it is entered.
            self.terms.show_terms(shown)

    def _show_lines(self, shown: Shown, quote: Quote, looks: bool) -> None:
        inner = self.session.session
        maker = RowMaker(quote, shown.trip, inner.catalogue, inner.wording, for_client=looks)
        bar = self.lines.verticalScrollBar()
        place, self._filling = bar.value(), True
        current = self.lines.currentItem()
        held = None if current is None else (self._key(current), current.text(0))
        self.lines.clear()
        for column in OFFICE_COLUMNS:
            self.lines.setColumnHidden(column, looks)
            # A hidden column's head is still told by assistive technology.
            self.lines.headerItem().setText(column, "" if looks else HEADS[column])
        for group in maker.groups(by_day=self.by_day.isChecked()):
            self._add_group(group, held)
        bar.setValue(place)
        self._filling = False

    def _add_group(self, group: RowGroup, held: tuple[object, str] | None) -> None:
        head = self._item(group.head, group)
        bold = QFont(self.font())
        bold.setBold(True)
        for column in range(len(HEADS)):
            head.setFont(column, bold)
        self.lines.addTopLevelItem(head)
        for row in group.rows:
            head.addChild(self._item(row, group))
        head.setExpanded(self._key(head) not in self._folded)
        for item in (head, *(head.child(index) for index in range(head.childCount()))):
            if item is not None and held == (self._key(item), item.text(0)):
                self.lines.setCurrentItem(item)

    def _item(self, row: Row, group: RowGroup) -> QTreeWidgetItem:
        item = QTreeWidgetItem(list(row.texts))
        item.setData(0, ROW_ROLE, row)
        item.setData(0, KEY_ROLE, group.key)
        for column in range(len(HEADS)):
            item.setToolTip(column, row.to_do or row.texts[column])
            if 0 < column < 5:
                item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            if row.texts[column] == UNPRICED:
                item.setForeground(column, self.theme.color("warn"))
            elif row.apart:
                item.setForeground(column, self.theme.color("quiet"))
        item.setData(0, Qt.ItemDataRole.AccessibleTextRole, row.spoken)
        return item

    def _show_doubt(self, quote: Quote, looks: bool) -> None:
        """What 'from' rests on, and for the office what to do about it."""
        unknown = [line for line in quote.included if line.net is None]
        said = [] if not unknown else [f"{len(unknown)} of the services have no price yet"]
        said += quote.assumptions
        self.doubt.setVisible(bool(said))
        what = "" if looks or not unknown else " Each unknown line says what to do when you point at it."
        self.doubt.setText(f"'From', since {'; '.join(said)}.{what}" if said else "")
        self.doubt.setStyleSheet(f"color: {self.theme.warn};")

    def _key(self, item: QTreeWidgetItem) -> tuple[bool, object]:
        return self.by_day.isChecked(), item.data(0, KEY_ROLE)

    def _on_current_changed(self, item: QTreeWidgetItem | None) -> None:
        """Point at the line's day and card on the sheet; an unknown line says what to do."""
        if item is None or self._filling:
            return
        row: Row = item.data(0, ROW_ROLE)
        self.sentence.setText(row.to_do)
        opened = self.session.opened
        if row.day is not None and opened is not None:
            cards = {card.id for card in opened.variant.items()}
            self.session.select(Selection(day=row.day - 1, item=row.item if row.item in cards else None))
