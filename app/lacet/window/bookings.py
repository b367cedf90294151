"""What was asked of suppliers for the open trip, what has become of it, and who wrote it down."""

from functools import partial

from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.service.booked import acts_told, booked_rows, take_out, write_state
from lacet.trip.words import BookingState
from lacet.window.beside import Beside
from lacet.window.parts import label, push_button, sentence_list
from lacet.window.qt_session import QtSession

HEADS = ("Supplier", "What", "Days", "Stands as")
ABOUT = "Undo in the trip leaves bookings as they are: what was written down by mistake is taken out here."
NOTHING = "Nothing was asked of anybody yet. Findings of the chosen variant offer to write it down."
ANSWERS = {
    "Confirmed": (BookingState.CONFIRMED, "The supplier has confirmed it"),
    "Refused": (BookingState.REFUSED, "The supplier can't do it"),
    "Cancelled": (BookingState.CANCELLED, "The supplier was told that it isn't wanted any more"),
}
SIZE = (720, 460)


class BookingsPanel(Beside):
    """The bookings of the open trip and every act on them; follows whoever books, here or elsewhere."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setWindowTitle("Bookings – Lacet")
        self.resize(*SIZE)
        self.ids: tuple[str, ...] = ()
        self.table = QTableWidget(0, len(HEADS))
        self.table.setAccessibleName("Bookings")
        self.table.setHorizontalHeaderLabels(HEADS)
        self.table.verticalHeader().hide()
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setTabKeyNavigation(False)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.itemSelectionChanged.connect(self._enable)
        self.buttons = [
            push_button(text, partial(self._answered, state), tip) for text, (state, tip) in ANSWERS.items()
        ]
        self.buttons.append(push_button("Take out", self._take_out, "It was written down by mistake"))
        self.history = sentence_list("Who did what")
        self._lay_out()
        session.kept.connect(lambda _: self.refresh())
        self.follow()

    @property
    def chosen(self) -> str | None:
        """The id of the booking picked."""
        at = self.table.currentRow()
        return self.ids[at] if 0 <= at < len(self.ids) else None

    def refresh(self) -> None:
        """Tell what stands written down, and what was done; the booking picked stays picked."""
        chosen, session = self.chosen, self.session
        rows = booked_rows(session.session) if session.opened is not None else ()
        self.ids = tuple(row.booking_id for row in rows)
        self.table.setRowCount(len(rows))
        for index, row in enumerate(rows):
            for column, text in enumerate((row.supplier, row.what, row.days, row.state)):
                self.table.setItem(index, column, QTableWidgetItem(text))
        if rows:
            self.table.setCurrentCell(self.ids.index(chosen) if chosen in self.ids else 0, 0)
        self.history.clear()
        if session.opened is not None:
            session.do(lambda: self.history.addItems(acts_told(session.session) or (NOTHING,)))
        self._enable()

    def _answered(self, state: BookingState) -> None:
        chosen = self.chosen
        if chosen is not None:
            self.session.do(lambda: write_state(self.session.session, chosen, state))

    def _take_out(self) -> None:
        chosen = self.chosen
        if chosen is not None:
            self.session.do(lambda: take_out(self.session.session, chosen))

    def _enable(self) -> None:
        for button in self.buttons:
            button.setEnabled(self.chosen is not None)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        for button in self.buttons:
            row.addWidget(button)
        row.addStretch(1)
        about = label(ABOUT, quiet=True)
        about.setWordWrap(True)
        column = QVBoxLayout(self)
        column.addWidget(self.table, 2)
        column.addLayout(row)
        column.addWidget(about)
        column.addWidget(self.history, 1)
