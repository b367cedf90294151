"""The open trip: current value, its history, its assessment, what is selected and what is previewed.

Every gesture becomes an edit here: applied, saved, assessed, then told to whoever listens. Views read from
here and never from each other. Nothing is sent when nothing changed.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle_one
from lacet.signals import Signal
from lacet.store import FileBusy, FileLost, Position, Project, Rescued, UnitOfWork
from lacet.trip.catalogue import Catalogue, Office
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.edits.variants import add_variant_of
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding, ProvedFix
from lacet.trip.house_rules import HouseRules
from lacet.trip.merge import Conflict, merge
from lacet.trip.region import Region
from lacet.trip.trip import Trip, Variant
from lacet.wording import ENGLISH, Wording, speaking

Edit = Callable[[Trip], Trip]


class NothingOpen(LacetError):
    """A gesture that needs an open trip came without one."""


@dataclass(frozen=True, slots=True)
class Selection:
    """What the person points at: a day (0-based column), a row of the sheet, a group of the day, a card."""

    day: int | None = None
    row: str = ""
    group: int = 0
    item: str | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """One variant of a trip with its assessment: what views draw, be it kept or only tried out."""

    trip: Trip
    variant_id: str
    assessment: Assessment

    @property
    def variant(self) -> Variant:
        found = self.trip.variant(self.variant_id)
        assert found is not None, "the session keeps a variant of its trip selected"
        return found


@dataclass(frozen=True, slots=True)
class Opened(Shown):
    """The open trip as it is kept."""

    revision: int
    position: Position


class Session:
    """One project and at most one open trip of it.

    Signals: `changed` (the new `Opened`), `previewed` (a `Shown` while something is dragged or a fix is
    hovered, None when that ends), `selected`, `library_changed` (the new catalogue).
    """

    def __init__(self, project: Project, today: Callable[[], date] = date.today) -> None:
        self.project = project
        self._today = today
        self.catalogue: Catalogue = project.catalogue()
        self.rules: HouseRules = project.house_rules()
        self.commitments: Commitments = NO_COMMITMENTS
        self.wording: Wording = ENGLISH
        self.opened: Opened | None = None
        self._loaded: dict[str, Trip] = {}
        self._unkept: dict[str, Opened] = {}
        self.selection = Selection()
        self.preview: Shown | None = None
        self._previewed_by: object = None
        self._behind = False
        self.changed: Signal[Opened] = Signal()
        self.previewed: Signal[Shown | None] = Signal()
        self.selected: Signal[Selection] = Signal()
        self.library_changed: Signal[Catalogue] = Signal()

    @property
    def as_of(self) -> date:
        return self._today()

    def inputs(self, trip: Trip, variant_id: str) -> Inputs:
        """What a variant is assessed from here and now."""
        return Inputs(trip, variant_id, self.catalogue, self.rules, self.commitments, as_of=self.as_of)

    # --- opening

    def open_trip(self, trip_id: str, variant_id: str | None = None) -> None:
        """Show a trip: the variant named, else the proposed, else the first."""
        self.keep_unkept()
        with self.project.reading() as unit:
            trip, revision = unit.trips.load(trip_id)
            position = self._looked_up(unit, trip_id)
        self.selection = Selection(day=0 if trip.variants and trip.variants[0].days else None)
        self._show(trip, revision, position, variant_id or trip.proposed or trip.variants[0].id)

    def add_trip(self, trip: Trip, says: str = "new trip") -> None:
        """Keep a new trip and show it."""
        with self.project.unit_of_work() as unit:
            unit.trips.save(trip, 0, says)
            unit.commit()
        self.open_trip(trip.id)

    def show_variant(self, variant_id: str) -> None:
        """Show another variant of the open trip."""
        here = self._need_open()
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
        if not (self.project.changed_elsewhere() or self._behind):
            return ()
        self._behind = False
        # Of the trips seen before, others may have made something newer.
        self._loaded = {trip: self._loaded[trip] for trip in self._unkept}
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
        taken = self.commitments
        with self.project.reading() as unit:
            trip, revision = unit.trips.load(here.trip.id)
            position = self._looked_up(unit, trip.id)
        told += ("this trip",) * (revision != here.revision) + ("bookings",) * (self.commitments != taken)
        if told:
            self._show(trip, revision, position, _still_there(trip, here.variant_id))
        return told

    # --- a lost file

    @property
    def has_unkept(self) -> bool:
        """Whether there are edits that are in memory alone, since the file was lost."""
        return bool(self._unkept)

    def rescue(self, target: Path) -> Rescued:
        """Save what can be reached of a lost file in a new one, with every trip seen here as it is here.

        Raises
        ------
        StoreError
        """
        return self.project.rescue(target, tuple(self._loaded.values()))

    def keep_unkept(self) -> None:
        """Save what was edited while the file was lost, one step a trip, once the file is back.

        Raises
        ------
        LacetError
            When it can't be kept yet, or somebody else saved the trip meanwhile; it then stays in memory.
        """
        if not self._unkept:
            return
        with self.project.unit_of_work() as unit:
            for trip_id, base in self._unkept.items():
                both, stored = _with_theirs(unit, base, self._loaded[trip_id])
                unit.trips.save(both, stored, "edits while the file was away")
            unit.commit()
        self._unkept.clear()
        here = self.opened
        if here is not None:
            with self.project.reading() as unit:
                trip, revision = unit.trips.load(here.trip.id)
                position = self._looked_up(unit, trip.id)
            self._show(trip, revision, position, _still_there(trip, here.variant_id))

    # --- edits

    def apply(self, edit: Edit, says: str) -> bool:
        """Make one edit: save it, assess it, tell it. Returns whether anything changed.

        Where somebody else saved the trip meanwhile and changed other parts of it, both changes stay.

        Raises
        ------
        LacetError
            When the edit has no meaning (`EditRefused`) or somebody else changed the same part meanwhile
            (`StaleRevision`); nothing has changed then. After `FileLost` the edit is made, in memory alone.
        """
        here = self._need_open()
        trip = edit(here.trip)
        self.stop_preview()
        if trip == here.trip:
            return False
        base = self._unkept.get(trip.id, here)
        try:
            with self.project.unit_of_work() as unit:
                both, stored = _with_theirs(unit, base, trip)
                revision = unit.trips.save(both, stored, says)
                position = self._looked_up(unit, trip.id)
                unit.commit()
        except FileLost:
            self._unkept[trip.id], self._loaded[trip.id] = base, trip
            self._show(trip, here.revision, here.position, _still_there(trip, here.variant_id))
            raise
        self._unkept.pop(trip.id, None)
        self._show(both, revision, position, _still_there(both, here.variant_id))
        return True

    def take_theirs(self) -> None:
        """After somebody else saved the trip: show it as they left it."""
        here = self._need_open()
        self._unkept.pop(here.trip.id, None)
        self.open_trip(here.trip.id, here.variant_id)

    def keep_mine(self, edit: Edit, says: str) -> None:
        """After somebody else saved the trip: my variant, with the refused edit, as one more of theirs."""
        here = self._need_open()
        mine = edit(here.trip).variant(here.variant_id) or here.variant
        self._unkept.pop(here.trip.id, None)
        self.open_trip(here.trip.id)
        before = {variant.id for variant in self._need_open().trip.variants}
        self.apply(lambda trip: add_variant_of(trip, mine), says)
        added = [variant.id for variant in self._need_open().trip.variants if variant.id not in before]
        self.show_variant(added[0])

    def undo(self) -> None:
        """Go back one edit of this trip."""
        self._travel(lambda unit, here: unit.trips.undo(here.trip.id, here.revision))

    def redo(self) -> None:
        """Take back the last undo."""
        self._travel(lambda unit, here: unit.trips.redo(here.trip.id, here.revision))

    def _travel(self, step: Callable[[UnitOfWork, Opened], tuple[Trip, int]]) -> None:
        self.keep_unkept()
        here = self._need_open()
        with self.project.unit_of_work() as unit:
            trip, revision = step(unit, here)
            position = self._looked_up(unit, here.trip.id)
            unit.commit()
        self._show(trip, revision, position, _still_there(trip, here.variant_id))

    # --- previews and fixes

    def try_out(self, edit: Edit) -> Shown | None:
        """What the open variant would become; None when the edit has no meaning. Nothing is kept or told."""
        here = self._need_open()
        try:
            trip = edit(here.trip)
        except LacetError:
            return None
        variant_id = _still_there(trip, here.variant_id)
        return Shown(trip, variant_id, self._assess(trip, variant_id))

    def start_preview(self, edit: Edit, by: object = None) -> None:
        """Let every view show what the trip would become; the newest takes the place of the one before."""
        self.preview, self._previewed_by = self.try_out(edit), by
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
        return tuple(self.fixes_of(finding) for finding in self._need_open().assessment.findings)

    def fixes_of(self, finding: Finding) -> tuple[ProvedFix, ...]:
        """Proved fixes of one finding of the open variant; one at a time a window can stay awake between."""
        here = self._need_open()
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

    def _need_open(self) -> Opened:
        if self.opened is None:
            raise NothingOpen("No trip is open: choose one or start a new one first.")
        return self.opened

    def _assess(self, trip: Trip, variant_id: str) -> Assessment:
        with speaking(self.wording):
            return assess(self.inputs(trip, variant_id))

    def _looked_up(self, unit: UnitOfWork, trip_id: str) -> Position:
        """Where the trip stands in its history; what others have booked meanwhile is taken with it."""
        taken = unit.commitments(trip_id, self.as_of)
        if taken != self.commitments:
            # The same object while nothing changed: what was assessed by it is still true.
            self.commitments = taken
        return unit.trips.position(trip_id)

    def _show(self, trip: Trip, revision: int, position: Position, variant_id: str) -> None:
        assessment = self._assess(trip, variant_id)
        self.opened = Opened(trip, variant_id, assessment, revision, position)
        self._loaded[trip.id] = trip
        self._keep_selection_inside()
        self.changed.send(self.opened)

    def _keep_selection_inside(self) -> None:
        """A day that went away selects the last that is left."""
        days = len(self._need_open().variant.days)
        if self.selection.day is not None and self.selection.day >= days:
            self.selection = Selection(day=days - 1 if days else None)
            self.selected.send(self.selection)


def _with_theirs(unit: UnitOfWork, here: Opened, mine: Trip) -> tuple[Trip, int]:
    """My trip with what others saved since it was opened, and the revision that it follows.

    Where the two clash it is mine alone, on the revision it began with: saving that is refused.
    """
    stored = unit.trips.revision(mine.id)
    if stored == here.revision:
        return mine, stored
    both = merge(here.trip, mine, unit.trips.load(mine.id)[0])
    return (mine, here.revision) if isinstance(both, Conflict) else (both, stored)


def _still_there(trip: Trip, variant_id: str) -> str:
    return variant_id if trip.variant(variant_id) is not None else trip.variants[0].id
