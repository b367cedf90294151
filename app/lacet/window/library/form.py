"""The form of one kind: a field for everything that can be known, made from the kind's description once."""

from collections.abc import Mapping, Sequence
from datetime import date

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QFormLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from lacet.days.holidays import Holidays
from lacet.intake.columns import Column
from lacet.service.library.fields import SUBJECTS, DeskKind, Draft, Names, Trouble, label_of
from lacet.service.library.rows import position_in
from lacet.trip.words import Way
from lacet.window.library.field_editors import (
    Choice,
    ChoiceEditor,
    FieldEditor,
    LineEditor,
    choices_of,
    editor_for,
)
from lacet.window.library.part_editor import PartEditor
from lacet.window.map.ground_view import At, GroundView
from lacet.window.parts import label

LABEL_PX = 168
MAP_PX = 190
DEGREES = 5


class Form(QScrollArea):
    """`changed` when the person has changed anything."""

    changed = Signal()

    def __init__(
        self, kind: DeskKind, names: Names, today: date, holidays: Holidays, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.kind = kind
        self.names = names
        self.fields: dict[str, FieldEditor] = {}
        self.parts: dict[str, PartEditor] = {}
        self.map: GroundView | None = None
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        # The fields take the focus; the area around them needs none.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(12, 4, 14, 12)
        self._column.setSpacing(6)
        for title, columns in kind.sections:
            self._add_section(title, columns, today, holidays)
            if any(column.name == "latitude" for column in columns):
                self._add_map(places_mark=True)
        if kind.name == "stages":
            self._add_map(places_mark=False)
        for part in kind.parts:
            made = PartEditor(part, names)
            made.changed.connect(self.changed)
            self.parts[part.field] = made
            self._column.addWidget(made)
        self._column.addStretch(1)
        self.setWidget(inner)
        if "place" in self.fields:
            self.fields["place"].changed.connect(self._look_at_place)
        if "ways" in self.fields:
            self.fields["ways"].changed.connect(self._offer_ways)
        if "service" in self.fields:
            self.fields["service"].changed.connect(self._offer_subjects)

    def add_below(self, widget: QWidget) -> None:
        """Put something more at the end of the form."""
        self._column.insertWidget(self._column.count() - 1, widget)

    def draft(self) -> Draft:
        """What the form holds."""
        texts = {name: editor.text() for name, editor in self.fields.items()}
        return Draft(texts, {name: editor.rows() for name, editor in self.parts.items()})

    def set_currency(self, currency: str) -> None:
        """What amounts are in unless somebody says otherwise (ISO 4217)."""
        for part in self.parts.values():
            part.model.currency = currency

    def show_draft(self, draft: Draft) -> None:
        """Fill the form; nobody has changed anything then."""
        for name, editor in self.fields.items():
            editor.blockSignals(True)
            editor.set_text(draft.texts.get(name, ""))
            editor.blockSignals(False)
        for name, part in self.parts.items():
            part.blockSignals(True)
            part.set_rows(draft.rows.get(name, ()))
            part.blockSignals(False)
        self._offer_subjects()
        self._offer_ways()
        self._mark_position()

    def offer(self, names: Names) -> None:
        """Other things to point at, after the library has changed."""
        self.names = names
        for column in self.kind.columns:
            editor = self.fields[column.name]
            if column.refers and isinstance(editor, ChoiceEditor):
                editor.set_choices(choices_of(self.kind.sheet, column, names))
        for part in self.parts.values():
            part.offer(names)
        self._offer_subjects()

    def tell_troubles(self, troubles: Sequence[Trouble]) -> None:
        """Say what is wrong beside each field, and go to the first of them."""
        for name, editor in self.fields.items():
            own = [each.says for each in troubles if each.field == name]
            editor.tell_trouble(own[0] if own else "")
        for name, part in self.parts.items():
            part.tell_troubles([each for each in troubles if each.field == name])
        if troubles:
            self.go_to(troubles[0].field)

    def go_to(self, field: str) -> None:
        """Bring a field or a table into view and put the cursor there."""
        target: QWidget | None = self.fields.get(field) or self.parts.get(field)
        if target is None:
            target = next(iter(self.fields.values()))
        # Shown first: a form that was just filled has not been laid out yet.
        QTimer.singleShot(0, target, lambda: self.ensureWidgetVisible(target, 0, 60))
        focus = target.table if isinstance(target, PartEditor) else target
        focus.setFocus(Qt.FocusReason.OtherFocusReason)

    def position(self) -> At | None:
        """Where the item lies, as far as the form says so."""
        texts = [self.fields[name].text() for name in ("latitude", "longitude") if name in self.fields]
        return position_in(" ".join(texts)) if len(texts) == 2 else None

    def _add_section(self, title: str, columns: tuple[Column, ...], today: date, holidays: Holidays) -> None:
        if title:
            self._column.addWidget(section_title(title))
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setVerticalSpacing(5)
        for column in columns:
            editor = editor_for(self.kind.sheet, column, self.names, today, holidays)
            editor.changed.connect(self.changed)
            self.fields[column.name] = editor
            says = label(label_of(column) + (" *" if column.required else ""))
            says.setFixedWidth(LABEL_PX)
            says.setWordWrap(True)
            says.setBuddy(editor.input)
            form.addRow(says, editor)
            if column.name in ("latitude", "longitude"):
                editor.changed.connect(self._on_position_typed)
                assert isinstance(editor, LineEditor)
                editor.line.editingFinished.connect(self.share_position)
        self._column.addLayout(form)

    def _add_map(self, *, places_mark: bool) -> None:
        name = f"Map of the {self.kind.one}"
        self.map = GroundView(name, places_mark=places_mark)
        self.map.setFixedHeight(MAP_PX)
        if places_mark:
            self.map.setToolTip(
                "Click to place it. Arrow keys move the mark, with Shift further; + and – zoom."
            )
            self.map.placed.connect(self._on_placed)
        self._column.addWidget(self.map)

    def _on_placed(self, latitude: float, longitude: float) -> None:
        self.fields["latitude"].set_text(f"{latitude:.{DEGREES}f}")
        self.fields["longitude"].set_text(f"{longitude:.{DEGREES}f}")
        self.changed.emit()

    def settle(self) -> None:
        """Bring what was typed to its final form, before it is read."""
        for editor in self.fields.values():
            editor.settle()
        self.share_position()

    def share_position(self) -> None:
        """Both numbers in one field are shared out, once they are typed or pasted whole."""
        for name in ("latitude", "longitude"):
            both = position_in(self.fields[name].text()) if name in self.fields else None
            if both is not None:
                self.fields["latitude"].set_text(repr(both[0]))
                self.fields["longitude"].set_text(repr(both[1]))
                self.changed.emit()

    def _on_position_typed(self) -> None:
        both = [position_in(self.fields[name].text()) for name in ("latitude", "longitude")]
        for name, found in zip(("latitude", "longitude"), both, strict=True):
            if found is not None:
                self.fields[name].tell_trouble("")
        if self.map is not None:
            self.map.set_mark(next((found for found in both if found is not None), self.position()))

    def _mark_position(self) -> None:
        if self.map is None or not self.map.places_mark:
            return
        at = self.position()
        self.map.set_mark(at)
        if at is not None:
            self.map.zoom_to(at, 3_000.0)
        elif self.map.nodes:
            self.map.fit([node.at for node in self.map.nodes])

    def _offer_ways(self) -> None:
        """What is underfoot can be told of the ways that a stage is for."""
        ways = self.fields["ways"].text() if "ways" in self.fields else ""
        for name, editor in self.fields.items():
            way = name.rpartition("_")[2]
            if way in tuple(Way):
                editor.setEnabled(ways in (way, "both"))

    def _look_at_place(self) -> None:
        """Until somebody has placed it, the map shows the surroundings of its place."""
        if self.map is not None and self.position() is None:
            chosen = self.fields["place"].text()
            for node in self.map.nodes:
                if node.id == chosen:
                    self.map.zoom_to(node.at, 3_000.0)

    def _offer_subjects(self) -> None:
        """A tariff is for a house, a kitchen, a carrier or a bike, as its service says."""
        editor = self.fields.get("subject")
        if not isinstance(editor, ChoiceEditor):
            return
        kinds = SUBJECTS.get(self.fields["service"].text(), ())
        offered: Mapping[str, str] = {
            item_id: name for kind in kinds for item_id, name in self.names.get(kind, {}).items()
        }
        choices: list[Choice] = sorted(offered.items(), key=lambda each: each[1].casefold())
        editor.set_choices(choices)


def section_title(text: str) -> QLabel:
    """A heading within a form."""
    made = label(text)
    font = QFont(made.font())
    font.setWeight(QFont.Weight.DemiBold)
    made.setFont(font)
    made.setContentsMargins(0, 8, 0, 0)
    return made
