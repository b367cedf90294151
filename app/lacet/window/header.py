"""The line on top: trip, variants, the brief, undo, and what to do with the trip."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QMenu,
    QToolButton,
    QVBoxLayout,
)

from lacet.service.brief import brief_text
from lacet.service.shown import Opened
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import Menu, command
from lacet.window.parts import ElidedButton, ElidedLabel, label
from lacet.window.projects import recent
from lacet.window.qt_session import QtSession
from lacet.window.variant_menu import variant_menu
from lacet.window.variant_tabs import VariantTabs

QUIET_MS = 4_000
TITLE_PX = 190
FIRST_OF_GROUP = ("what if", "library", "open project", "commands")


class Header(QFrame):
    """Shows what is open, and the commands of the window; `project_wanted(path)` for a recent one."""

    project_wanted = Signal(object)

    def __init__(self, session: QtSession, commands: Commands) -> None:
        super().__init__()
        self.setObjectName("raised")
        self.session, self.commands = session, commands
        self.title = QToolButton()
        self.title.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.title.setToolTip("Trips and projects")
        self.title.setAccessibleName("Trips and projects")
        self.title.setText("Lacet")
        self.title.setMenu(self._title_menu())
        self.variants = VariantTabs()
        self.variants.chosen.connect(self._show_variant)
        self.variants.menu_wanted.connect(lambda of, at: variant_menu(session, of, at, self))
        self.brief = ElidedButton(lambda: commands.run("party"))
        self.sentence = ElidedLabel("Message", quiet=True)
        self.read_only = label("Read only", "How the project is open")
        self.read_only.setToolTip("The file or its folder may not be written: look at all, change nothing")
        self.read_only.setVisible(session.session.project.read_only)
        self.elsewhere = commands.push("elsewhere")
        self.elsewhere.hide()
        session.file_stands.connect(lambda stands: self.elsewhere.setVisible(not stands))
        self._lay_out()
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MS)
        self._quiet.timeout.connect(lambda: self.sentence.setText(""))
        session.changed.connect(self._on_changed)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setContentsMargins(8, 5, 8, 0)
        row.addWidget(self.title)
        row.addWidget(self.commands.tool("new"))
        row.addSpacing(6)
        row.addWidget(self.variants, 1)
        row.addWidget(self.commands.tool("copy variant"))
        row.addSpacing(10)
        self.back, self.again = self.commands.tool("undo"), self.commands.tool("redo")
        row.addWidget(self.back)
        row.addWidget(self.again)
        row.addWidget(self.commands.tool("settings"))
        self.looks = self.commands.tool("client looks")
        self.looks.setCheckable(True)
        self.session.client_looks.connect(self.looks.setChecked)
        row.addWidget(self.looks)
        row.addWidget(self.commands.push("price"))
        row.addWidget(self.commands.push("compare"))
        row.addWidget(self._hand_over())
        below = QHBoxLayout()
        below.setContentsMargins(4, 0, 10, 2)
        below.addWidget(self.brief, 1)
        below.addWidget(self.sentence, 0)
        below.addWidget(self.read_only)
        below.addWidget(self.elsewhere)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addLayout(below)

    def _hand_over(self) -> QToolButton:
        """Everything that leaves the house, in one menu."""
        button = QToolButton()
        button.setObjectName("primary")
        button.setText("Hand over")
        button.setToolTip("Proposal and travel pack of this variant")
        button.setAccessibleName("Hand over")
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(self.commands.menu(Menu.HAND_OVER, self))
        return button

    def _title_menu(self) -> QMenu:
        """Trips of this project, then other projects; the recent ones are looked up when it opens."""
        menu = self.commands.menu(Menu.TITLE, self)
        lately = QMenu("Recent projects", menu)
        lately.aboutToShow.connect(lambda: self._show_recent(lately))
        menu.insertMenu(self.commands.actions["commands"], lately)
        for first in FIRST_OF_GROUP:
            menu.insertSeparator(self.commands.actions[first])
        return menu

    def _show_recent(self, menu: QMenu) -> None:
        menu.clear()
        for path in recent():
            action = menu.addAction(f"{path.stem} – {path.parent}")
            action.triggered.connect(lambda _=False, path=path: self.project_wanted.emit(path))

    def show_sentence(self, says: str) -> None:
        """A refusal: stays until the next thing is said."""
        self._quiet.stop()
        self.sentence.setText(says)

    def show_quietly(self, says: str) -> None:
        """Something went well: said for a moment."""
        self.sentence.setText(says)
        self._quiet.start()

    def _on_changed(self, opened: Opened) -> None:
        self.title.setText(self._short(opened.trip.name))
        self.title.setToolTip(f"{opened.trip.name}: trips and projects")
        brief = brief_text(opened.trip, self.session.wording)
        self.brief.show_text(brief)
        self.brief.setAccessibleName(f"The party: {brief}")
        position = opened.position
        self.back.setEnabled(position.undo_says is not None)
        self.again.setEnabled(position.redo_says is not None)
        self.back.setToolTip(f"Undo {position.undo_says or ''} ({command('undo').keys[0]})")
        self.again.setToolTip(f"Redo {position.redo_says or ''} ({command('redo').keys[0]})")
        self.variants.show_variants(opened)

    def _short(self, name: str) -> str:
        """A trip's name, cut off where it would push the rest out of the window."""
        return self.title.fontMetrics().elidedText(name, Qt.TextElideMode.ElideRight, TITLE_PX)

    def _show_variant(self, variant_id: str) -> None:
        self.session.do(lambda: self.session.session.show_variant(variant_id))

    # --- Qt overrides

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # A long sentence is whole in its tip; the brief is never pushed away by it.
        self.sentence.setMaximumWidth(self.width() // 2)
