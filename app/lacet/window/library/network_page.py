"""The network of places for one party: two tables that tell all of it, and a picture beside them."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from lacet.service.library.rows import KindList, ListColumn, measure
from lacet.service.network import Connection, Network, network
from lacet.tracks.relief import Relief
from lacet.trip.library import Bike, Ref, Stage
from lacet.trip.party import Party, placeholder_party
from lacet.trip.words import Way
from lacet.window.fields import ComboBox, TabWidget
from lacet.window.library.list_model import ListModel
from lacet.window.library.sorted_table import sorted_table
from lacet.window.map.ground_view import GroundView, Link, Node
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work
from lacet.wording import Wording, speaking

# Above so many stages reckoning takes minutes, and waits until somebody asks for it.
MOST_UNASKED = 1_500
_WORDS = {Way.WALKING: "foot", Way.CYCLING: "bike"}


def _text(title: str, of: Callable[[Any], str]) -> ListColumn:
    return ListColumn(title, lambda row, _: of(row), lambda row: of(row).casefold() or None)


CONNECTIONS = KindList(
    (
        _text("From", lambda row: row.from_name),
        _text("To", lambda row: row.to_name),
        _text("By", lambda row: _WORDS[row.way]),
        measure("Length", Wording.length, lambda row: row.distance_m),
        measure("Up", Wording.height, lambda row: row.ascent_m),
        measure("Moving", Wording.duration, lambda row: row.moving_s),
        _text("Within a day", lambda row: row.verdict),
        _text("Stage", lambda row: row.name),
        _text("Why", lambda row: row.says),
    ),
    by_name=False,
)
JUNCTIONS = KindList(
    (
        _text("Place", lambda row: row.name),
        ListColumn(
            "Ways on", lambda row, _: row.says or f"{len(row.reaches)} places", lambda row: len(row.reaches)
        ),
        _text("On foot to", lambda row: ", ".join(row.on_foot)),
        _text("By bike to", lambda row: ", ".join(row.by_bike)),
    ),
    by_name=False,
)


class NetworkPage(QWidget):
    """`wants(kind, id)` when a stage or a place is to be opened."""

    wants = Signal(str, str)

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.found = Network()
        self.stale = True
        self.work = Work(self)
        self.party, self.bike = ComboBox(), ComboBox()
        self.foot, self.cycle, self.closed = (
            QCheckBox("on foot"),
            QCheckBox("by bike"),
            QCheckBox("too far too"),
        )
        self.says = label(name="What the network comes to", quiet=True)
        self.says.setWordWrap(True)
        self.connections, self.junctions = (
            ListModel(CONNECTIONS, self, lambda: session.wording),
            ListModel(JUNCTIONS, self),
        )
        self.ways = sorted_table(self.connections, "Connections within a day")
        self.places = sorted_table(self.junctions, "Places and where one can go on to", sorts_by=1)
        self.view = GroundView("Picture of the network; the tables beside it tell the same")
        self._lay_out()

    def set_grounds(self, grounds: Sequence[Relief], folder: Path) -> None:
        """The ground under the picture."""
        self.view.set_grounds(grounds, folder)

    def on_library_changed(self) -> None:
        self.stale = True

    def on_shown(self) -> None:
        """Somebody came to see: reckon where something has changed."""
        self.offer()
        stages = len(self.session.session.catalogue.items.get(Stage, ()))
        if self.stale and stages <= MOST_UNASKED:
            self.reckon()
        elif self.stale:
            self.says.setText(
                f"{stages} stages are followed one by one, which takes minutes; press Reckon again to begin."
            )

    def reckon(self) -> None:
        """Assess every stage for the party chosen, off the window's thread."""
        if self.work.busy:
            return
        self.stale = False
        inner = self.session.session
        catalogue, rules, as_of = inner.catalogue, inner.rules, inner.as_of
        party, bike, wording = self.party.currentData(), self.bike.currentData(), self.session.wording

        def follow(step: Step) -> Network:
            with speaking(wording):
                return network(catalogue, rules, party, bike, as_of, step)

        self.work.run(
            "Following every stage for the party",
            follow,
            self._on_found,
            self._on_refused,
        )

    def _on_found(self, found: Network) -> None:
        self.found = found
        self._show()
        self.view.fit([junction.at for junction in found.junctions])

    def _on_refused(self, says: str) -> None:
        self.stale = True
        self.says.setText(says)

    def _show(self) -> None:
        """What the switches let through; the places count every way."""
        ways = {way for way, box in ((Way.WALKING, self.foot), (Way.CYCLING, self.cycle)) if box.isChecked()}
        far = self.closed.isChecked()
        shown = [each for each in self.found.connections if each.way in ways and (each.open or far)]
        self.connections.show(list(shown))
        self.junctions.show(list(self.found.junctions))
        for table in (self.ways, self.places):
            table.resizeColumnsToContents()
        dead = [each.name for each in self.found.junctions if each.says == "dead end"]
        lost = [each.name for each in self.found.junctions if each.says not in ("", "dead end")]
        closed = sum(not each.open for each in self.found.connections)
        self.says.setText(
            f"{len(self.found.connections) - closed} connections within a day, "
            f"{closed} too much or not proved; "
            f"dead ends: {', '.join(dead) or 'none'}; no way on: {', '.join(lost) or 'none'}."
        )
        self.view.show_all(self._nodes(), self._links(shown))

    def _nodes(self) -> list[Node]:
        levels = {"": "", "dead end": "warn"}
        return [
            Node(each.id, each.name, each.at, levels.get(each.says, "stop")) for each in self.found.junctions
        ]

    def _links(self, shown: list[Connection]) -> list[Link]:
        """One line for both directions of a way: open where either is."""
        at = {each.id: each.at for each in self.found.junctions}
        drawn: dict[tuple[frozenset[str], Way], bool] = {}
        for each in shown:
            key = (frozenset((each.from_place, each.to_place)), each.way)
            drawn[key] = drawn.get(key, False) or each.open
        return [
            Link(at[min(ends)], at[max(ends)], way, is_open)
            for (ends, way), is_open in drawn.items()
            if len(ends) == 2 and all(place in at for place in ends)
        ]

    def offer(self) -> None:
        """Parties and bikes there are to choose from; what was chosen stays."""
        opened = self.session.opened
        party: Party | None = None if opened is None else opened.trip.party
        named = [] if opened is None or party is None else [(f"the party of {opened.trip.name}", party)]
        named += [("two adults", placeholder_party(2))]
        bikes: list[tuple[str, Any]] = [("own bikes", None)]
        bikes += [
            (bike.name, Ref(bike.id, bike.version)) for bike in self.session.session.catalogue.current(Bike)
        ]
        for box, choices in ((self.party, named), (self.bike, bikes)):
            held = box.currentText()
            box.blockSignals(True)
            box.clear()
            for text, data in choices:
                box.addItem(text, data)
            box.setCurrentIndex(max(box.findText(held), 0))
            box.blockSignals(False)

    def _on_node_picked(self, place_id: str) -> None:
        row = self.junctions.row_of(place_id)
        if row is not None:
            self.tables.setCurrentWidget(self.places)
            self.places.selectRow(row)

    def _on_place_chosen(self) -> None:
        index = self.places.currentIndex()
        if index.isValid():
            self.view.picked = self.junctions.id_at(index.row())
            self.view.update()

    def _open_way(self) -> None:
        row = self.connections.rows[self.ways.currentIndex().row()]
        self.wants.emit("stages", row.stage_id)

    def _lay_out(self) -> None:
        self.party.setAccessibleName("For whom")
        self.bike.setAccessibleName("On which bikes")
        top = QHBoxLayout()
        top.addWidget(label("For"))
        top.addWidget(self.party)
        top.addWidget(label("on"))
        top.addWidget(self.bike)
        top.addSpacing(10)
        for box in (self.foot, self.cycle, self.closed):
            top.addWidget(box)
        self.foot.setChecked(True)
        self.cycle.setChecked(True)
        top.addStretch(1)
        top.addWidget(push_button("Reckon again", self.reckon))
        self.tables = TabWidget()
        self.tables.setAccessibleName("The network as tables")
        self.tables.addTab(self.ways, "Connections")
        self.tables.addTab(self.places, "Places")
        across = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        across.addWidget(self.tables)
        across.addWidget(self.view)
        across.setSizes([640, 600])
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 6)
        column.addLayout(top)
        column.addWidget(across, 1)
        column.addWidget(self.says)
        for chooser in (self.party, self.bike):
            chooser.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            chooser.activated.connect(lambda _: self.reckon())
        for box in (self.foot, self.cycle, self.closed):
            box.toggled.connect(lambda _: self._show())
        self.view.node_picked.connect(self._on_node_picked)
        self.places.selectionModel().currentChanged.connect(lambda *_: self._on_place_chosen())
        self.ways.activated.connect(lambda _: self._open_way())
        self.places.activated.connect(
            lambda index: self.wants.emit("places", self.junctions.id_at(index.row()))
        )
