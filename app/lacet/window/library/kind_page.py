"""One kind on the desk: its list, and the editor of what is chosen."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from lacet.service.keeper import Keeper
from lacet.service.library.fields import DeskKind, Names
from lacet.window.library.editor import Editor
from lacet.window.library.list_panel import ListPanel
from lacet.window.parts import push_button
from lacet.window.qt_session import QtSession

LIST_SHARE, EDITOR_SHARE = 10, 9
NARROWEST_EDITOR_PX = 420


class KindPage(QWidget):
    """`said(sentence)` when there is something to tell."""

    said = Signal(str)

    def __init__(
        self, session: QtSession, keeper: Keeper, kind: DeskKind, names: Names, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.kind = kind
        self.list = ListPanel(session, kind)
        self.editor = Editor(session, keeper, kind, names)
        self.editor.setMinimumWidth(NARROWEST_EDITOR_PX)
        self.across = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        self.across.addWidget(self.list)
        self.across.addWidget(self.editor)
        self.across.setStretchFactor(0, LIST_SHARE)
        self.across.setStretchFactor(1, EDITOR_SHARE)
        self.across.setSizes([700, 540])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.across)
        self.session = session
        self.line = push_button(
            "Line and heights…", self.open_stage_desk, "Cut, join, trim, mark: map and profile together"
        )
        self.line.setVisible(kind.name == "stages")
        self.line.setEnabled(False)
        column.addWidget(self.line, 0, Qt.AlignmentFlag.AlignRight)
        self._shown: list[str] = []
        self._to_show = ""
        self._fitted = False
        self.list.chosen.connect(self._on_chosen)
        self.list.wants_new.connect(lambda: self.begin())
        self.list.wants_form.connect(self._go_to_form)
        self.editor.said.connect(self.said)
        self.editor.saved.connect(self._on_saved)

    def open_item(self, item_id: str, field: str = "") -> None:
        """Show one item, with the cursor in a field."""
        if self.editor.item is not None and self.editor.item.id == item_id:
            self.editor.form.go_to(field)
            return
        if self.editor.may_leave() and self.list.show_item(item_id):
            self._shown = [item_id]
            self.line.setEnabled(True)
            self.editor.edit(item_id, field)

    def open_stage_desk(self) -> None:
        """The chosen stage's line, in a window of its own."""
        if len(self._shown) == 1 and self.editor.may_leave():
            self.session.stage_desk_asked.emit(self._shown[0], self)

    def begin(self, texts: Mapping[str, str] | None = None, field: str = "name") -> None:
        """A new item, of which these texts are known."""
        if self.editor.may_leave():
            self._shown = []
            self.list.table.clearSelection()
            self.editor.begin(texts, field)

    def take_library(self, names: Names) -> None:
        """Show the library as it is now; what is being typed stays."""
        self.editor.names = names
        self.editor.form.offer(names)
        self.list.refresh()
        if not self._fitted and self.list.model.rows:
            self._fitted = True
            self.list.fit_columns()
        kept, self._to_show = self._to_show, ""
        # What was just retired leaves the list, and stays in the editor until something else is chosen.
        if kept and self.editor.item is not None and not self.editor.item.retired:
            self.list.show_item(kept)
        if not kept and self.editor.item is not None:
            if self.editor.edited:
                self.editor.tell_if_behind()
            else:
                self.editor.edit(self.editor.item.id)

    def _go_to_form(self) -> None:
        if self.editor.item is not None:
            self.editor.form.go_to("name")

    def _on_saved(self, ids: list[str]) -> None:
        """One thing that was saved stays shown; of many, the choice does."""
        if len(ids) == 1:
            self._shown = ids
            self._to_show = ids[0]
            self.editor.edit(ids[0])

    def _on_chosen(self, ids: list[str]) -> None:
        if ids == self._shown:
            return
        if not self.editor.may_leave():
            self.list.choose(self._shown)
            return
        self._shown = ids
        self.line.setEnabled(len(ids) == 1)
        if len(ids) == 1:
            self.editor.edit(ids[0])
        elif ids:
            self.editor.show_many(ids)
        else:
            self.editor.show_nothing()
