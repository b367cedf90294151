"""Numbered directions of a leg: the written ones for its direction, else those its shape gives.

A written text is never turned round: 'left at the mill' means nothing from the other side. Where a direction
has no text of its own, the line's bends are told instead, marked as derived, and a note says what is missing.
"""

from dataclasses import dataclass

from lacet.documents.language import language
from lacet.documents.pack.turns import Turn, compass, heading_at, turns
from lacet.figures.leg_line import LegLine
from lacet.language import Language
from lacet.tracks.edit import position_at

# A first text this near to the start already says how to set out.
AT_THE_START_M = 60.0
AT_THE_END_M = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One direction: distances [m] from the leg's start and on to the next, height [m], None unknown."""

    number: int
    at_m: float
    next_m: float | None
    height_m: float | None
    compass: str
    says: str
    derived: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Directions:
    """All directions of a leg. `note` says what the library lacks; empty when nothing."""

    steps: tuple[Step, ...]
    derived: bool
    note: str = ""


def directions(
    line: LegLine, from_name: str = "", to_name: str = "", speech: Language | None = None
) -> Directions:
    """Return a leg's directions.

    Parameters
    ----------
    from_name, to_name
        Where the leg begins and ends, as guests know it; empty where a cut leaves it on the way.
    speech
        The language of what is derived, English where none is named; what somebody wrote stays as written.
    """
    speech = speech or language()
    written = [(at_m, cue.says.strip(), False) for at_m, cue in line.cues() if cue.says.strip()]
    told = written or [(turn.at_m, _bend(turn, speech), True) for turn in turns(line.track)]
    if not told or told[0][0] > AT_THE_START_M or told[0][2]:
        told.insert(0, (0.0, _leaving(line, from_name, speech), True))
    if told[-1][0] < line.length_m - AT_THE_END_M or told[-1][2]:
        arrives = speech.say("Arrive at {place}.", place=to_name)
        told.append((line.length_m, arrives if to_name else speech.say("Your route ends here."), True))
    return Directions(
        steps=_numbered(line, told, speech), derived=not written, note="" if written else _missing(line)
    )


def _bend(turn: Turn, speech: Language) -> str:
    heading = speech.word(compass(turn.heading_deg))
    return speech.say("{turn}, {heading}.", turn=speech.word(turn.says), heading=heading)


def _leaving(line: LegLine, from_name: str, speech: Language) -> str:
    heading = speech.word(compass(heading_at(line.track, 0.0)))
    if from_name:
        return speech.say("Leave {place} heading {heading}.", place=from_name, heading=heading)
    return speech.say("Set off heading {heading}.", heading=heading)


def _numbered(line: LegLine, told: list[tuple[float, str, bool]], speech: Language) -> tuple[Step, ...]:
    ahead = [at_m for at_m, _, _ in told[1:]]
    steps = []
    for number, (at_m, says, derived) in enumerate(told, start=1):
        steps.append(
            Step(
                number=number,
                at_m=at_m,
                next_m=ahead[number - 1] - at_m if number <= len(ahead) else None,
                height_m=position_at(line.track, at_m).height_m,
                compass="" if number > len(ahead) else speech.word(compass(heading_at(line.track, at_m))),
                says=says,
                derived=derived,
            )
        )
    return tuple(steps)


def _missing(line: LegLine) -> str:
    other = " in this direction" if line.stage.cues else ""
    return (
        f"Nobody has written directions for '{line.stage.name}'{other}; those given are derived from the"
        " shape of the line. Add cues to the stage, or tell the guests at the briefing."
    )
