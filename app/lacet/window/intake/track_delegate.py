"""Editors in the cells of the drop table: places to choose or to name, and ways."""

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QComboBox, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from lacet.intake.corrections import new_places
from lacet.tracks.geodesy import distance_m
from lacet.trip.library import Place
from lacet.window.fields import ComboBox
from lacet.window.intake.track_model import FROM, HEADS, TO, WAY, WAYS, TrackModel

Index = QModelIndex | QPersistentModelIndex
MOST_PLACES = 60
"""The nearest ones; a place farther off is typed by its name."""


class TrackDelegate(QStyledItemDelegate):
    """A list for places and ways; the rest is typed."""

    # --- Qt overrides

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        model = index.model()
        if index.column() not in (FROM, TO, WAY) or not isinstance(model, TrackModel):
            return super().createEditor(parent, option, index)
        box = ComboBox(parent)
        box.setAccessibleName(HEADS[index.column()])
        if index.column() == WAY:
            box.addItems(list(WAYS))
        else:
            box.setEditable(True)
            box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
            box.addItems(names_near(model, index.row(), index.column()))
        # A choice from the list is an answer; nobody should have to confirm it.
        box.activated.connect(lambda _: self.commitData.emit(box))
        return box

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        if isinstance(editor, QComboBox):
            editor.setCurrentText(str(index.data(Qt.ItemDataRole.EditRole)))
        else:
            super().setEditorData(editor, index)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentText())
        else:
            super().setModelData(editor, model, index)


def names_near(model: TrackModel, row: int, column: int) -> list[str]:
    """Names of places, those nearest to this end of the line first, each once."""
    proposal = model.proposals[row]
    index = 0 if column == FROM else -1
    here = (float(proposal.track.latitude_deg[index]), float(proposal.track.longitude_deg[index]))
    places: tuple[Place, ...] = (*model.known, *new_places(model.proposals))
    near = sorted(places, key=lambda place: distance_m(here, (place.latitude_deg, place.longitude_deg)))
    return list(dict.fromkeys(place.name for place in near[:MOST_PLACES]))
