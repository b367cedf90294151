"""What a person can ask of a card or a day, apart from moving it: menus and their dialogs.

One place turns each wish into one edit; dialogs only ask, and are imported when they do.
"""

from collections.abc import Callable
from datetime import time
from functools import partial

from PySide6.QtCore import QObject, QPoint
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from lacet.figures.leg import leg_profile
from lacet.trip import edits
from lacet.trip.finding import Finding
from lacet.trip.library import Bike, Ref, Stage
from lacet.trip.trip import Day, Hire, Item, Leg, Overrule, Rest, Trip, Variant
from lacet.trip.words import Way
from lacet.window.qt_session import QtSession

VariantEdit = Callable[[Trip, str], Trip]


class Gestures(QObject):
    """Menus of the sheet."""

    def __init__(self, session: QtSession, window: QWidget) -> None:
        super().__init__(window)
        self.session = session
        self.window = window

    # --- menus

    def card_menu(self, item_id: str, at: QPoint) -> None:
        """What can be done with a card."""
        found = self._item(item_id)
        if found is None:
            return
        menu = QMenu(self.window)
        if isinstance(found, Leg):
            _add(menu, "Turn round", lambda: self.turn_round(item_id))
            _add(menu, "Rules beside each other…", lambda: self.show_rules(found))
            if found.way is Way.CYCLING:
                self._bikes_menu(menu, found)
        _add(menu, "Who takes it…", lambda: self.ask_who(found))
        _add(menu, "Take it out", lambda: self.take_out(item_id))
        menu.popup(at)

    def day_menu(self, day: int, at: QPoint) -> None:
        """What can be done with a day."""
        menu = QMenu(self.window)
        _add(menu, "Edit the day…", lambda: self.edit_day(day))
        _add(menu, "Rest day after it", lambda: self.add_rest_day(day + 1))
        _add(menu, "Take the day out", lambda: self.take_out_day(day))
        menu.popup(at)

    # --- cards

    def turn_round(self, item_id: str) -> None:
        """The same stage the other way."""
        self._apply(lambda trip, variant: edits.reverse_leg(trip, variant, item_id), "turn round")

    def take_out(self, item_id: str) -> None:
        self._apply(lambda trip, variant: edits.remove_item(trip, variant, item_id), "take the card out")

    def ask_who(self, item: Item) -> None:
        """Part the day, or bring everybody together again."""
        from lacet.window.dialogs.who import WhoDialog

        opened = self.session.opened
        if opened is None:
            return
        answer = WhoDialog.ask(opened.trip.party, item.travellers, self.window)
        if answer is not None:
            (chosen,) = answer
            self._apply(
                lambda trip, variant: edits.set_item_travellers(trip, variant, item.id, chosen),
                "who takes it",
            )

    def show_rules(self, leg: Leg) -> None:
        """All published rules for this leg."""
        from lacet.effort.comparison import rules_beside
        from lacet.window.dialogs.rules import RulesDialog

        catalogue = self.session.session.catalogue
        stage = catalogue.get(Stage, leg.stage)
        if stage is None or stage.track_id not in catalogue.tracks:
            self.session.refused.emit("The library lacks this stage's track, so nothing can be compared.")
            return
        line = leg_profile(catalogue.tracks[stage.track_id], leg.backward, leg.cut_from_m, leg.cut_to_m)
        if line is None:
            self.session.refused.emit("Nothing of this stage is left within the cut; cut it anew.")
            return
        rows = rules_beside(line.distance_m, line.height_m, line.ascent_m, line.descent_m)
        RulesDialog(stage.name, rows, self.session.wording, self.window).show()

    def _bikes_menu(self, menu: QMenu, leg: Leg) -> None:
        """Every kind of bike there is, for those who ride this leg; or their own."""
        bikes = menu.addMenu("Bikes from this day on")
        for bike in sorted(self.session.session.catalogue.current(Bike), key=lambda bike: bike.name):
            _add(bikes, bike.name, partial(self.hire, leg, Ref(bike.id, bike.version)))
        _add(bikes, "They bring their own", partial(self.hire, leg, None))

    def hire(self, leg: Leg, bike: Ref | None) -> None:
        """A bike for everybody who rides the leg, from that day to the end of the trip; None = their own."""
        opened = self.session.opened
        if opened is None:
            return
        everybody = tuple(guest.id for guest in opened.trip.party.travellers)
        number = next(number for number, day in enumerate(opened.variant.days) if leg in day.items)
        # From the first day on is from the beginning, whichever day that becomes.
        first = opened.variant.days[number].id if number else None

        def hired(trip: Trip, variant: str) -> Trip:
            for guest in leg.travellers or everybody:
                trip = edits.set_hire(trip, variant, Hire(traveller=guest, bike=bike, from_day=first))
            return trip

        self._apply(hired, "hire bikes" if bike else "they bring their own bikes")

    # --- days

    def edit_day(self, day: int) -> None:
        """Hour, stops, briefing, note, other ways."""
        from lacet.service.other_ways import WaysDesk
        from lacet.window.dialogs.day import DayDialog

        planned = self._day(day)
        if planned is None:
            return
        minutes = self.session.session.rules.departs_minute
        desk = WaysDesk(self.session.session, day)
        answer = DayDialog.ask(desk, time(minutes // 60, minutes % 60), self.window)
        if answer is not None:
            self._apply(lambda trip, variant: answer.edit(trip, variant, planned.id), f"edit day {day + 1}")

    def add_rest_day(self, at: int) -> None:
        """A rest day in the same house, where the party sleeps in one."""
        opened = self.session.opened
        nights = opened.variant.days[at - 1].nights if opened is not None and at > 0 else ()
        resting = Day(id="", items=(Rest(id=""),), nights=nights)
        self._apply(lambda trip, variant: edits.insert_day(trip, variant, at, resting), "rest day")

    def take_out_day(self, day: int) -> None:
        planned = self._day(day)
        if planned is not None:
            says = f"take out day {day + 1}"
            self._apply(lambda trip, variant: edits.remove_day(trip, variant, planned.id), says)

    # --- findings

    def let_stand(self, finding: Finding) -> None:
        """A named person lets a finding stand."""
        from lacet.window.dialogs.overrule import OverruleDialog

        office = self.session.session.catalogue.office
        answer = OverruleDialog.ask(finding, office.consultant, self.window)
        if answer is None:
            return
        name, reason = answer
        decision = Overrule(
            check=finding.check,
            code=finding.code,
            subject=finding.subject,
            figure=finding.figure,
            name=name,
            reason=reason,
            decided_on=self.session.session.as_of,
        )
        self._apply(lambda trip, variant: edits.overrule(trip, variant, decision), "let it stand")

    # --- within

    def _apply(self, edit: VariantEdit, says: str) -> None:
        opened = self.session.opened
        if opened is not None:
            self.session.apply(lambda trip: edit(trip, opened.variant_id), says)

    def _variant(self) -> Variant | None:
        opened = self.session.opened
        return None if opened is None else opened.variant

    def _item(self, item_id: str) -> Item | None:
        variant = self._variant()
        return next((item for item in variant.items() if item.id == item_id), None) if variant else None

    def _day(self, day: int) -> Day | None:
        variant = self._variant()
        return variant.days[day] if variant is not None and 0 <= day < len(variant.days) else None


def _add(menu: QMenu, text: str, action: Callable[[], None]) -> None:
    entry = QAction(text, menu)
    entry.triggered.connect(lambda _=False: action())
    menu.addAction(entry)
