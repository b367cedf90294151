"""Stages: the words of `stages.toml` joined with the line the net gives them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from journeys import Journey, find_journey
from network import Network


@dataclass(frozen=True, slots=True)
class Closure:
    """When a stage is shut, `season` as month-day..month-day; `level` is advice or authority."""

    season: str
    level: str
    text: str


@dataclass(frozen=True, slots=True)
class Stage:
    id: str
    name: str
    start: str
    end: str
    ways: str
    text: str
    highlights: tuple[str, ...]
    closure: Closure | None
    journey: Journey


def read_stages(path: Path, network: Network) -> tuple[Stage, ...]:
    """All stages of the file, each with its line through the net."""
    rows = tomllib.loads(path.read_text(encoding="utf-8"))["stage"]
    stages = []
    for row in rows:
        start, end = row["between"]
        journey = find_journey(network, (start, *row.get("through", ()), end), row["taste"])
        closure = (
            Closure(row["closed"], row["closure_level"], row["closure_text"]) if "closed" in row else None
        )
        text, highlights = row["text"].strip(), tuple(row.get("highlights", ()))
        stages.append(
            Stage(row["id"], row["name"], start, end, row["ways"], text, highlights, closure, journey)
        )
    return tuple(stages)
