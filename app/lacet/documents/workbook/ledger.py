"""A sheet of labels and amounts, written from the top down."""

from dataclasses import dataclass

from lacet.documents.workbook.page import Page, money_format
from lacet.trip.money import Money


@dataclass(slots=True)
class Ledger:
    """`row` is the next free one; writers move it on and return the address of what they wrote."""

    page: Page
    currency: str
    row: int = 1

    @property
    def shown(self) -> str:
        """The number format of amounts."""
        return money_format(self.currency)

    def title(self, says: str, remark: str = "") -> None:
        """A heading with a remark beside it."""
        self.page.text(self.row, 1, says, bold=True)
        if remark:
            self.page.text(self.row, 2, remark)
        self.row += 1

    def words(self, label: str, says: str) -> str:
        """A label and a text."""
        self.page.text(self.row, 1, label)
        self.row += 1
        return self.page.text(self.row - 1, 2, says)

    def choice(self, label: str, says: str, among: tuple[str, ...]) -> str:
        """A label and one of a few words, to be chosen from a list."""
        cell = self.words(label, says)
        self.page.offer(self.row - 1, 2, among)
        return cell

    def figure(self, label: str, value: float, shown: str) -> str:
        """A label and a figure to play with."""
        self.page.text(self.row, 1, label)
        self.row += 1
        return self.page.number(self.row - 1, 2, value, shown, live=True)

    def amount(self, label: str, formula: str, value: Money | None) -> str:
        """A label and an amount reckoned by a formula."""
        self.page.text(self.row, 1, label)
        self.row += 1
        return self.money(self.row - 1, 2, formula, value)

    def money(self, row: int, column: int, formula: str, value: Money | None) -> str:
        """An amount reckoned by a formula, anywhere."""
        return self.page.formula(row, column, formula, None if value is None else value.amount, self.shown)

    def gap(self) -> None:
        """An empty row."""
        self.row += 1
