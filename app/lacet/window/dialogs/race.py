"""Somebody else saved the trip meanwhile: keep mine as a variant, or take theirs."""

from PySide6.QtWidgets import QMessageBox, QWidget

KEEP, TAKE = "keep", "take"


class RaceDialog:
    """Asks which of the two edits goes on."""

    @classmethod
    def ask(cls, sentence: str, parent: QWidget | None = None) -> str:
        """'keep' mine beside theirs, or 'take' theirs; closing it takes theirs, which loses nothing kept."""
        box = QMessageBox(parent)
        box.setWindowTitle("Changed elsewhere")
        box.setText(sentence)
        mine = box.addButton("Keep mine as a variant", QMessageBox.ButtonRole.AcceptRole)
        box.addButton("Take theirs", QMessageBox.ButtonRole.RejectRole)
        box.exec()
        return KEEP if box.clickedButton() is mine else TAKE
