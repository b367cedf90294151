"""Guests, apart from the trip: each party and traveller is a row of its own that never changes.

A trip's text names row numbers and traveller ids only. Another name or age makes another row, so every
revision still finds its own guests, and forgetting them is deleting their rows.
"""

from typing import Any

import orjson
from sqlalchemy import Connection, Table, bindparam, delete, insert, select

from lacet.store.errors import DamagedFile
from lacet.store.keeping import decoding, digest_of, json_of
from lacet.store.tables import PARTIES, TRAVELLERS

_TEXTS = ("name", "emergency_contact", "telephone", "email")
_NUMBERS = ("age", "height_cm", "mass_kg")
_KNOWN = {
    table.name: select(table.c.digest, table.c.row_id).where(table.c.trip_id == bindparam("trip_id"))
    for table in (PARTIES, TRAVELLERS)
}


def put_apart(connection: Connection, trip_id: str, plain: dict[str, Any]) -> int | None:
    """Keep the guests of a trip's plain data in their own rows and leave only their numbers in it.

    Returns
    -------
    int | None
        Row number of the party, or None when there is nobody.
    """
    party = plain.get("party")
    if not party:
        return None
    rows = [(guest, _traveller_columns(guest)) for guest in party.get("travellers", ())]
    numbers = _keep(connection, TRAVELLERS, trip_id, [columns for _, columns in rows])
    row = _keep(connection, PARTIES, trip_id, [_party_columns(party)])[0]
    kept: dict[str, Any] = {"row": row}
    if rows:
        kept["travellers"] = [[guest["id"], number] for (guest, _), number in zip(rows, numbers, strict=True)]
    if "sharing" in party:
        kept["sharing"] = party["sharing"]
    plain["party"] = kept
    return row


def bring_back(connection: Connection, plain: dict[str, Any]) -> None:
    """Put the guests back into a trip's plain data in place of their numbers."""
    kept = plain.get("party")
    if not kept:
        return
    with decoding("a party"):
        plain["party"] = _brought_back(connection, kept)


def _brought_back(connection: Connection, kept: dict[str, Any]) -> dict[str, Any]:
    numbers = [number for _, number in kept.get("travellers", ())]
    guests = _rows(connection, TRAVELLERS, numbers) if numbers else {}
    party = _plain_party(_rows(connection, PARTIES, [kept["row"]])[kept["row"]])
    if numbers:
        party["travellers"] = [_plain_traveller(guests[number]) for number in numbers]
    if "sharing" in kept:
        party["sharing"] = kept["sharing"]
    return party


def forget(connection: Connection, trip_id: str) -> None:
    """Delete every guest any revision of a trip ever had."""
    for table in (PARTIES, TRAVELLERS):
        connection.execute(delete(table).where(table.c.trip_id == trip_id))


def _keep(connection: Connection, table: Table, trip_id: str, rows: list[dict[str, Any]]) -> list[int]:
    known = dict(connection.execute(_KNOWN[table.name], {"trip_id": trip_id}).all())
    numbers = []
    for columns in rows:
        digest = digest_of(json_of(columns))
        if digest not in known:
            made = connection.execute(insert(table), {"trip_id": trip_id, "digest": digest} | columns)
            (known[digest],) = made.inserted_primary_key or (None,)
        numbers.append(known[digest])
    return numbers


def _rows(connection: Connection, table: Table, numbers: list[int]) -> dict[int, Any]:
    found = connection.execute(select(table).where(table.c.row_id.in_(numbers)))
    rows = {row.row_id: row for row in found}
    if not rows.keys() >= set(numbers):
        raise DamagedFile("The guests of a trip are missing from the file. Restore the newest backup.")
    return rows


def _traveller_columns(guest: dict[str, Any]) -> dict[str, Any]:
    rest = dict(guest)
    columns: dict[str, Any] = {"id": rest.pop("id")}
    columns |= {name: rest.pop(name, "") for name in _TEXTS}
    columns |= {name: rest.pop(name, None) for name in _NUMBERS}
    columns["needs"] = json_of(rest.pop("needs", [])).decode()
    return columns | {"rest": json_of(rest).decode()}


def _plain_traveller(row: Any) -> dict[str, Any]:
    plain: dict[str, Any] = {"id": row.id, **orjson.loads(row.rest)}
    plain |= {name: getattr(row, name) for name in _TEXTS if getattr(row, name)}
    plain |= {name: getattr(row, name) for name in _NUMBERS if getattr(row, name) is not None}
    needs = orjson.loads(row.needs)
    return plain | ({"needs": needs} if needs else {})


def _party_columns(party: dict[str, Any]) -> dict[str, Any]:
    rest = {name: part for name, part in party.items() if name not in {"travellers", "sharing"}}
    columns = {name: rest.pop(name, "") for name in ("name", "address")}
    return columns | {"rest": json_of(rest).decode()}


def _plain_party(row: Any) -> dict[str, Any]:
    plain = {name: getattr(row, name) for name in ("name", "address") if getattr(row, name)}
    rest: dict[str, Any] = orjson.loads(row.rest)
    return plain | rest
