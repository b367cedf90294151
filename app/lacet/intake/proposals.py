"""What GPX files could become: a proposal for each line, which a person corrects and takes or leaves.

Nothing is decided here that can't be changed before `accept`; nothing is kept here at all.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from lacet.intake.alongside import Alongside, beginning_near
from lacet.intake.ends import End, Places, free_id
from lacet.intake.recorded import pace, recording
from lacet.intake.split import FoundLine, merged
from lacet.intake.waypoints import Offered, offered
from lacet.tracks.edit import cut, reverse, same_line
from lacet.tracks.geodesy import distance_m
from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.problem import GpxRefused, ReadingStopped
from lacet.tracks.profile import profile
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Place, Recording, Stage, StagePoint, StageWay
from lacet.trip.words import Way

SAME_LINE_WITHIN_M = 40.0
LOOP_WITHIN_M = 200.0
SHORTEST_STAGE_M = 200.0
BOTH_WAYS = (Way.WALKING, Way.CYCLING)

Shape = Literal["loop", "out and back", "point to point"]
Progress = Callable[[str, int, int], bool | None]
"""Called with a file's name, how many are done and how many there are; False stops the reading.

It counts twice: once while files are read, and once while their lines are laid beside the library's.
"""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Proposal:
    """One line and what it could become.

    Parameters
    ----------
    merged
        Names of the parts it was put together from, or nothing.
    duplicate_of, duplicate_direction
        Id of a stage of the library, or of an earlier proposal, that follows the same line.
    take
        Whether taking it is proposed: not for duplicates, nor for what is no stage.
    offered
        The file's marks along the line.
    points
        Those of them that become points of the stage: proposed are the ones whose kind the file tells.
    """

    file: str
    id: str
    name: str
    track: Track
    length_m: float
    ascent_m: float | None
    descent_m: float | None
    shape: Shape
    start: End
    end: End
    ways: tuple[Way, ...]
    recording: Recording | None
    problems: tuple[str, ...] = ()
    merged: tuple[str, ...] = ()
    duplicate_of: str | None = None
    duplicate_direction: Literal["same", "reversed"] | None = None
    take: bool = True
    offered: tuple[Offered, ...] = ()
    points: tuple[StagePoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """Proposals in the order of the files, and a sentence for each file that is refused or has no line."""

    proposals: tuple[Proposal, ...]
    refusals: tuple[str, ...]
    without_line: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """What a proposal became: the stage, its line, and the places that are new."""

    stage: Stage
    track: Track
    places: tuple[Place, ...]


def propose(
    files: Sequence[Path],
    catalogue: Catalogue,
    ways: tuple[Way, ...] | None = None,
    progress: Progress | None = None,
    *,
    merge: bool = True,
) -> Proposed:
    """Look at GPX files beside what the library holds.

    Parameters
    ----------
    ways
        What new stages are for; None = as recorded, both where nobody recorded it.
    merge
        Whether recordings that a receiver split are put together.

    Raises
    ------
    ReadingStopped
        When `progress` returned False.
    """
    found: list[FoundLine] = []
    read_of: dict[Path, GpxFile] = {}
    refusals: list[str] = []
    for number, path in enumerate(files):
        _tell(progress, path, number, len(files))
        try:
            read_of[path] = read_gpx(path)
        except GpxRefused as refusal:
            refusals.append(str(refusal))
            continue
        found += [FoundLine(path, line) for line in read_of[path].lines]
    lines = merged(found) if merge else tuple(found)
    desk = _Desk(catalogue, ways, [each.line.track for each in lines])
    proposals = []
    for number, each in enumerate(lines):
        _tell(progress, each.path, number, len(lines))
        proposals.append(desk.proposal(each, read_of[each.path]))
    without = tuple(_without_line(path.name, file) for path, file in read_of.items() if not file.lines)
    return Proposed(proposals=tuple(proposals), refusals=tuple(refusals), without_line=without)


def _without_line(name: str, file: GpxFile) -> str:
    held = len(file.waypoints)
    marks = {0: "nothing that can be walked or ridden", 1: "one mark"}.get(held, f"{held} marks")
    told = [f"{name}: no line in it, only {marks}; nothing of it becomes a stage."]
    return " ".join(told + [each.says for each in file.problems])


def _tell(progress: Progress | None, path: Path, done: int, of: int) -> None:
    if progress is not None and progress(path.name, done, of) is False:
        raise ReadingStopped("The reading of the files was stopped; nothing was taken in.")


def accept(proposal: Proposal) -> Accepted:
    """The stage a proposal stands for. A proposal is changed with `dataclasses.replace` before."""
    stage = Stage(
        id=proposal.id,
        name=proposal.name,
        from_place=proposal.start.place.id,
        to_place=proposal.end.place.id,
        track_id="",
        ways=tuple(StageWay(way=way) for way in proposal.ways),
        recordings=() if proposal.recording is None else (proposal.recording,),
        points=proposal.points,
    )
    new = {end.place.id: end.place for end in (proposal.start, proposal.end) if end.is_new}
    return Accepted(stage=stage, track=proposal.track, places=tuple(new.values()))


def with_recording(proposal: Proposal, stage: Stage) -> Stage | None:
    """The library's stage with the time of a duplicate recorded in its direction, or None without one."""
    if proposal.recording is None or proposal.duplicate_direction != "same":
        return None
    if proposal.recording in stage.recordings:
        return None
    return replace(stage, recordings=(*stage.recordings, proposal.recording))


@dataclass(slots=True)
class _Desk:
    """Makes proposals one after the other, each knowing those before it."""

    catalogue: Catalogue
    ways: tuple[Way, ...] | None
    tracks: Sequence[Track]
    _lines: Alongside = field(init=False)
    _places: Places = field(init=False)
    _ids: set[str] = field(init=False)
    _library: "_Library" = field(init=False)
    _made: list[Proposal] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._library = _Library(self.catalogue, self.tracks)
        self._lines = Alongside(self.tracks, SAME_LINE_WITHIN_M)
        self._places = Places(self.catalogue.current(Place))
        self._ids = set(self.catalogue.items.get(Stage, {}))

    def proposal(self, found: FoundLine, file: GpxFile) -> Proposal:
        """A proposal for one line."""
        line, track = found.line, found.line.track
        figures, times = profile(track), pace(line)
        name = line.name or found.path.stem.replace("_", " ").replace("-", " ").strip() or "Stage"
        twin, direction = self._twin(track)
        shape = _shape(track, figures.length_m)
        start = self._end(track, 0, f"Start of {name}")
        end = start if shape != "point to point" else self._end(track, -1, f"End of {name}")
        known_way = None if times is None or times.is_drive else (times.way,)
        own = [each.says for each in file.problems if each.weight == "warn"]
        own += ["no elevation: climb and times will be estimates"] if figures.ascent_m is None else []
        own += ["faster than any bike: recorded in a vehicle?"] if times and times.is_drive else []
        marks = offered(track, file.waypoints)
        too_short = figures.length_m < SHORTEST_STAGE_M
        own += [f"only {figures.length_m:.0f} m long"] if too_short else []
        made = Proposal(
            file=found.path.name,
            id=free_id(name, self._ids),
            name=name,
            track=track,
            length_m=figures.length_m,
            ascent_m=figures.ascent_m,
            descent_m=figures.descent_m,
            shape=shape,
            start=start,
            end=end,
            ways=self.ways or known_way or BOTH_WAYS,
            recording=recording(times),
            problems=tuple(own),
            merged=found.parts,
            duplicate_of=twin,
            duplicate_direction=direction,
            take=twin is None and not too_short,
            offered=marks,
            points=tuple(each.point for each in marks if each.sure),
        )
        self._ids.add(made.id)
        self._made.append(made)
        return made

    def _end(self, track: Track, index: int, called: str) -> End:
        height = float(track.height_m[index])
        return self._places.end(
            float(track.latitude_deg[index]),
            float(track.longitude_deg[index]),
            None if height != height else height,
            called,
        )

    def _twin(self, track: Track) -> tuple[str | None, Literal["same", "reversed"] | None]:
        for twin_id, other in self._candidates(track):
            direction = same_line(track, other, SAME_LINE_WITHIN_M)
            if direction is not None:
                return twin_id, direction
        return None, None

    def _candidates(self, track: Track) -> Iterator[tuple[str, Track]]:
        """Lines that pass near this one's ends; decoding every track of a library would take long."""
        yield from self._library.passing(track)
        ends = _ends(track)
        for number in self._lines.passing(track):
            # Lines are proposed in their order; those after this one are compared when it is their turn.
            if number >= len(self._made):
                return
            made = self._made[number]
            if _may_meet(ends, _ends(made.track)):
                yield made.id, made.track


class _Library:
    """Stages of a library that lie where lines do: each is decoded once, and asked which pass near a line."""

    def __init__(self, catalogue: Catalogue, tracks: Sequence[Track]) -> None:
        known = [each for each in catalogue.current(Stage) if each.track_id in catalogue.tracks]
        places = [_ends_of(stage, catalogue) for stage in known]
        near = [known[number] for number in beginning_near(tracks, places, _ENDS_WITHIN_DEG)]
        self._ids = [stage.id for stage in near]
        self._tracks: list[Track] = [catalogue.tracks[stage.track_id] for stage in near]
        self._tree = Alongside(self._tracks, SAME_LINE_WITHIN_M)

    def passing(self, track: Track) -> Iterator[tuple[str, Track]]:
        """Ids and lines of those that pass near both ends of a line, by id."""
        for number in self._tree.passing(track):
            yield self._ids[number], self._tracks[number]


def _ends_of(stage: Stage, catalogue: Catalogue) -> tuple[tuple[float, float], ...]:
    places = (catalogue.place(each) for each in (stage.from_place, stage.to_place))
    return tuple((place.latitude_deg, place.longitude_deg) for place in places if place is not None)


_ENDS_WITHIN_DEG = 0.03


def _may_meet(ends: Sequence[tuple[float, float]], others: Sequence[tuple[float, float]]) -> bool:
    """Whether each end lies within some 3 km of one of the others; erring, it errs on the wide side."""
    return all(
        any(
            abs(end[0] - other[0]) < _ENDS_WITHIN_DEG and abs(end[1] - other[1]) < 3 * _ENDS_WITHIN_DEG
            for other in others
        )
        for end in ends
    )


def _ends(track: Track) -> tuple[tuple[float, float], tuple[float, float]]:
    latitude, longitude = track.latitude_deg, track.longitude_deg
    return (float(latitude[0]), float(longitude[0])), (float(latitude[-1]), float(longitude[-1]))


def _shape(track: Track, length_m: float) -> Shape:
    start, end = _ends(track)
    if length_m < SHORTEST_STAGE_M or distance_m(start, end) > min(LOOP_WITHIN_M, length_m / 4):
        return "point to point"
    half = length_m / 2
    out, back = cut(track, 0.0, half), reverse(cut(track, half, length_m))
    return "out and back" if same_line(out, back, SAME_LINE_WITHIN_M) == "same" else "loop"
