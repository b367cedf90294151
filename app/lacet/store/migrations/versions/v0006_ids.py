"""Nights, meals, moves, hires and crossings get ids; what named days by number names ids, or a date."""

import re
from datetime import date, timedelta
from typing import Any

import sqlalchemy as sa
from alembic import op

from lacet.store.migrations.texts import rewrite

revision = "0006"
down_revision = "0005"

_TRIPS = sa.table("trips", sa.column("id", sa.Text))
_OF_MOVES = ("bags_moved", "moves_carried")
_MOVE = re.compile(r"(day )(\S+)( (?:late|count|kg|means|room|runs) )(\d+)")
_HIRE = re.compile(r"hire (\S+) (\d+) (.*)", re.DOTALL)


def upgrade() -> None:
    connection = op.get_bind()
    for (trip_id,) in connection.execute(sa.select(_TRIPS.c.id)).all():
        rewrite(connection, trip_id, lambda _, trip: _brought_over(trip))


def _brought_over(trip: dict[str, Any]) -> dict[str, Any]:
    variants = trip.get("variants", [])
    for variant in variants:
        _name_days(variant)
        for day in variant.get("days", []):
            _name_parts(day)
        _rename_subjects(variant)
    if fixed := trip.pop("fixed_through", 0):
        found = next((each for each in _chosen_first(trip) if len(each.get("days", [])) >= fixed), None)
        if found is not None:
            trip["fixed_through"] = found["days"][fixed - 1]["id"]
    start = trip.get("start")
    crossings = (*trip.get("arrivals", []), *trip.get("departures", []))
    for count, crossing in enumerate(crossings, start=1):
        crossing["id"] = f"c{count}"
        number = crossing.pop("day", None)
        if number is not None and start is not None:
            crossing["on"] = (date.fromisoformat(start) + timedelta(days=number - 1)).isoformat()
    return trip


def _chosen_first(trip: dict[str, Any]) -> list[dict[str, Any]]:
    """The variant the client accepted, else the one proposed, before the others."""
    accepted = (trip.get("accepted") or {}).get("variant")
    order = {accepted: 0, trip.get("proposed"): 1}
    return sorted(trip.get("variants", []), key=lambda variant: order.get(variant["id"], 2))


def _name_days(variant: dict[str, Any]) -> None:
    """Numbers of days become their ids; a hire that ran past the last day runs to the last."""
    ids = [day["id"] for day in variant.get("days", [])]
    kept: list[dict[str, Any]] = []
    for hire in variant.get("hires", []):
        first, last = hire.pop("from_day", 1), hire.pop("to_day", None)
        if first > max(len(ids), 1):
            continue
        if first > 1:
            hire["from_day"] = ids[first - 1]
        if last is not None and last <= len(ids):
            hire["to_day"] = ids[last - 1]
        kept.append(hire | {"id": f"h{len(kept) + 1}"})
    if "hires" in variant:
        variant["hires"] = kept
    for decision in variant.get("overrules", []):
        subject = _HIRE.fullmatch(decision.get("subject", ""))
        if subject is not None and 1 < int(subject[2]) <= len(ids):
            decision["subject"] = f"hire {subject[1]} {ids[int(subject[2]) - 1]} {subject[3]}"


def _name_parts(day: dict[str, Any]) -> None:
    """Ids after the day's own ("d7" gives "n7", then "n7.2"): the same in every revision that has the day."""
    after = day["id"].removeprefix("d")
    for field, prefix in (("nights", "n"), ("meals", "m"), ("moves", "mv")):
        for count, part in enumerate(day.get(field, []), start=1):
            part["id"] = f"{prefix}{after}" if count == 1 else f"{prefix}{after}.{count}"


def _rename_subjects(variant: dict[str, Any]) -> None:
    """Decisions about a move named it by its place in the day's list."""
    moves = {day["id"]: day.get("moves", []) for day in variant.get("days", [])}
    for decision in variant.get("overrules", []):
        subject = _MOVE.fullmatch(decision.get("subject", ""))
        if decision["check"] not in _OF_MOVES or subject is None:
            continue
        of_day, index = moves.get(subject[2], []), int(subject[4])
        if index < len(of_day):
            decision["subject"] = f"{subject[1]}{subject[2]}{subject[3]}{of_day[index]['id']}"
