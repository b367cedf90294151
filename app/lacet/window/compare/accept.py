"""Writing down that the client said yes: to which variant, at what price, on what day."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation

from PySide6.QtCore import QDate
from PySide6.QtWidgets import QLineEdit, QWidget

from lacet.price.amounts import rounded
from lacet.trip.money import Money
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.fields import DateEdit
from lacet.window.parts import label


@dataclass(frozen=True, slots=True)
class Yes:
    """What the client said yes to."""

    price: Money
    on: date


class AcceptDialog(CheckedDialog):
    """Price and day, as they are now until somebody says otherwise."""

    def __init__(self, name: str, price: Money, today: date, parent: QWidget | None = None) -> None:
        super().__init__("Accepted by the client", "Accept", parent)
        self.currency = price.currency
        self.price = QLineEdit(str(price.amount))
        self.price.setAccessibleName(f"Price for the party in {price.currency}")
        self.on = DateEdit(QDate(today.year, today.month, today.day))
        self.on.setCalendarPopup(True)
        self.on.setDisplayFormat("ddd d MMM yyyy")
        self.on.setAccessibleName("Said yes on")
        self.form.addRow("Variant", label(name))
        self.form.addRow(f"Sold for ({price.currency}, the whole party)", self.price)
        self.form.addRow("Said yes on", self.on)

    def answer(self) -> Yes:
        try:
            amount = Decimal(self.price.text().strip().replace(",", ""))
        except InvalidOperation as error:
            raise ValueError("The price is a number, such as 2964.00.") from error
        if not amount.is_finite() or amount < 0:
            raise ValueError("The price is not below nothing.")
        on = self.on.date()
        return Yes(rounded(Money(amount, self.currency)), date(on.year(), on.month(), on.day()))

    @classmethod
    def ask(cls, name: str, price: Money, today: date, parent: QWidget | None = None) -> Yes | None:
        dialog = cls(name, price, today, parent)
        return dialog.answer() if dialog.said_yes() else None
