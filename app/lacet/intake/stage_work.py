"""One stage being worked on, and what becomes of it: pure values with a history, and one saving at the end.

A cut makes two stages of one, a join one of two; so what is worked on is a handful of drawn stages, one of
which is shown. Nothing reaches the library before `save`, and then all of it or nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Protocol

import numpy as np

from lacet.intake.ends import free_id
from lacet.tracks import stage_shape
from lacet.tracks.drawn import Drawn, StageEditRefused, new_place, replace_stage
from lacet.tracks.edit import position_at
from lacet.tracks.geodesy import cumulative_m, distance_m
from lacet.tracks.profile import Profile, profile
from lacet.tracks.raster import ElevationRaster, fill
from lacet.tracks.smoothing import smoothed
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Place, Stage

NEAR_PLACE_M = 500.0
SMOOTH_WINDOW_M = 120.0
SMOOTH_NODE_M = 10.0


class StageChangedMeanwhile(LacetError):
    """The library has another newest version than the one this work began with."""


class Shelf(Protocol):
    """The library of a unit of work."""

    def latest(self, kind: type[Any], item_id: str) -> Any: ...

    def add_version(self, item: Any) -> Any: ...

    def add_stage(self, stage: Stage, track: Track) -> Stage: ...

    def retire(self, kind: type[Any], item_id: str) -> Any: ...


@dataclass(frozen=True, slots=True, eq=False)
class Worktop:
    """What lies on the desk: stages, which is shown, places that are new, stages others took the place of."""

    stages: tuple[Drawn, ...]
    shown: int = 0
    places: tuple[Place, ...] = ()
    gone: tuple[str, ...] = ()

    @property
    def drawn(self) -> Drawn:
        return self.stages[self.shown]

    def with_drawn(self, drawn: Drawn) -> Worktop:
        """With another state of the shown stage."""
        stages = (*self.stages[: self.shown], drawn, *self.stages[self.shown + 1 :])
        return replace(self, stages=stages)


Edit = Callable[[Worktop], Worktop]


@dataclass(frozen=True, slots=True)
class Step:
    """A state and what led to it."""

    top: Worktop
    says: str


class StageWork:
    """Work on one stage of a catalogue, from opening to saving.

    Raises
    ------
    StageEditRefused
        When the library holds no such stage, or doesn't know where it runs.
    """

    def __init__(self, catalogue: Catalogue, stage_id: str) -> None:
        self.catalogue = catalogue
        self._versions: dict[str, int] = {}
        self._opened: dict[str, Drawn] = {}
        self.steps: list[Step] = [Step(Worktop((self.open(stage_id),)), "")]
        self.at = 0

    # --- what is there

    @property
    def top(self) -> Worktop:
        return self.steps[self.at].top

    @property
    def changed(self) -> bool:
        """Whether there is anything to save."""
        return any(self._differs(drawn) for drawn in self.top.stages) or bool(self.top.gone)

    @property
    def undo_says(self) -> str:
        """What would be taken back; empty when there is nothing."""
        return self.steps[self.at].says

    @property
    def redo_says(self) -> str:
        return self.steps[self.at + 1].says if self.at + 1 < len(self.steps) else ""

    def open(self, stage_id: str) -> Drawn:
        """A stage of the library with its line, remembered as it was."""
        stage = self.catalogue.latest(Stage, stage_id)
        if stage is None or stage.track_id not in self.catalogue.tracks:
            raise StageEditRefused(
                "The library doesn't know where the stage '{stage_id}' runs.", stage_id=stage_id
            )
        self._versions[stage_id] = stage.version
        return self._opened.setdefault(stage_id, Drawn(stage, self.catalogue.tracks[stage.track_id]))

    def place(self, place_id: str) -> Place | None:
        """A place of the library, or one this work makes."""
        made = next((each for each in self.top.places if each.id == place_id), None)
        return made or self.catalogue.place(place_id)

    def place_near(self, at_m: float) -> Place | None:
        """The nearest place within 500 m of a distance along the shown line."""
        at = position_at(self.top.drawn.track, at_m)
        here = (at.latitude_deg, at.longitude_deg)
        places = (*self.catalogue.current(Place), *self.top.places)
        off = [(distance_m(here, (each.latitude_deg, each.longitude_deg)), each) for each in places]
        near = min(off, key=lambda each: each[0], default=None)
        return near[1] if near is not None and near[0] <= NEAR_PLACE_M else None

    def newer_in(self, catalogue: Catalogue) -> Stage | None:
        """A stage of this work that a later catalogue holds in another version than the work began with."""
        found = ((catalogue.latest(Stage, each), version) for each, version in self._versions.items())
        return next((each for each, version in found if each is not None and each.version != version), None)

    # --- edits

    def apply(self, edit: Callable[[Drawn], Drawn], says: str) -> None:
        """Edit the shown stage.

        Raises
        ------
        LacetError
            When the edit has no meaning; nothing has changed then.
        """
        self.change(lambda top: top.with_drawn(edit(top.drawn)), says)

    def change(self, edit: Edit, says: str) -> None:
        """Change what lies on the desk; what was undone before can't be done again after."""
        top = edit(self.top)
        self.steps = [*self.steps[: self.at + 1], Step(top, says)]
        self.at += 1

    def undo(self) -> None:
        self.at = max(self.at - 1, 0)

    def redo(self) -> None:
        self.at = min(self.at + 1, len(self.steps) - 1)

    def show(self, number: int) -> None:
        """Show another of the stages; that is no step."""
        self.steps[self.at] = replace(self.steps[self.at], top=replace(self.top, shown=number))

    def cut(self, at_m: float, place_name: str = "") -> None:
        """Cut the shown stage in two at a distance, at the place of this name or a new one of it.

        Without a name it is the nearest known place, or none: then it is refused.
        """
        middle, new = self._place_for(at_m, place_name)
        drawn = self.top.drawn
        stem, taken = drawn.stage.id, self._ids()
        first_id = free_id(f"{stem}-a", taken)
        second_id = free_id(f"{stem}-b", taken | {first_id})
        first, second = stage_shape.cut_in_two(drawn, at_m, middle.id, first_id, second_id)
        whole = f"{drawn.stage.name}: "
        names = (self._name(drawn.stage.from_place), middle.name, self._name(drawn.stage.to_place))
        parts = (
            replace_stage(first, name=f"{whole}{names[0]} to {names[1]}"),
            replace_stage(second, name=f"{whole}{names[1]} to {names[2]}"),
        )
        self.change(lambda top: _with_parts(top, parts, new, self._kept_id(stem)), f"cut at {middle.name}")

    def join(self, stage_id: str) -> None:
        """Join the shown stage with another, which is retired when this is saved, if the person says so."""
        other = next((each for each in self.top.stages if each.stage.id == stage_id), None) or self.open(
            stage_id
        )
        made = stage_shape.joined(self.top.drawn, other)
        gone = self._kept_id(stage_id)
        self.change(lambda top: _joined_top(top, made, stage_id, gone), f"join with {other.stage.name}")

    def shift_start(self, at_m: float, place_name: str = "") -> None:
        """Let the shown round begin elsewhere."""
        place, new = self._place_for(at_m, place_name)
        self.change(
            lambda top: replace(
                top.with_drawn(stage_shape.with_start_at(top.drawn, at_m, place.id)),
                places=(*top.places, *new),
            ),
            f"begin at {place.name}",
        )

    def trim(self, from_m: float, to_m: float) -> None:
        """Keep only a stretch; its ends are the places near them, else those the stage had."""
        drawn = self.top.drawn
        start = self.place_near(from_m) if from_m > 0 else None
        end = self.place_near(to_m) if to_m < drawn.length_m else None
        fields = {} if start is None else {"from_place": start.id}
        fields |= {} if end is None else {"to_place": end.id}
        self.apply(
            lambda each: replace_stage(stage_shape.trimmed(each, from_m, to_m), **fields), "trim the ends"
        )

    def joinable(self) -> tuple[Stage, ...]:
        """Stages that begin or end at the place where the shown one ends."""
        stage = self.top.drawn.stage
        on_desk = tuple(each.stage for each in self.top.stages if each.stage.id != stage.id)
        known = tuple(each for each in self.catalogue.current(Stage) if each.id not in self.top.gone)
        return tuple(
            each
            for each in (*on_desk, *known)
            if each.id != stage.id and stage.to_place in (each.from_place, each.to_place)
        )

    # --- saving

    def save(self, shelf: Shelf, *, retire: bool) -> tuple[Stage, ...]:
        """Keep what differs as new versions within a unit of work that the caller commits.

        Parameters
        ----------
        retire
            Whether stages that others took the place of are offered no more.

        Raises
        ------
        StageChangedMeanwhile
        """
        for stage_id, version in self._versions.items():
            latest = shelf.latest(Stage, stage_id)
            if latest is not None and latest.version != version:
                raise StageChangedMeanwhile(
                    "{latest} was saved elsewhere meanwhile, as version {version}. Close this desk and "
                    "open the stage again; nothing was saved.",
                    latest=latest.name,
                    version=latest.version,
                )
        used = {end for each in self.top.stages for end in (each.stage.from_place, each.stage.to_place)}
        for place in self.top.places:
            if place.id in used:
                shelf.add_version(place)
        saved = tuple(self._keep(shelf, each) for each in self.top.stages if self._differs(each))
        for stage_id in self.top.gone if retire else ():
            shelf.retire(Stage, stage_id)
        return saved

    # --- within

    def _keep(self, shelf: Shelf, drawn: Drawn) -> Stage:
        before = self._opened.get(drawn.stage.id)
        if before is not None and before.track is drawn.track:
            kept: Stage = shelf.add_version(drawn.stage)
            return kept
        return shelf.add_stage(drawn.stage, drawn.track)

    def _differs(self, drawn: Drawn) -> bool:
        before = self._opened.get(drawn.stage.id)
        return before is None or before.track is not drawn.track or before.stage != drawn.stage

    def _kept_id(self, stage_id: str) -> tuple[str, ...]:
        """A stage the library holds is gone from it; one that was only on the desk is not missed."""
        return (stage_id,) if stage_id in self._opened else ()

    def _ids(self) -> set[str]:
        return set(self.catalogue.items.get(Stage, {})) | {each.stage.id for each in self.top.stages}

    def _name(self, place_id: str) -> str:
        place = self.place(place_id)
        return place_id if place is None else place.name

    def _place_for(self, at_m: float, name: str) -> tuple[Place, tuple[Place, ...]]:
        near, called = self.place_near(at_m), name.strip()
        if near is not None and called in ("", near.name):
            return near, ()
        if not called:
            raise StageEditRefused("No known place is near; name the place where the stage is parted.")
        taken = set(self.catalogue.items.get(Place, {})) | {each.id for each in self.top.places}
        made = new_place(self.top.drawn, at_m, free_id(called, taken), called)
        return made, (made,)


def _with_parts(
    top: Worktop, parts: tuple[Drawn, Drawn], new: tuple[Place, ...], gone: tuple[str, ...]
) -> Worktop:
    stages = (*top.stages[: top.shown], *parts, *top.stages[top.shown + 1 :])
    return replace(top, stages=stages, places=(*top.places, *new), gone=(*top.gone, *gone))


def _joined_top(top: Worktop, made: Drawn, other_id: str, gone: tuple[str, ...]) -> Worktop:
    stages = tuple(each for each in top.with_drawn(made).stages if each.stage.id != other_id)
    return replace(top, stages=stages, shown=stages.index(made), gone=(*top.gone, *gone))


# --- heights


def heights_from(rasters: Sequence[Path], *, replaced: bool) -> Callable[[Drawn], Drawn]:
    """An edit that fills unknown heights from rasters beside the project, or takes all of them from there.

    Raises
    ------
    StageEditRefused
        (The edit.) When there is no raster, or none knows this line.
    """

    def edit(drawn: Drawn) -> Drawn:
        if not rasters:
            raise StageEditRefused("The project has no elevation raster; bring one in first.")
        track = drawn.track
        if replaced:
            unknown = np.full(len(track), np.nan)
            track = Track(track.latitude_deg, track.longitude_deg, unknown, track.segment_start)
        before = _unknown(track)
        if not before:
            raise StageEditRefused("Every height of this line is known; there is nothing to fill.")
        for file in rasters:
            track = fill(track, ElevationRaster.open(file))
        if _unknown(track) >= before:
            raise StageEditRefused("The elevation rasters don't reach this line.")
        return Drawn(drawn.stage, track)

    return edit


def smooth_heights(drawn: Drawn) -> Drawn:
    """The heights as the profile smooths them, at the line's own points; unknown ones stay unknown."""
    along, height = cumulative_m(drawn.track), drawn.track.height_m
    known = ~np.isnan(height)
    if known.sum() < 2 or along[-1] <= 0:
        raise StageEditRefused("There are no heights to smooth; fill them first.")
    nodes, smooth = smoothed(along[known], height[known], SMOOTH_NODE_M, SMOOTH_WINDOW_M)
    made = np.where(known, np.interp(along, nodes, smooth), np.nan)
    track = drawn.track
    return Drawn(drawn.stage, Track(track.latitude_deg, track.longitude_deg, made, track.segment_start))


def figures(drawn: Drawn) -> Profile:
    """Length, climb and the smoothed profile of a drawn stage."""
    return profile(drawn.track)


def _unknown(track: Track) -> float:
    return float(np.mean(np.isnan(track.height_m)))
