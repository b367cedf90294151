"""Marks of a file as points of the stages they lie along."""

from pathlib import Path

import pytest

from lacet.intake.proposals import accept, propose
from lacet.intake.waypoints import kind_told, offered
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.words import PointKind
from tests.intake.files import BASE, METRES_PER_DEGREE, library, line


def mark(
    along_m: float, name: str = "", *, east_deg: float = 0.0, kind: str = "", symbol: str = ""
) -> Waypoint:
    """A mark so far along the line that `files.line` draws."""
    return Waypoint(
        BASE[0] + along_m / METRES_PER_DEGREE, BASE[1] + east_deg, name=name, kind=kind, symbol=symbol
    )


def test_marks_near_the_line_are_offered_in_the_order_they_are_passed() -> None:
    far = mark(500, "Far away", east_deg=0.01)
    found = offered(line(0, 3_000), (mark(2_000, "Top spring"), mark(1_000, "Bench"), far))
    assert [(each.point.name, each.sure) for each in found] == [("Bench", False), ("Top spring", True)]
    assert [each.point.along_m for each in found] == pytest.approx([1_000, 2_000], abs=3)


@pytest.mark.parametrize(
    ("waypoint", "kind"),
    [
        (mark(0, "Lower fountain"), PointKind.WATER),
        (mark(0, "Old mill", symbol="Restaurant"), PointKind.FOOD),
        (mark(0, "Spring Inn", kind="shelter"), PointKind.SHELTER),
        (mark(0, "Taxi at the bridge"), PointKind.TAXI_PICKUP),
        (mark(0, "Wellington's home"), None),
    ],
)
def test_the_files_own_words_tell_the_kind_and_whole_words_only(
    waypoint: Waypoint, kind: PointKind | None
) -> None:
    assert kind_told(waypoint) is kind


def test_only_marks_whose_kind_is_told_are_taken_unasked(tmp_path: Path) -> None:
    path = tmp_path / "day.gpx"
    lines = (GpxLine("Day", "", "track", line(0, 3_000)),)
    marks = (mark(1_000, "Anna's home"), mark(2_000, "Top spring"))
    path.write_bytes(write_gpx(GpxDocument(name="day", lines=lines, waypoints=marks)))
    (proposal,) = propose([path], library()).proposals
    assert [each.point.name for each in proposal.offered] == ["Anna's home", "Top spring"]
    assert [point.name for point in accept(proposal).stage.points] == ["Top spring"]
