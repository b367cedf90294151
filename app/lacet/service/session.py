"""The open trip: current value, its history, its assessment, what is selected and what is previewed.

Every gesture becomes an edit here: applied, saved, assessed, then told to whoever listens. Views read from
here and never from each other. Nothing is sent when nothing changed.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from secrets import token_hex

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.language import Language, in_english
from lacet.service.outbox import Back, Booked, ChangedMeanwhile, Outbox, Saved, Unsaved, Waiting
from lacet.service.saver import AtOnce, Saver
from lacet.service.shown import Opened, Selection, Shown, still_there
from lacet.service.who import who
from lacet.settle import settle_one
from lacet.signals import Signal
from lacet.store import BookingStep, FileBusy, Position, Project, Rescued, UnitOfWork, as_kept
from lacet.trip import bookings as asked
from lacet.trip.bookings import NO_BOOKINGS, Act, BookedMeanwhile, Bookings, as_they_are
from lacet.trip.catalogue import Catalogue, Office
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding, ProvedFix
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import forget_kept
from lacet.trip.merge import lay_beside
from lacet.trip.region import Region
from lacet.trip.suppliers import supplier_name
from lacet.trip.trip import Trip
from lacet.wording import ENGLISH, Wording, speaking

Edit = Callable[[Trip], Trip]
# What a person calls fields of a trip.
_FIELDS = {
    "start": "first day",
    "accepted": "accepted variant",
    "proposed": "proposed variant",
    "fixed_through": "days that are fixed",
}


class NothingOpen(LacetError):
    """A gesture that needs an open trip came without one."""


class Session:
    """One project and at most one open trip of it.

    Signals: `changed` (the new `Opened`), `previewed` (a `Shown` while something is dragged or a fix is
    hovered, None when that ends), `selected`, `library_changed` (the new catalogue), `saved` (what was done
    last, when the file holds everything), `failed` (why something could not be saved that was on its way),
    `others_wrote` when another window or program has changed the file.
    """

    def __init__(
        self, project: Project, today: Callable[[], date] = date.today, saver: Saver | None = None,
        by: str | None = None,
    ) -> None:  # fmt: skip
        self.project = project
        self._today = today
        self._by = who() if by is None else by
        self.catalogue: Catalogue = project.catalogue()
        self.rules: HouseRules = project.house_rules()
        self.commitments: Commitments = NO_COMMITMENTS
        self.bookings: Bookings = NO_BOOKINGS
        self.wording: Wording = ENGLISH
        self.opened: Opened | None = None
        self._loaded: dict[str, Trip] = {}
        self._booked: dict[str, Bookings] = {}
        self._outbox = Outbox(project, saver or AtOnce(), lambda: self.as_of, self._on_saved, self._on_failed)
        self.selection = Selection()
        self.preview: Shown | None = None
        self._previewed_by: object = None
        self._behind = False
        self.changed: Signal[Opened] = Signal()
        self.previewed: Signal[Shown | None] = Signal()
        self.selected: Signal[Selection] = Signal()
        self.library_changed: Signal[Catalogue] = Signal()
        self.saved: Signal[Waiting] = Signal()
        self.failed: Signal[LacetError] = Signal()
        self.others_wrote: Signal[None] = Signal()

    @property
    def as_of(self) -> date:
        return self._today()

    def inputs(self, trip: Trip, variant_id: str) -> Inputs:
        """What a variant is assessed from here and now."""
        return Inputs(
            trip, variant_id, self.catalogue, self.rules, self.commitments, self.bookings, as_of=self.as_of
        )

    # --- opening

    def open_trip(self, trip_id: str, variant_id: str | None = None) -> None:
        """Show a trip: the variant named, else the proposed, else the first."""
        self.finish_saving()
        with self.project.reading() as unit:
            trip, revision = unit.trips.load(trip_id)
            position = self._looked_up(unit, trip_id)
        self.selection = Selection(day=0 if trip.variants and trip.variants[0].days else None)
        self._show_kept(trip, revision, position, variant_id or trip.proposed or trip.variants[0].id)

    def add_trip(self, trip: Trip, says: str = "new trip") -> None:
        """Keep a new trip and show it."""
        with self.project.unit_of_work() as unit:
            unit.trips.save(trip, 0, says)
            unit.commit()
        self.open_trip(trip.id)

    def show_variant(self, variant_id: str) -> None:
        """Show another variant of the open trip."""
        here = self.need_open()
        if variant_id != here.variant_id:
            self._show(here.trip, here.revision, here.position, variant_id)

    def keep_rules(self, rules: HouseRules) -> None:
        """Keep the office's rules and assess by them."""
        with self.project.unit_of_work() as unit:
            unit.settings.save(rules)
            unit.commit()
        self.reload_library()

    def keep_office(self, office: Office) -> None:
        """Keep how the operator is named."""
        with self.project.unit_of_work() as unit:
            unit.settings.save(office)
            unit.commit()
        self.reload_library()

    def keep_region(self, region: Region) -> None:
        """Keep where the library is and how it reckons."""
        with self.project.unit_of_work() as unit:
            unit.settings.save(region)
            unit.commit()
        self.reload_library()

    @property
    def speech(self) -> Language:
        """In which texts are said to the person."""
        return in_english(self.wording)

    def speak(self, wording: Wording) -> None:
        """Say all figures so from now on, those within findings too."""
        if wording == self.wording:
            return
        self.wording = wording
        if self.opened is not None:
            here = self.opened
            self._show(here.trip, here.revision, here.position, here.variant_id)

    def reload_library(self) -> None:
        """Take the library as it is now, after it was edited."""
        self.catalogue = self.project.catalogue()
        self.rules = self.project.house_rules()
        self.library_changed.send(self.catalogue)
        if self.opened is not None:
            here = self.opened
            self._show(here.trip, here.revision, here.position, here.variant_id)

    def follow(self) -> tuple[str, ...]:
        """Take what another window or program has changed in the file; names what of it is shown here.

        Cheap while nobody has changed anything. What can't be read at the moment is taken the next time.

        Raises
        ------
        LacetError
            When what they left can't be read, or the open trip is no longer there.
        """
        if self._outbox or not (self.project.changed_elsewhere() or self._behind):
            # What is on its way is put on top of theirs when it arrives.
            return ()
        self.others_wrote.send(None)
        self._behind = False
        # Of the trips seen before, others may have made something newer.
        self._loaded.clear()
        self._booked.clear()
        try:
            return self._take_changes()
        except FileBusy:
            self._behind = True
            return ()

    def _take_changes(self) -> tuple[str, ...]:
        library, rules = self.catalogue, self.rules
        self.catalogue, self.rules = self.project.catalogue(), self.project.house_rules()
        told: tuple[str, ...] = ()
        if self.catalogue is not library or self.rules != rules:
            told = ("the library",)
            self.library_changed.send(self.catalogue)
        return told if self.opened is None else self._take_trip(self.opened, told)

    def _take_trip(self, here: Opened, told: tuple[str, ...]) -> tuple[str, ...]:
        held = self.commitments, self.bookings
        with self.project.reading() as unit:
            trip, revision = unit.trips.load(here.trip.id)
            position = self._looked_up(unit, trip.id)
        booked = (self.commitments, self.bookings) != held
        told += ("this trip",) * (revision != here.revision) + ("bookings",) * booked
        if told:
            self._show_kept(trip, revision, position, still_there(trip, here.variant_id))
        return told

    # --- on the way to the file

    @property
    def has_unsaved(self) -> bool:
        """Whether there are edits that are in memory alone."""
        return bool(self._outbox)

    @property
    def failure(self) -> LacetError | None:
        """Why the edits in memory can't be saved at the moment."""
        return self._outbox.failure

    def try_saving_again(self) -> None:
        """Send what failed on its way once more; `saved` or `failed` tells what came of it."""
        self._outbox.retry()

    def finish_saving(self) -> None:
        """Wait until the file holds everything that was done.

        Raises
        ------
        LacetError
            When it can't be saved, or somebody else changed the same part; it then stays in memory.
        """
        self._outbox.finish()

    def rescue(self, target: Path) -> Rescued:
        """Save what can be reached of a lost file in a new one, with every trip seen here as it is here.

        Raises
        ------
        StoreError
        """
        settings = (self.catalogue.region, self.catalogue.office, self.rules)
        return self.project.rescue(target, tuple(self._loaded.values()), settings, self._booked)

    def close(self) -> None:
        """Let go of the file, when what is on its way has arrived or failed."""
        self._outbox.saver.close()
        self.project.close()
        # Another project has other objects: what was worked out of this one's is of no more use.
        forget_kept()

    def _on_saved(self, what: Waiting, done: Saved) -> None:
        if not self._outbox.waits(done.trip.id):
            self._take_saved(done)
        elif done.renamed and self.opened is not None and self.opened.trip.id == done.trip.id:
            # What is done next is done to them as they are called by now.
            here, self.bookings = self.opened, asked.renamed(self.bookings, done.renamed)
            self._show(here.trip, here.revision, here.position, here.variant_id)
        if not self._outbox:
            self.saved.send(what)

    def _take_saved(self, done: Saved) -> None:
        """The file holds the trip: shown anew only where it isn't what is seen already."""
        here = self.opened
        if here is None or here.trip.id != done.trip.id:
            self._loaded[done.trip.id] = done.trip
        elif here.trip == done.trip and self._holds(done.commitments, done.bookings):
            self.opened = replace(here, revision=done.revision, position=done.position)
        elif self.preview is not None:
            # Never under a drag: the next look at the file shows it.
            self._behind = True
        else:
            self._hold(done.commitments, done.bookings)
            self._show(done.trip, done.revision, done.position, still_there(done.trip, here.variant_id))

    # --- edits

    def apply(self, edit: Edit, says: str) -> bool:
        """Make one edit: show it at once and send it on its way to the file. Returns whether it is another.

        Where somebody else saved the trip meanwhile and changed other parts of it, both changes stay.

        Raises
        ------
        LacetError
            When the edit has no meaning (`EditRefused`), no file could keep it, or the project may only be
            read: nothing has changed then. When it can't be saved now, or somebody else changed the same
            part (`StaleRevision`): it is made, in memory alone.
        """
        if self._outbox.goes_back:
            self.finish_saving()
        here = self.need_open()
        trip = edit(here.trip)
        self.stop_preview()
        if trip != here.trip:
            self.project.refuse_if_read_only()
            trip = as_kept(trip)
        if trip == here.trip:
            return False
        position = here.position._replace(undo_says=says, redo_says=None)
        self._show(trip, here.revision, position, still_there(trip, here.variant_id))
        self._outbox.add(Unsaved(here.trip, trip, says))
        return True

    # --- bookings

    def book(self, act: Act, says: str) -> bool:
        """Write down what was asked of a supplier, or what became of it. Returns whether it is another.

        It isn't part of the trip's history: undo leaves it, and taking it back is an act like this one.

        Raises
        ------
        LacetError
            When the act has no meaning or the project may only be read: nothing has changed then. When it
            can't be saved now: it waits in memory.
        BookedMeanwhile
            When somebody else did something with the same; theirs is shown.
        """
        here = self.need_open()
        before, after = here.bookings, act(here.bookings)
        self.stop_preview()
        if after == before:
            return False
        self.project.refuse_if_read_only()
        self.bookings = as_kept(after)
        self._show(here.trip, here.revision, here.position, here.variant_id)
        try:
            self._outbox.add(Booked(here.trip.id, before, self.bookings, says, self._by, token_hex(8)))
        except BookedMeanwhile:
            self._look_again()
            raise
        return True

    def cancel(self, booking_id: str) -> bool:
        """Note that a supplier was told it isn't wanted any more."""
        booking = self.need_open().bookings.get(booking_id)
        name = "" if booking is None else supplier_name(self.catalogue, booking.service, booking.supplier)
        return self.book(partial(asked.cancel, booking_id=booking_id), f"cancel {name}".strip())

    def booking_history(self) -> tuple[BookingStep, ...]:
        """Every act on the bookings of the open trip that is kept, oldest first."""
        with self.project.reading() as unit:
            return unit.bookings.history(self.need_open().trip.id)

    def take(self, fix: ProvedFix) -> bool:
        """Do what a remedy says to the trip or to its bookings. Returns whether either is another."""
        booked = self.book(fix.act, self.speech.say(fix.says))
        return self.apply(fix.edit, self.speech.say(fix.says)) or booked

    def _on_failed(self, why: LacetError) -> None:
        if isinstance(why, BookedMeanwhile):
            self._look_again()
        self.failed.send(why)

    def _look_again(self) -> None:
        """Show the bookings as the file holds them, unless more of them is on its way: that tells as well."""
        here = self.need_open()
        if self._outbox.waits(here.trip.id):
            return
        with self.project.reading() as unit:
            position = self._looked_up(unit, here.trip.id)
        self._show(here.trip, here.revision, position, here.variant_id)

    # --- after a clash

    def take_theirs(self) -> None:
        """After a clash: show the trip as somebody else saved it; what is in memory alone is given up."""
        here = self.need_open()
        self._outbox.drop(here.trip.id)
        self.open_trip(here.trip.id, here.variant_id)

    def keep_mine(self) -> tuple[str, ...]:
        """After a clash: all that could not be saved, put on top of theirs or beside it as variants more.

        Returns
        -------
        tuple of str
            What of the trip itself both changed, as people call it: that is theirs now.
        """
        here = self.need_open()
        base, mine = self._outbox.begun_with(here.trip.id), here.trip
        with self.project.reading() as unit:
            theirs = unit.trips.load(mine.id)[0]
        done = lay_beside(base, mine, theirs, here.variant_id)
        self.take_theirs()
        # As one edit of what they left: it can be undone as one, and clash again, with nothing lost.
        left_out = tuple(_FIELDS.get(name, name) for name in done.left_out)
        says = "keep mine as a variant"
        if left_out:
            says += f"; theirs stays: {', '.join(left_out)}"
        self.apply(lambda _: done.trip, says)
        if done.added:
            self.show_variant(done.added[0])
        return left_out

    def undo(self) -> None:
        """Go back one edit of this trip."""
        self._go_back(again=False)

    def redo(self) -> None:
        """Take back the last undo."""
        self._go_back(again=True)

    def _go_back(self, *, again: bool) -> None:
        here = self.need_open()
        self.project.refuse_if_read_only()
        try:
            self._outbox.add(Back(here.trip.id, again))
        except ChangedMeanwhile:
            self.follow()
            raise

    # --- previews and fixes

    def try_out(self, edit: Edit, act: Act = as_they_are) -> Shown | None:
        """What the open variant would become; None when the edit has no meaning. Nothing is kept or told."""
        here = self.need_open()
        try:
            trip, bookings = edit(here.trip), act(here.bookings)
        except LacetError:
            return None
        variant_id = still_there(trip, here.variant_id)
        return Shown(trip, variant_id, self._assess(trip, variant_id, bookings), bookings)

    def start_preview(self, edit: Edit, by: object = None, act: Act = as_they_are) -> None:
        """Let every view show what the trip would become; the newest takes the place of the one before."""
        self.preview, self._previewed_by = self.try_out(edit, act), by
        self.previewed.send(self.preview)

    def stop_preview(self, by: object = None) -> None:
        """Back to what is; whoever says who it is ends only what it began.

        A list the mouse has left may hear of it after a drag over the sheet has begun.
        """
        if self.preview is not None and (by is None or by is self._previewed_by):
            self.preview = None
            self.previewed.send(None)

    def fixes(self) -> tuple[tuple[ProvedFix, ...], ...]:
        """Proved fixes of each finding of the open variant; takes a while, so never during a drag."""
        return tuple(self.fixes_of(finding) for finding in self.need_open().assessment.findings)

    def fixes_of(self, finding: Finding) -> tuple[ProvedFix, ...]:
        """Proved fixes of one finding of the open variant; one at a time a window can stay awake between."""
        here = self.need_open()
        if finding.overruled_by is not None:
            return ()
        with speaking(self.wording):
            return settle_one(self.inputs(here.trip, here.variant_id), here.assessment, finding)

    # --- selection

    def select(self, selection: Selection) -> None:
        """Point at something; told only when it is something else."""
        if selection != self.selection:
            self.selection = selection
            self.selected.send(selection)

    # --- within

    def need_open(self) -> Opened:
        """The open trip.

        Raises
        ------
        NothingOpen
        """
        if self.opened is None:
            raise NothingOpen("No trip is open: choose one or start a new one first.")
        return self.opened

    def _assess(self, trip: Trip, variant_id: str, bookings: Bookings) -> Assessment:
        with speaking(self.wording):
            return assess(replace(self.inputs(trip, variant_id), bookings=bookings))

    def _looked_up(self, unit: UnitOfWork, trip_id: str) -> Position:
        """Where the trip stands in its history; bookings, of others too, are taken with it."""
        self._hold(unit.commitments(trip_id, self.as_of), unit.bookings.of(trip_id))
        return unit.trips.position(trip_id)

    def _hold(self, taken: Commitments, booked: Bookings) -> None:
        # The same object while nothing changed: what was assessed by it is still true.
        if taken != self.commitments:
            self.commitments = taken
        if booked != self.bookings:
            self.bookings = booked

    def _holds(self, taken: Commitments, booked: Bookings) -> bool:
        return (taken, booked) == (self.commitments, self.bookings)

    def _show_kept(self, trip: Trip, revision: int, position: Position, variant_id: str) -> None:
        """Show a trip as the file holds it."""
        self._outbox.know(trip, revision)
        self._show(trip, revision, position, variant_id)

    def _show(self, trip: Trip, revision: int, position: Position, variant_id: str) -> None:
        assessment = self._assess(trip, variant_id, self.bookings)
        self.opened = Opened(
            trip, variant_id, assessment, self.bookings, revision=revision, position=position
        )
        self._loaded[trip.id], self._booked[trip.id] = trip, self.bookings
        self._keep_selection_inside()
        self.changed.send(self.opened)

    def _keep_selection_inside(self) -> None:
        """A day that went away selects the last that is left."""
        days = len(self.need_open().variant.days)
        if self.selection.day is not None and self.selection.day >= days:
            self.selection = Selection(day=days - 1 if days else None)
            self.selected.send(self.selection)
