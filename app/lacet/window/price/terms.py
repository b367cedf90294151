"""Terms of a variant: mark-up or margin (never both), commission, currency; and how the house rounds.

Whatever is entered becomes one edit. Mark-up is a share of the net price, margin one of the selling price, so
beside each stands what it comes to in terms of the other.
"""

from dataclasses import replace
from decimal import Decimal

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QGridLayout, QHBoxLayout, QWidget

from lacet.price.amounts import from_minor, minor_digits
from lacet.price.selling import margin_of_markup, markup_of_margin, share
from lacet.service.shown import Shown
from lacet.trip.edits import set_pricing
from lacet.trip.trip import Pricing
from lacet.window.fields import ComboBox, DoubleSpinBox
from lacet.window.parts import label
from lacet.window.qt_session import QtSession

WAY_PX = 205
HOUSE, MARKUP, MARGIN = "house", "markup", "margin"
MOST_PERCENT = {MARKUP: 1000.0, MARGIN: 95.0, HOUSE: 1000.0}
STEPS = (1, 5, 10, 50, 100, 500, 1000)


class TermsEditor(QWidget):
    """Shows the terms in use; never seen while a client looks on."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
        self.way = ComboBox()
        self.way.setAccessibleName("Priced by")
        self.percent = _percent("Mark-up or margin in per cent")
        self.other = label(name="The same in other terms", quiet=True)
        self.commission = _percent("The agent's commission in per cent of the price")
        self.commission.setMaximum(90.0)
        self.currency = ComboBox()
        self.currency.setAccessibleName("Currency of the quote")
        self.step = ComboBox()
        self.step.setAccessibleName("Prices a head are raised to a multiple of; for all trips")
        self.halves = ComboBox()
        self.halves.addItem("halves up", False)
        self.halves.addItem("halves to even", True)
        self.halves.setAccessibleName("How halves of a cent are rounded; for all trips")
        for box in (self.way, self.currency, self.step, self.halves):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.way.setMinimumWidth(WAY_PX)
        self._lay_out()
        self.way.activated.connect(lambda _: self._on_way_chosen())
        self.percent.editingFinished.connect(self._keep_pricing)
        self.commission.editingFinished.connect(self._keep_pricing)
        self.currency.activated.connect(lambda _: self._keep_pricing())
        self.step.activated.connect(lambda _: self._keep_rounding())
        self.halves.activated.connect(lambda _: self._keep_rounding())

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(4)
        for row, (text, widgets) in enumerate(
            (
                ("Priced by", (self.way, self.percent, self.other)),
                ("Commission", (self.commission, label("in"), self.currency)),
                ("Rounded up to", (self.step, self.halves, label("(all trips)", quiet=True))),
            )
        ):
            grid.addWidget(label(text, quiet=True), row, 0)
            line = QHBoxLayout()
            line.setSpacing(8)
            for widget in widgets:
                line.addWidget(widget)
            line.addStretch(1)
            grid.addLayout(line, row, 1)
        grid.setColumnStretch(1, 1)

    def show_terms(self, shown: Shown) -> None:
        """Show what this variant is priced by."""
        quote, pricing = shown.assessment.quote, shown.variant.pricing
        rules = self.session.session.rules
        with _quietly(self.way, self.percent, self.commission, self.currency, self.step, self.halves):
            self._show_way(pricing, quote.markup_share, quote.margin_share)
            self.commission.setValue(quote.commission_share * 100)
            self._show_currencies(quote.currency)
            self._show_steps(rules.round_price_to_minor, quote.currency)
            self.halves.setCurrentIndex(int(rules.half_even))

    def clear_terms(self) -> None:
        """Hold nothing of the office's own: what is only hidden is still told by assistive technology."""
        with _quietly(self.way, self.percent, self.commission, self.currency, self.step, self.halves):
            for box in (self.way, self.currency, self.step):
                box.clear()
            self.percent.setValue(0.0)
            self.commission.setValue(0.0)
            self.other.setText("")

    def _show_way(self, pricing: Pricing, markup: float | None, margin: float | None) -> None:
        rules = self.session.session.rules
        by_margin = rules.margin_share is not None
        house = rules.margin_share if by_margin else rules.markup_share
        self.way.clear()
        said = "margin" if by_margin else "mark-up"
        self.way.addItem(f"the house's {said}, {_percents(house or 0.0)}", HOUSE)
        self.way.addItem("mark-up on the net price", MARKUP)
        self.way.addItem("margin in the price", MARGIN)
        own = MARGIN if pricing.margin_share is not None else MARKUP
        is_own = pricing.margin_share is not None or pricing.markup_share is not None
        self.way.setCurrentIndex(self.way.findData(own if is_own else HOUSE))
        self.percent.setMaximum(MOST_PERCENT[MARGIN if margin is not None else MARKUP])
        self.percent.setValue(100 * (margin if margin is not None else markup or 0.0))
        self.percent.setEnabled(is_own)
        self.other.setText(
            f"= {_percents(float(margin_of_markup(share(markup or 0.0))))} margin"
            if margin is None
            else f"= {_percents(float(markup_of_margin(share(margin))))} mark-up"
        )

    def _show_currencies(self, current: str) -> None:
        inner = self.session.session
        own = inner.catalogue.region.currency
        known = [*([own] if own else []), *(rate.to for rate in inner.rules.exchange_rates), current]
        self.currency.clear()
        self.currency.addItems(list(dict.fromkeys(known)))
        self.currency.setCurrentText(current)

    def _show_steps(self, current: int, currency: str) -> None:
        self.step.clear()
        for minor in sorted({*STEPS, current}):
            money = from_minor(minor, currency)
            self.step.addItem(self.session.wording.money(money), minor)
        self.step.setCurrentIndex(self.step.findData(current))
        self.step.setToolTip(f"Decimals of {currency}: {minor_digits(currency)}")

    def _on_way_chosen(self) -> None:
        """The price as it is, in the terms now chosen, to a hundredth of a per cent."""
        opened = self.session.opened
        if opened is None:
            return
        quote = opened.assessment.quote
        margin = quote.margin_share
        markup = quote.markup_share or 0.0
        with _quietly(self.percent):
            self.percent.setMaximum(MOST_PERCENT[self.way.currentData()])
            if self.way.currentData() == MARGIN:
                part = margin if margin is not None else float(margin_of_markup(share(markup)))
            else:
                part = markup if margin is None else float(markup_of_margin(share(margin)))
            self.percent.setValue(100 * part)
        self._keep_pricing()

    def _keep_pricing(self) -> None:
        opened = self.session.opened
        if opened is None:
            return
        inner, chosen = self.session.session, self.way.currentData()
        part = _share_of(self.percent)
        commission = _share_of(self.commission)
        currency = self.currency.currentText()
        before = opened.variant.pricing
        pricing = Pricing(
            markup_share=part if chosen == MARKUP else None,
            margin_share=part if chosen == MARGIN else None,
            commission_share=before.commission_share
            if commission == opened.assessment.quote.commission_share
            else commission,
            currency=before.currency if currency == opened.assessment.quote.currency else currency,
        )
        if pricing.commission_share == inner.rules.commission_share:
            pricing = replace(pricing, commission_share=None)
        variant_id = opened.variant_id
        self.session.apply(lambda trip: set_pricing(trip, variant_id, pricing), "change how it is priced")

    def _keep_rounding(self) -> None:
        inner = self.session.session
        rules = replace(
            inner.rules,
            round_price_to_minor=int(self.step.currentData()),
            half_even=bool(self.halves.currentData()),
        )
        if rules != inner.rules:
            self.session.do(lambda: inner.keep_rules(rules), "Kept: how prices are rounded, for all trips")


class _quietly:  # noqa: N801 - reads as the word it is
    """Several widgets are filled without telling anybody."""

    def __init__(self, *widgets: QWidget) -> None:
        self._widgets = widgets
        self._blockers: list[QSignalBlocker] = []

    def __enter__(self) -> None:
        self._blockers = [QSignalBlocker(widget) for widget in self._widgets]

    def __exit__(self, *_: object) -> None:
        for blocker in self._blockers:
            blocker.unblock()


def _percent(name: str) -> QDoubleSpinBox:
    made = DoubleSpinBox()
    made.setDecimals(2)
    made.setMinimumWidth(96)
    made.setSuffix(" %")
    made.setSingleStep(0.5)
    made.setKeyboardTracking(False)
    made.setAccessibleName(name)
    return made


def _share_of(spin: QDoubleSpinBox) -> float:
    """What was typed, exactly: 12.5 % is 0.125."""
    return float(Decimal(spin.text().removesuffix(spin.suffix()).replace(",", ".")) / 100)


def _percents(part: float) -> str:
    return f"{part * 100:.4g} %"
