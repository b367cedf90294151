"""Who takes a card: everybody, or some (then the day parts)."""

from PySide6.QtWidgets import QCheckBox, QWidget

from lacet.trip.party import Party
from lacet.trip.trip import Travellers
from lacet.window.dialogs.base import FormDialog


class WhoDialog(FormDialog):
    """A box for every guest."""

    def __init__(self, party: Party, chosen: Travellers, parent: QWidget | None = None) -> None:
        super().__init__("Who takes it", "Keep", parent)
        self.boxes = {guest.id: QCheckBox(party.name_of(guest.id)) for guest in party.travellers}
        for guest_id, box in self.boxes.items():
            box.setChecked(chosen is None or guest_id in chosen)
            box.toggled.connect(self._at_least_one)
            self.form.addRow(box)

    def _at_least_one(self) -> None:
        self.does.setEnabled(any(box.isChecked() for box in self.boxes.values()))

    def answer(self) -> Travellers:
        """None = everybody."""
        taken = tuple(guest_id for guest_id, box in self.boxes.items() if box.isChecked())
        return None if len(taken) == len(self.boxes) else taken

    @classmethod
    def ask(cls, party: Party, chosen: Travellers, parent: QWidget | None = None) -> tuple[Travellers] | None:
        """The travellers in a tuple of one (None within = everybody), or None when put away."""
        dialog = cls(party, chosen, parent)
        return (dialog.answer(),) if dialog.said_yes() else None
