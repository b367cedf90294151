"""The line on top: trip, variants, the brief, undo, and what to do with the trip."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QMenu,
    QPushButton,
    QToolButton,
    QVBoxLayout,
)

from lacet.session import Opened
from lacet.trip import edits
from lacet.trip.edits import letter
from lacet.window.brief import brief_text
from lacet.window.parts import ElidedButton, label, push_button, tool_button
from lacet.window.projects import recent
from lacet.window.qt_session import QtSession

QUIET_MS = 4_000
SHOWN_TAB_PX = 230
OTHER_TAB_PX = 170
CLIENT_LOOKS = (
    "Client looks on",
    "Hides net prices, mark-up, margin and commission everywhere (Ctrl+Shift+L)",
)


class Header(QFrame):
    """Shows what is open. `wants` names what the person asked for, for the main window to do."""

    wants = Signal(str)

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.setObjectName("raised")
        self.session = session
        self.title = QToolButton()
        self.title.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.title.setToolTip("Trips and projects")
        self.title.setAccessibleName("Trips and projects")
        self.title.setText("Lacet")
        self.title.setMenu(self._title_menu())
        self.variants = QHBoxLayout()
        self.variants.setSpacing(4)
        self.chosen = QButtonGroup(self)
        self.brief = ElidedButton(lambda: self.wants.emit("party"))
        self.sentence = label(name="Message", quiet=True)
        self._lay_out()
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MS)
        self._quiet.timeout.connect(lambda: self.sentence.setText(""))
        session.changed.connect(self._on_changed)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setContentsMargins(8, 5, 8, 0)
        row.addWidget(self.title)
        tip = "New trip from an enquiry (Ctrl+N)"
        row.addWidget(tool_button("New…", tip, lambda: self.wants.emit("new"), "New trip"))
        row.addSpacing(6)
        row.addLayout(self.variants)
        row.addWidget(tool_button("+ copy", "Copy this variant", self._copy_variant, "Copy this variant"))
        row.addStretch(1)
        self.back = tool_button("↶", "Undo (Ctrl+Z)", self.session.undo, "Undo")
        self.again = tool_button("↷", "Redo (Ctrl+Y)", self.session.redo, "Redo")
        row.addWidget(self.back)
        row.addWidget(self.again)
        row.addWidget(tool_button("⚙", "Settings", lambda: self.wants.emit("settings"), "Settings"))
        self.looks = tool_button(*CLIENT_LOOKS, lambda: self.session.let_client_look(self.looks.isChecked()))
        self.looks.setCheckable(True)
        self.session.client_looks.connect(self.looks.setChecked)
        row.addWidget(self.looks)
        row.addWidget(push_button("Side by side", lambda: self.wants.emit("compare")))
        row.addWidget(push_button("Proposal…", lambda: self.wants.emit("proposal")))
        row.addWidget(push_button("Write pack…", lambda: self.wants.emit("pack"), primary=True))
        below = QHBoxLayout()
        below.setContentsMargins(4, 0, 10, 2)
        below.addWidget(self.brief, 1)
        below.addWidget(self.sentence, 0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addLayout(below)

    def _title_menu(self) -> QMenu:
        """Trips of this project, then other projects; the recent ones are looked up when it opens."""
        menu = QMenu(self)
        for text, what in (
            ("Choose a trip… (Ctrl+O)", "trips"),
            ("New trip from an enquiry… (Ctrl+N)", "new"),
            ("The party…", "party"),
            ("Settings…", "settings"),
            ("Library… (Ctrl+L)", "library"),
            ("Bring in files… (Ctrl+B)", "bring"),
        ):
            menu.addAction(text).triggered.connect(lambda _=False, what=what: self.wants.emit(what))
        menu.addSeparator()
        menu.addAction("Open a project…").triggered.connect(lambda _=False: self.wants.emit("open project"))
        menu.addAction("New library…").triggered.connect(lambda _=False: self.wants.emit("new project"))
        lately = menu.addMenu("Recent projects")
        lately.aboutToShow.connect(lambda: self._show_recent(lately))
        return menu

    def _show_recent(self, menu: QMenu) -> None:
        menu.clear()
        for path in recent():
            action = menu.addAction(f"{path.stem} – {path.parent}")
            action.triggered.connect(lambda _=False, path=path: self.wants.emit(f"project {path}"))

    def show_sentence(self, says: str) -> None:
        """A refusal: stays until the next thing is said."""
        self._quiet.stop()
        self.sentence.setText(says)
        self.sentence.setToolTip(says)

    def show_quietly(self, says: str) -> None:
        """Something went well: said for a moment."""
        self.sentence.setText(says)
        self.sentence.setToolTip("")
        self._quiet.start()

    def _copy_variant(self) -> None:
        here = self.session.opened
        if here is not None:
            self.session.apply(lambda trip: edits.copy_variant(trip, here.variant_id), "copy the variant")

    def _on_changed(self, opened: Opened) -> None:
        self.title.setText(opened.trip.name)
        brief = brief_text(opened.trip, self.session.wording)
        self.brief.show_text(brief)
        self.brief.setAccessibleName(f"The party: {brief}")
        position = opened.position
        self.back.setEnabled(position.undo_says is not None)
        self.again.setEnabled(position.redo_says is not None)
        self.back.setToolTip(f"Undo {position.undo_says or ''} (Ctrl+Z)")
        self.again.setToolTip(f"Redo {position.redo_says or ''} (Ctrl+Y)")
        self._show_variants(opened)

    def _show_variants(self, opened: Opened) -> None:
        while (item := self.variants.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        for variant in opened.trip.variants:
            button = QPushButton(f"{letter(opened.trip, variant.id)}  {variant.name}")
            button.setCheckable(True)
            button.setChecked(variant.id == opened.variant_id)
            button.setToolTip(variant.name)
            button.setFixedWidth(_tab_width(button, variant.id == opened.variant_id))
            button.setAccessibleName(f"Variant {letter(opened.trip, variant.id)}, {variant.name}")
            button.clicked.connect(lambda _=False, chosen=variant.id: self._show_variant(chosen))
            self.variants.addWidget(button)

    def _show_variant(self, variant_id: str) -> None:
        self.session.do(lambda: self.session.session.show_variant(variant_id))


def _tab_width(button: QPushButton, shown: bool) -> int:
    """Wide enough for the shown variant's name; the others get their letter and what fits."""
    bold = QFont(button.font())
    bold.setWeight(QFont.Weight.DemiBold)
    whole = QFontMetrics(bold).horizontalAdvance(button.text()) + 30
    width = min(whole, SHOWN_TAB_PX if shown else OTHER_TAB_PX)
    button.setText(QFontMetrics(bold).elidedText(button.text(), Qt.TextElideMode.ElideRight, width - 30))
    return width
