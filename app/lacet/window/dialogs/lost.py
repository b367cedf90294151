"""The open file is no longer at its path: save what there is elsewhere, or go on unsaved for now."""

from PySide6.QtWidgets import QMessageBox, QWidget

ELSEWHERE, LATER = "elsewhere", "later"
UNSAVED = "What you do from now on is in this window alone, until it is saved elsewhere or the file is back."
CLOSING = "Closing now loses what isn't saved."


class LostDialog:
    """Asks where to go on."""

    @classmethod
    def ask(cls, sentence: str, parent: QWidget | None = None, *, closing: bool = False) -> str:
        """'elsewhere', or 'later': to go on without saving, or to close without it."""
        box = QMessageBox(QMessageBox.Icon.Warning, "The file is lost", sentence, parent=parent)
        box.setInformativeText(CLOSING if closing else UNSAVED)
        save = box.addButton("Save elsewhere…", QMessageBox.ButtonRole.AcceptRole)
        later = "Close without saving" if closing else "Not now"
        box.addButton(later, QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(save)
        box.exec()
        return ELSEWHERE if box.clickedButton() is save else LATER
