"""What stands beside a list: the chosen item's form and what can be done with it.

Saving adds a version. What is typed isn't lost by choosing something else: the person is asked first.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QMenu, QStackedLayout, QToolButton, QVBoxLayout, QWidget

from lacet.days.holidays import holidays_of
from lacet.service.keeper import ChangedMeanwhile, Keeper
from lacet.service.library.changes import again
from lacet.service.library.fields import DeskKind, Draft, Names, draft_of, read, slug
from lacet.service.library.looking_after import SERVICES
from lacet.service.retiring import consequences
from lacet.trip.errors import LacetError
from lacet.trip.library import Stage
from lacet.window.commands.listed import Where, command
from lacet.window.library import dialogs
from lacet.window.library.form import Form, section_title
from lacet.window.library.many import ManyFields
from lacet.window.library.pictures import PicturesRow
from lacet.window.map.ground_view import At
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession


class Editor(QWidget):
    """The form and its buttons.

    `said(sentence)`; `saved(ids)` after something was kept; `wants_near(kind, position)` and
    `wants_rates(id, texts of a new tariff)` when the person wants to go on to something else.
    """

    said = Signal(str)
    saved = Signal(list)
    wants_near = Signal(str, object)
    wants_rates = Signal(str, object)

    def __init__(
        self, session: QtSession, keeper: Keeper, kind: DeskKind, names: Names, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session, self.keeper, self.kind, self.names = session, keeper, kind, names
        self.item: Any = None
        self.many: list[str] = []
        self._expected = 0
        self._saving = False
        self.many_fields = ManyFields(session, keeper, kind, self)
        self.many_fields.said.connect(self.said)
        self.many_fields.saved.connect(self.saved)
        self._shown: Draft | None = None
        inner = session.session
        self.form = Form(kind, names, inner.as_of, holidays_of(inner.catalogue.region))
        self.form.set_currency(inner.catalogue.region.currency or "")
        self.title = section_title("")
        self.title.setAccessibleName("What is edited")
        self.facts = label(name="About it", quiet=True)
        self.facts.setWordWrap(True)
        self.pictures = PicturesRow(session, kind)
        self.pictures.changed.connect(self._on_changed)
        self.form.add_below(self.pictures)
        self._lay_out()
        self.form.changed.connect(self._on_changed)
        self.show_nothing()

    # --- what is shown

    def show_nothing(self) -> None:
        """Nothing is chosen."""
        self.item, self._shown, self.many = None, None, []
        self.choose_one.setText(f"Choose a {self.kind.one} to see and edit it.")
        self.set_many.hide()
        self._layers.setCurrentIndex(0)

    def show_many(self, ids: list[str]) -> None:
        """Several are chosen: one field of theirs can be set in one go."""
        self.show_nothing()
        self.many = ids
        self.choose_one.setText(f"{len(ids)} {self.kind.name} are chosen.")
        self.set_many.show()

    def edit(self, item_id: str, field: str = "") -> None:
        """Show an item as it is now, with the cursor in a field."""
        with self.session.session.project.reading() as unit:
            item = unit.library.latest(self.kind.makes, item_id)
            used = {name for _, name, _ in unit.library.used_by(self.kind.makes, item_id)}
        if item is None:
            self.show_nothing()
            return
        self._show(item, item.version)
        trips = f"used by {len(used)} trip{'' if len(used) == 1 else 's'}" if used else "used by no trip"
        self.facts.setText(f"version {item.version}, {trips}{', retired' if item.retired else ''}")
        self.retire.setText("Offer again" if item.retired else "Retire…")
        if field:
            self.form.go_to(field)

    def begin(self, texts: Mapping[str, str] | None = None, field: str = "name") -> None:
        """A new item of which nothing is known yet, or only these texts."""
        self._show(None, 0)
        if texts:
            empty = self.form.draft()
            self.form.show_draft(Draft({**empty.texts, **texts}, empty.rows))
            self._on_changed()
        self.title.setText(f"A new {self.kind.one}")
        self.facts.setText("Fields with * are needed; all else may stay empty until somebody knows.")
        self.form.go_to(field)

    def tell_if_behind(self) -> None:
        """Say that somebody else saved what is being typed into; it stays as it was typed."""
        newest = self.session.session.catalogue.latest(self.kind.makes, self.item.id)
        if newest is not None and newest.version != self._expected:
            says = f"{newest.name} was saved elsewhere meanwhile, as version {newest.version}."
            self.facts.setText(f"{says} What you typed is still here; Put back shows theirs.")
            self.said.emit(says)

    @property
    def edited(self) -> bool:
        """Whether something was typed that isn't saved."""
        return (
            self._shown is not None
            and not self._saving
            and (self.form.draft() != self._shown or self.pictures.ids != self._picture_ids())
        )

    def may_leave(self) -> bool:
        """Whether something else may be shown now; asks when something isn't saved."""
        if not self.edited:
            return True
        name = self.item.name if self.item is not None else f"The new {self.kind.one}"
        chosen = dialogs.LeavingDialog.ask(name, self)
        if chosen == dialogs.SAVE:
            return self.save()
        if chosen == dialogs.DROP:
            self.put_back()
        return chosen == dialogs.DROP

    # --- what can be done

    def save(self) -> bool:
        """Keep what the form says as the next version; tells what is wrong beside its field."""
        if self._shown is None or not self.edited:
            return True
        self.form.settle()
        draft = self.form.draft()
        taken = self.session.session.catalogue.items.get(self.kind.makes, {})
        item_id = self.item.id if self.item is not None else slug(draft.texts["name"], taken)
        made, troubles = read(self.kind, draft, self.item, item_id, self.names)
        self.form.tell_troubles(troubles)
        if troubles:
            first = f"{len(troubles)} things are" if len(troubles) > 1 else "One thing is"
            self.said.emit(f"{first} still wrong, so nothing was saved; see the fields marked.")
            return False
        if hasattr(made, "picture_ids"):
            made = replace(made, picture_ids=self.pictures.ids)
        namesakes = [
            other
            for other, name in self.names.get(self.kind.name, {}).items()
            if name.casefold() == made.name.casefold() and other != item_id
        ]
        kept = self._keep([made], f"{self.kind.one} {made.name}", {(type(made), item_id): self._expected})
        if kept and namesakes:
            self.said.emit(f"Kept, but there is another {self.kind.one} called {made.name}; is it the same?")
        return kept

    def put_back(self) -> None:
        """Show the item as it is kept."""
        if self.item is None:
            self.show_nothing()
        else:
            self.edit(self.item.id)

    def retire_or_offer(self) -> None:
        """Say what retiring would change, then do it; or offer the item again."""
        if self.item is None or not self.may_leave():
            return
        item = self.item
        if not item.retired:
            told = consequences(self.session.session.project, item) or ("Nothing uses it.",)
            says = f"{item.name} will be offered no more. It stays in the library, and can be offered again."
            if not dialogs.SentencesDialog.ask(f"Retire {item.name}?", "Retire", says, told, self):
                return
        says = f"{'offer' if item.retired else 'retire'} {item.name}"
        self._keep([replace(item, retired=not item.retired)], says, {})

    def show_history(self) -> None:
        """Every version; an old one can be taken again."""
        if self.item is None or not self.may_leave():
            return
        with self.session.session.project.reading() as unit:
            versions = unit.library.versions(self.kind.makes, self.item.id)
        old = dialogs.HistoryDialog.ask(self.kind, versions, self)
        if old is not None:
            self._keep([again(old, versions[-1])], f"version {old.version} of {old.name} again", {})

    def set_field_on_many(self) -> None:
        """One field on all chosen items, seen before it is done."""
        self.many_fields.ask(self.many, self.names)

    def open_stage_desk(self) -> None:
        """Map and profile of a stage, to cut, join and draw; a room of its own."""
        if isinstance(self.item, Stage) and self.may_leave():
            self.session.stage_desk_asked.emit(self.item.id, self.window())

    def show_rates(self) -> None:
        """What it costs: its tariffs stand on a page of their own."""
        if self.item is not None and self.may_leave():
            service = SERVICES[self.kind.one].value
            texts = {"name": self.item.name, "service": service, "subject": self.item.id}
            self.wants_rates.emit(self.item.id, texts)

    def show_near(self, name: str) -> None:
        """What lies within 3 km of it."""
        at = self._position()
        if at is not None and self.may_leave():
            self.wants_near.emit(name, at)

    def _position(self) -> At | None:
        if isinstance(self.item, Stage):
            line = _line_of(self.session, self.item)
            return line[0] if line else None
        return self.form.position()

    def give_newer(self) -> None:
        """Let trips take the newest version, those the person picks."""
        behind = self.keeper.behind(self.item)
        dialog = dialogs.NewerDialog(self.item, behind, self)
        if not dialog.said_yes():
            return
        for trip in dialog.answer():
            try:
                self.keeper.take_newer(trip.trip_id, type(self.item), self.item.id, self.item.version)
            except LacetError as refusal:
                self.said.emit(str(refusal))
                return
        self.said.emit(f"Given to {len(dialog.answer())} trips, as an edit each of them can undo.")
        self._offer_newer()

    # --- within

    def _show(self, item: Any, expected: int) -> None:
        self.item, self._expected, self.many = item, expected, []
        draft = draft_of(self.kind, item)
        self.title.setText("" if item is None else item.name)
        self.form.show_draft(draft)
        self.form.tell_troubles(())
        self.pictures.show_ids(self._picture_ids())
        # As the form gives it back: what it can't show differently isn't an edit.
        self._shown = self.form.draft()
        self._layers.setCurrentIndex(1)
        for button in (self.retire, self.history):
            button.setVisible(item is not None)
        self.rates.setVisible(item is not None and self.kind.one in SERVICES)
        self.near.setVisible(self._position() is not None)
        self.stage_desk.setVisible(isinstance(item, Stage))
        self._show_line(item)
        self._offer_newer()
        self._on_changed()

    def _show_line(self, item: Any) -> None:
        """Where a stage runs."""
        if not isinstance(item, Stage) or self.form.map is None:
            return
        at = _line_of(self.session, item)
        self.form.map.line = at
        self.form.map.fit(at or [node.at for node in self.form.map.nodes])

    def _picture_ids(self) -> tuple[str, ...]:
        found: tuple[str, ...] = getattr(self.item, "picture_ids", ())
        return found

    def _keep(self, items: list[Any], says: str, expected: dict[tuple[type, str], int]) -> bool:
        # The library tells everybody that it has changed before this returns; that is no reason to ask.
        self._saving = True
        try:
            kept = self.keeper.save(items, says, expected)
        except ChangedMeanwhile as refusal:
            # Seen and saved again, it goes on top of theirs.
            with self.session.session.project.reading() as unit:
                theirs = unit.library.latest(self.kind.makes, items[0].id)
            self._expected = 0 if theirs is None else theirs.version
            self.said.emit(str(refusal))
            return False
        except LacetError as refusal:
            self.said.emit(str(refusal))
            return False
        finally:
            self._saving = False
        self._shown = None
        self.saved.emit([item.id for item in kept])
        self.said.emit(f"Kept: {says}")
        return True

    def _offer_newer(self) -> None:
        behind = self.keeper.behind(self.item) if self.item is not None else ()
        self.newer.setVisible(bool(behind))
        word = "trip has" if len(behind) == 1 else "trips have"
        self.newer.setText(f"{len(behind)} {word} an older version…")

    def _on_changed(self) -> None:
        edited = self.edited
        self.keep.setEnabled(edited)
        self.back.setEnabled(edited)

    def _lay_out(self) -> None:
        self.choose_one = label(name="What is chosen", quiet=True)
        self.set_many = push_button("Set one field…", self.set_field_on_many, "The same on all of them")
        empty = QWidget()
        column = QVBoxLayout(empty)
        column.addStretch(1)
        for widget in (self.choose_one, self.set_many):
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(widget)
            row.addStretch(1)
            column.addLayout(row)
        column.addStretch(2)
        self._layers = QStackedLayout(self)
        self._layers.addWidget(empty)
        self._layers.addWidget(self._with_form())

    def _with_form(self) -> QWidget:
        def button(text: str, action: Callable[[], object], tip: str = "") -> Any:
            return push_button(text, action, tip)

        self.newer = button("", self.give_newer, "Let trips take the newest version")
        self.stage_desk = button(
            "Stage desk…", self.open_stage_desk, "Cut, join and draw it on map and profile"
        )
        self.history = button("History…", self.show_history, "Every version, and taking an old one again")
        self.retire = button("Retire…", self.retire_or_offer)
        self.rates = button("Rates…", self.show_rates, "What it costs, on the page of tariffs")
        self.near = _near_button(self.show_near)
        self.back = button("Put back", self.put_back, "As it is kept (Esc)")
        self.keep = push_button("Save", self.save, command("save", Where.LIBRARY).tip, primary=True)
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.newer)
        foot = QHBoxLayout()
        for widget in (self.retire, self.history, self.rates, self.near, self.stage_desk):
            foot.addWidget(widget)
        foot.addStretch(1)
        foot.addWidget(self.back)
        foot.addWidget(self.keep)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(4, 6, 8, 8)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.facts)
        column.addWidget(self.form, 1)
        column.addLayout(foot)
        return whole


def _near_button(show: Callable[[str], None]) -> QToolButton:
    made = QToolButton()
    made.setText("Near it ▾")
    made.setToolTip("What lies within 3 km of it")
    made.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    made.setStyleSheet("QToolButton::menu-indicator { image: none; }")
    menu = QMenu(made)
    for name in ("places", "stages", "lodgings", "restaurants"):
        menu.addAction(name.capitalize()).triggered.connect(lambda _=False, name=name: show(name))
    made.setMenu(menu)
    return made


def _line_of(session: QtSession, stage: Stage) -> tuple[At, ...]:
    tracks = session.session.catalogue.tracks
    if stage.track_id not in tracks:
        return ()
    line = tracks[stage.track_id]
    return tuple(zip(map(float, line.latitude_deg), map(float, line.longitude_deg), strict=True))
