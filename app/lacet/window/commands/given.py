"""The commands of one window, given to it: keys, entries of menus and buttons, bound to what does them."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QPushButton, QToolButton, QWidget

from lacet.window.commands.listed import Command, Menu, Need, Where, of_window
from lacet.window.parts import push_button, tool_button

Does = Callable[[], object]


class Commands(QObject):
    """Runs commands by id. `refused` with a sentence when one lacks what it needs.

    Parameters
    ----------
    does
        What each command of the window does, by its id: no more, and no fewer.
    lacks
        Whether a need isn't met now.
    """

    refused = Signal(str)

    def __init__(
        self,
        window: QWidget,
        where: Where,
        does: Mapping[str, Does],
        lacks: Callable[[Need], bool] = lambda _: False,
    ) -> None:
        super().__init__(window)
        self.listed = of_window(where)
        self._does, self._lacks = dict(does), lacks
        self.actions = {each.id: action_of(each, window) for each in self.listed}
        for each in self.listed:
            self.actions[each.id].triggered.connect(lambda _=False, its=each.id: self.run(its))
        # Else the window would be garbage in a circle, and may be let go of on another thread than its own.
        window.destroyed.connect(self._does.clear)
        if set(self._does) != set(self.actions):
            raise KeyError(f"{where}: {sorted(set(self._does) ^ set(self.actions))}")

    def run(self, command_id: str) -> None:
        """Do it, or say why it can't be done now."""
        refusal = self.refusal(self._named(command_id))
        if refusal:
            self.refused.emit(refusal)
        else:
            self._does[command_id]()

    def refusal(self, command: Command) -> str:
        """Why a command can't be used now; empty where it can."""
        return next((str(need) for need in command.needs if self._lacks(need)), "")

    def menu(self, which: Menu, parent: QWidget) -> QMenu:
        """One of the header's menus."""
        made = QMenu(parent)
        made.addActions([self.actions[each.id] for each in self.listed if each.menu is which])
        return made

    def tool(self, command_id: str) -> QToolButton:
        """A small button for a command."""
        it = self._named(command_id)
        return tool_button(it.short or it.text, it.tip, lambda: self.run(it.id), it.name)

    def push(self, command_id: str) -> QPushButton:
        """A button for a command."""
        it = self._named(command_id)
        made = push_button(it.short or it.text, lambda: self.run(it.id), it.tip)
        made.setAccessibleName(it.name)
        return made

    def _named(self, command_id: str) -> Command:
        return next(each for each in self.listed if each.id == command_id)


def action_of(command: Command, window: QWidget) -> QAction:
    """An action with the text, tip and keys of a command, which does nothing yet."""
    made = QAction(command.text, window)
    made.setShortcuts([QKeySequence(each) for each in command.keys])
    made.setToolTip(command.tip)
    window.addAction(made)
    return made
