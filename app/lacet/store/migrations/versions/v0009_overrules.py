"""Overrules name what they are about by kind and id, and which finding of their check they let stand.

Before, a subject was words glued by blanks, written otherwise by each check. A decision that isn't understood
is left out: its finding then counts again, and somebody decides anew.
"""

import re
from typing import Any

import sqlalchemy as sa
from alembic import op

from lacet.store.migrations.texts import rewrite

revision = "0009"
down_revision = "0008"

_TRIPS = sa.table("trips", sa.column("id", sa.Text))
_DAY, _GUESTS = r"day (?P<day>\S+)", r"(?P<guest>.+)"
_MEASURES = {"on foot": "walking", "by bike": "cycling", "of climb": "ascent", "moving": "moving"}
_MANY = ("guest", "over", "also")
_RENAMED = {"also": "guest", "rider": "guest"}
# By check: how a subject read, and the code of the finding it meant. Groups become kinds, in their order.
_FORMS: dict[str, tuple[tuple[str, str], ...]] = {
    "days_join_up": (
        (rf"item (?P<item>\S+) (?P<day>\S+) {_GUESTS}", "gap"),
        (rf"night (?P<place>\S+) (?P<day>\S+) {_GUESTS}", "bed_elsewhere"),
        (rf"after (?P<leg>\S+) (?P<day>\S+) {_GUESTS}", "not_fetched"),
        (rf"before (?P<leg>\S+) (?P<day>\S+) {_GUESTS}", "not_brought"),
        (rf"woke (?P<day>\S+) {_GUESTS}", "woke_apart"),
    ),
    "lodging_found": ((rf"{_DAY} {_GUESTS}", "none"),),
    "arrival_and_departure": (
        (rf"arrival date (?P<hub>\S+) {_GUESTS}", "arrival_date"),
        (rf"departure date (?P<hub>\S+) {_GUESTS}", "departure_date"),
        (rf"{_DAY} (?P<guest>.+?) arrival (?P<hub>\S+) (?P<also>.+)", "before_landing"),
        (rf"{_DAY} (?P<guest>.+?) hub (?P<hub>\S+) (?P<also>.+)", "hub"),
        (rf"{_DAY} (?P<guest>.+?) departure (?P<hub>\S+) (?P<also>.+)", "too_late"),
    ),
    "day_within_limits": (
        (rf"{_DAY} (?P<guest>.+?) (?P<measure>on foot|by bike|of climb|moving) (?P<over>.+)", "over"),
    ),
    "done_by_sunset": ((rf"{_DAY} {_GUESTS}", "late"),),
    "battery": ((rf"{_DAY} {_GUESTS} (?P<leg>\S+) (?P<rider>\S+)", "runs_low"),),
    "lodging_open": ((rf"{_DAY} closed (?P<lodging>\S+) (?P<season>.+)", "closed"),),
    "rooms_suit": (
        (rf"{_DAY} kind (?P<lodging>\S+) (?P<room>\S+) (?P<guest>.+)", "no_such_room"),
        (rf"{_DAY} beds (?P<lodging>\S+) (?P<guest>.+)", "beds"),
        (rf"{_DAY} count (?P<lodging>\S+) (?P<room>.+)", "too_few"),
        (rf"{_DAY} (?P<need>private bath|ground floor|no stairs) (?P<lodging>\S+) (?P<guest>\S+)", "need"),
    ),
    "reception_open": ((rf"{_DAY} {_GUESTS} (?P<lodging>\S+)", "closed"),),
    "dinner_found": (
        (rf"{_DAY} closed (?P<restaurant>\S+) ?(?P<lodging>\S*)", "closed"),
        (rf"{_DAY} seats (?P<restaurant>\S+)", "seats"),
        (rf"{_DAY} house (?P<lodging>\S+)", "not_served"),
        (rf"{_DAY} none ?(?P<lodging>\S*)", "none"),
    ),
    "needs_served": (
        (rf"{_DAY} (?P<guest>\S+) (?P<need>.+) (?P<meal>breakfast|packed_lunch|dinner)", "refused"),
    ),
    "bags_moved": (
        (rf"{_DAY} none ?(?P<guest>.*)", "left_behind"),
        (rf"{_DAY} late (?P<move>\S+)", "late"),
        (rf"{_DAY} access (?P<lodging>\S+)", "access"),
    ),
    "moves_carried": (
        (rf"{_DAY} room (?P<move>\S+)", "room"),
        (rf"{_DAY} runs (?P<move>\S+)", "runs"),
        (rf"{_DAY} count (?P<move>\S+)", "count"),
        (rf"{_DAY} kg (?P<move>\S+)", "kg"),
        (rf"{_DAY} means (?P<move>\S+)", "no_carrier"),
    ),
    "bike_fits": (
        *(
            (rf"hire (?P<guest>\S+) (?P<from_>\S+) {code}", code)
            for code in ("kind", "height", "load", "free")
        ),
        (rf"{_DAY} (?P<leg>\S+) without", "without"),
    ),
    "bikes_there": ((rf"{_DAY} (?P<place>\S+) {_GUESTS}", "elsewhere"),),
    "transfers_run": (
        (rf"{_DAY} {_GUESTS} (?P<ride>\S+) seats", "seats"),
        (rf"{_DAY} {_GUESTS} (?P<ride>\S+) runs", "runs"),
    ),
    "bookings_kept": ((r"booking (?P<booking>\S+) option", "option"),),
}


def upgrade() -> None:
    connection = op.get_bind()
    for (trip_id,) in connection.execute(sa.select(_TRIPS.c.id)).all():
        rewrite(connection, trip_id, lambda _, trip: _brought_over(trip))


def _brought_over(trip: dict[str, Any]) -> dict[str, Any]:
    for variant in trip.get("variants", []):
        if "overrules" in variant:
            found = [_understood(each) for each in variant["overrules"]]
            variant["overrules"] = [each for each in found if each is not None]
    return trip


def _understood(decision: dict[str, Any]) -> dict[str, Any] | None:
    for form, code in _FORMS.get(decision["check"], ()):
        match = re.fullmatch(form, decision["subject"], re.DOTALL)
        if match is not None:
            return decision | {"code": code, "subject": list(_subject(match))}
    return None


def _subject(match: re.Match[str]) -> Any:
    for group, text in match.groupdict().items():
        kind = _RENAMED.get(group, group.rstrip("_"))
        for each in text.split() if group in _MANY else (_MEASURES.get(text, text),):
            if each:
                yield {"kind": kind, "id": each}
