"""From rows to library items, on top of what the library holds: keys, parts and references.

A column that a sheet doesn't have leaves what the library holds; an empty cell clears it. Where a sheet of
parts is read (rooms), every item it names, and every item read beside it, gets exactly the rows there are.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from lacet.intake.columns import Fields, SheetKind
from lacet.intake.kinds import BY_NAME, ITEMS, PARTS
from lacet.intake.problems import SheetProblem
from lacet.intake.rows import Row
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import LibraryItem
from lacet.trip.words import Service

_NEEDED_BY_SERVICE = {
    Service.LODGING: ("lodgings",),
    Service.RESTAURANT: ("restaurants", "lodgings"),
    Service.TRANSFER: ("transfers",),
}


@dataclass(slots=True)
class Builder:
    """Gathers rows of all sheets and makes items of them."""

    catalogue: Catalogue
    rows: dict[str, dict[str, Row]] = field(default_factory=dict)
    parts: dict[str, dict[str, list[Row]]] = field(default_factory=dict)
    problems: list[SheetProblem] = field(default_factory=list)

    def begin(self, kind: SheetKind) -> None:
        """Say that a sheet of this kind is read, even if it turns out to have no rows."""
        (self.parts if kind.parent else self.rows).setdefault(kind.name, {})

    def add(self, row: Row) -> None:
        """Take a row; two with one id are a problem."""
        kind = row.kind
        if kind.parent:
            self.parts[kind.name].setdefault(row.values.pop("parent"), []).append(row)
            return
        known = self.rows[kind.name]
        item_id = row.values["id"]
        if item_id in known:
            first = known[item_id]
            self.problems.append(
                row.problem(f"'{item_id}' is there already, in {first.file} row {first.number}; "
                            "give one of the two another id.", "id")
            )  # fmt: skip
            return
        known[item_id] = row

    def items(self) -> tuple[LibraryItem, ...]:
        """All items, parts included; what is wrong is in `problems`."""
        made: list[LibraryItem] = []
        for kind in ITEMS:
            for item_id in self._ids(kind):
                item = self._item(kind, item_id)
                if item is not None:
                    made.append(item)
        self._check_references()
        return tuple(made)

    def _ids(self, kind: SheetKind) -> Iterator[str]:
        """Items with a row of their own, then those that are only named by parts."""
        own = self.rows.get(kind.name, {})
        yield from own
        named = {parent: None for part in _parts_of(kind) for parent in self.parts.get(part.name, {})}
        yield from (parent for parent in named if parent not in own)

    def _item(self, kind: SheetKind, item_id: str) -> Any:
        row = self.rows.get(kind.name, {}).get(item_id)
        base = self.catalogue.latest(kind.makes, item_id)
        if row is None and base is None:
            self._tell_orphans(kind, item_id)
            return None
        fields = {} if row is None else dict(row.values)
        for part in _parts_of(kind):
            if part.name in self.parts:
                fields[part.parent_field] = self._part_values(part, item_id)
        if kind.name == "tariffs" and base is None and not fields.get("rates"):
            assert row is not None, "a tariff without rates has a row of its own"
            self.problems.append(row.problem("it has no rates; add rows for it in the sheet rates.", "id"))
            return None
        if kind.name == "stages" and base is None:
            fields["track_id"] = ""
        return self._made(kind, fields, base, row)

    def _part_values(self, part: SheetKind, item_id: str) -> tuple[Any, ...]:
        rows = self.parts[part.name].get(item_id, [])
        made = (self._made(part, row.values, None, row) for row in rows)
        return tuple(value for value in made if value is not None)

    def _made(self, kind: SheetKind, fields: Fields, base: Any, row: Row | None) -> Any:
        """A value of the kind; None with a problem told where a row leaves out what a new one needs."""
        missing = _missing(kind, fields) if base is None else ()
        if missing and row is not None:
            names = ", ".join(missing)
            self.problems.append(row.problem(f"it is new, so it needs {names} too; add the column."))
            return None
        known = {} if base is None else kind.fields_of(base)
        filled = {name: _filled(kind, name, value) for name, value in fields.items()}
        try:
            wanted = kind.take(known | filled)
            return kind.makes(**wanted) if base is None else replace(base, **wanted)
        except LacetError as refusal:
            assert row is not None, "what the library holds is sound"
            self.problems.append(row.problem(str(refusal)))
            return None

    def _tell_orphans(self, kind: SheetKind, item_id: str) -> None:
        for part in _parts_of(kind):
            for row in self.parts.get(part.name, {}).get(item_id, ())[:1]:
                says = (
                    f"there is no {kind.one} '{item_id}', neither in the {kind.name} read nor in the library."
                )
                self.problems.append(row.problem(says, row.header_of("parent")))

    def _check_references(self) -> None:
        for kind in ITEMS:
            for row in self.rows.get(kind.name, {}).values():
                self.problems += self._lost(row)

    def _lost(self, row: Row) -> Iterator[SheetProblem]:
        """References of a row that lead nowhere."""
        for column in row.kind.columns:
            wanted = row.values.get(column.field) if column.refers else None
            if wanted and not self._is_known(column.refers, wanted):
                yield row.problem(_nowhere(BY_NAME[column.refers].one, wanted), column.name)
        for depot in row.values.get("depots") or ():
            if not self._is_known("places", depot.place):
                yield row.problem(_nowhere("place", depot.place), "depots")
        service = row.values.get("service")
        kinds = () if service is None else _NEEDED_BY_SERVICE.get(service, ())
        subject = row.values.get("subject_id")
        if kinds and not any(subject and self._is_known(kind, subject) for kind in kinds):
            says = _nowhere(" or ".join(BY_NAME[kind].one for kind in kinds), subject or "")
            yield row.problem(says, "subject")

    def _is_known(self, kind_name: str, item_id: str) -> bool:
        read = self.rows.get(kind_name, {})
        return item_id in read or self.catalogue.latest(BY_NAME[kind_name].makes, item_id) is not None


def _parts_of(kind: SheetKind) -> tuple[SheetKind, ...]:
    return tuple(part for part in PARTS if part.parent == kind.name)


def _missing(kind: SheetKind, fields: Fields) -> tuple[str, ...]:
    return tuple(
        column.name
        for column in kind.columns
        if column.required and column.field != "parent" and fields.get(column.field) is None
    )


def _filled(kind: SheetKind, name: str, value: Any) -> Any:
    """An empty cell means the field's default."""
    if value is not None:
        return value
    column = next((each for each in kind.columns if each.field == name), None)
    return None if column is None else kind.default_of(column)


def _nowhere(kind: str, item_id: str) -> str:
    return (
        f"there is no {kind} '{item_id}', neither in what is read nor in the library; correct it or add it."
    )
