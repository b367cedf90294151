"""What is missing or doubtful, grouped; each a step from the field where it is mended."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from lacet.intake.health import Doubt, health
from lacet.service.library.looking_after import remedy
from lacet.service.library.rows import KindList, ListColumn
from lacet.window.library.list_model import ListModel
from lacet.window.library.sorted_table import sorted_table
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession
from lacet.window.work import Work

GROUPS_PX = 220
GROUP_ROLE = Qt.ItemDataRole.UserRole
# Above so many stages a look takes seconds, and waits until somebody asks for it.
MOST_UNASKED = 1_500
ALL = ("", "")

COLUMNS = KindList(
    (
        ListColumn("What", lambda row, _: row.name, lambda row: row.name.casefold()),
        ListColumn("Kind", lambda row, _: row.doubt.kind, lambda row: row.doubt.kind),
        ListColumn("About", lambda row, _: row.doubt.what, lambda row: row.doubt.what),
        ListColumn("To look after", lambda row, _: _begun(row.doubt.says), lambda row: row.doubt.says),
    ),
    by_name=False,
)


@dataclass(frozen=True, slots=True)
class DoubtRow:
    """A doubt as a row of a list."""

    id: str
    name: str
    doubt: Doubt


class HealthPage(QWidget):
    """`counted(number)` after a look; `wants(remedy)` when something is to be mended."""

    counted = Signal(int)
    wants = Signal(object)

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.found: tuple[Doubt, ...] = ()
        self.stale = True
        self.work = Work(self)
        self.model = ListModel(COLUMNS, self)
        self.groups = QListWidget()
        self.groups.setAccessibleName("Groups of what to look after")
        self.groups.setFixedWidth(GROUPS_PX)
        self.groups.setSpacing(2)
        self.table = sorted_table(self.model, "What to look after")
        self.says = label(name="How much there is to look after", quiet=True)
        self._lay_out()
        self.groups.currentItemChanged.connect(lambda *_: self._show_group())
        self.table.activated.connect(lambda _: self.mend())
        self.table.doubleClicked.connect(lambda _: self.mend())

    def look(self, *, quiet: bool = True) -> None:
        """Look the library over, off the window's thread."""
        if self.work.busy:
            self.stale = True
            return
        self.stale = False
        catalogue, as_of = self.session.session.catalogue, self.session.session.as_of
        self.work.run(
            "Looking the library over",
            lambda step: health(catalogue, as_of, step),
            self._on_found,
            self.says.setText,
            quiet=quiet,
        )

    def on_library_changed(self) -> None:
        """Look again, unless that would take long: then when somebody comes here."""
        self.stale = True
        catalogue = self.session.session.catalogue
        stages = next((len(ids) for kind, ids in catalogue.items.items() if kind.__name__ == "Stage"), 0)
        if stages <= MOST_UNASKED:
            self.look()
        else:
            self.says.setText("The library has changed since; open this page to look again.")

    def on_shown(self) -> None:
        """Somebody came to see."""
        if self.stale:
            self.look(quiet=False)

    def mend(self) -> None:
        """Go to the field where the chosen doubt is mended."""
        index = self.table.currentIndex()
        if index.isValid():
            row = self.model.rows[index.row()]
            self.wants.emit(remedy(row.doubt, self.session.session.catalogue))

    def _on_found(self, found: tuple[Doubt, ...]) -> None:
        self.found = found
        self.says.setText(
            f"{len(found)} to look after, as of {self.session.session.as_of}. Enter or a double click mends."
            if found
            else "Nothing is missing or doubtful."
        )
        self.counted.emit(len(found))
        self._show_groups()
        if self.stale:
            self.look()

    def _show_groups(self) -> None:
        held = self._group()
        counts = Counter((doubt.kind, doubt.what) for doubt in self.found)
        self.groups.blockSignals(True)
        self.groups.clear()
        for key, number in [(ALL, len(self.found)), *sorted(counts.items())]:
            text = f"everything  {number}" if key == ALL else f"{key[0]}: {key[1]}  {number}"
            entry = QListWidgetItem(text)
            entry.setData(GROUP_ROLE, key)
            self.groups.addItem(entry)
            if key == held:
                self.groups.setCurrentItem(entry)
        if self.groups.currentRow() < 0:
            self.groups.setCurrentRow(0)
        self.groups.blockSignals(False)
        self._show_group()

    def _group(self) -> tuple[str, str]:
        if self.groups.currentRow() < 0:
            return ALL
        kind, what = self.groups.currentItem().data(GROUP_ROLE)
        return kind, what

    def _show_group(self) -> None:
        key = self._group()
        self.model.show(_rows([each for each in self.found if key in (ALL, (each.kind, each.what))]))
        for column, width in enumerate((190, 80, 90)):
            self.table.setColumnWidth(column, width)

    def _lay_out(self) -> None:
        self.table.horizontalHeader().setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
        across = QHBoxLayout()
        across.addWidget(self.groups)
        across.addWidget(self.table, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.says, 1)
        foot.addWidget(push_button("Look again", lambda: self.look(quiet=False)))
        foot.addWidget(push_button("Mend…", self.mend, "Go to the field where it is mended", primary=True))
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 6)
        column.addLayout(across, 1)
        column.addLayout(foot)


def _rows(doubts: Sequence[Doubt]) -> list[DoubtRow]:
    return [DoubtRow(f"{number}", doubt.name, doubt) for number, doubt in enumerate(doubts)]


def _begun(says: str) -> str:
    return says[:1].upper() + says[1:]
