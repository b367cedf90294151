"""What two versions of an item differ by, and one field set on many, before anything is saved."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from lacet.intake.columns import Column
from lacet.service.library.fields import DeskKind, Draft, Names, Trouble, draft_of, label_of, read

NOBODY_SAID = "not said"
SINGLE = frozenset({"name", "latitude", "longitude", "from_place", "to_place", "ways"})


@dataclass(frozen=True, slots=True)
class Would:
    """What setting a field would do to one item: `after` is None where it can't be; `says` tells why."""

    before: Any
    after: Any
    old: str
    new: str
    says: str = ""

    @property
    def changes(self) -> bool:
        return self.after is not None and self.after != self.before


def differences(kind: DeskKind, old: Any, new: Any) -> tuple[str, ...]:
    """One phrase for each field that differs: "Breakfast: 07:30-10:00 → 08:00-10:00"."""
    if old is None:
        return ("first version",)
    before, after = draft_of(kind, old), draft_of(kind, new)
    said = [
        f"{_full_label(kind, column)}: {_said(before.texts[column.name])} → {_said(after.texts[column.name])}"
        for column in kind.columns
        if before.texts[column.name] != after.texts[column.name]
    ]
    for part in kind.parts:
        one, other = before.rows[part.field], after.rows[part.field]
        if one != other:
            said.append(f"{part.title}: {_rows_changed(one, other)}")
    if getattr(old, "picture_ids", ()) != getattr(new, "picture_ids", ()):
        said.append("pictures")
    if getattr(old, "track_id", "") != getattr(new, "track_id", ""):
        said.append("another line")
    if old.retired != new.retired:
        said.append("retired" if new.retired else "offered again")
    return tuple(said)


def _rows_changed(one: tuple[Any, ...], other: tuple[Any, ...]) -> str:
    if len(one) != len(other):
        return f"{len(one)} → {len(other)} rows"
    return f"{sum(first != second for first, second in zip(one, other, strict=True))} changed"


def settable(kind: DeskKind) -> tuple[Column, ...]:
    """The fields that make sense on many items at once."""
    return tuple(column for column in kind.columns if column.name not in SINGLE)


def set_on_many(kind: DeskKind, column: Column, text: str, items: Sequence[Any], names: Names) -> list[Would]:
    """What each item would become with one field set; nothing is saved."""
    return [_would(kind, column, text, item, names) for item in items]


def field_label(kind: DeskKind, column: Column) -> str:
    """A field's label that is clear without its section."""
    return _full_label(kind, column)


def _would(kind: DeskKind, column: Column, text: str, item: Any, names: Names) -> Would:
    draft = draft_of(kind, item)
    changed = Draft({**draft.texts, column.name: text}, draft.rows)
    after, troubles = read(kind, changed, item, item.id, names)
    old = draft.texts[column.name]
    if after is None:
        return Would(item, None, old, text, _first(troubles, column))
    new = draft_of(kind, after).texts[column.name]
    # A stage without a way has nowhere to keep what is underfoot there.
    lost = text.strip() and not new
    return Would(item, after, old, new, "it isn't meant for that way" if lost else "")


def _first(troubles: list[Trouble], column: Column) -> str:
    own = [each.says for each in troubles if each.field == column.name]
    return own[0] if own else f"another field is wrong: {troubles[0].says}"


def _full_label(kind: DeskKind, column: Column) -> str:
    twice = sum(label_of(each) == label_of(column) for each in kind.columns) > 1
    if not twice:
        return label_of(column)
    return f"{label_of(column)}, {'on foot' if column.name.endswith('_walking') else 'by bike'}"


def _said(text: str) -> str:
    return f"'{text}'" if text else NOBODY_SAID


def again(old: Any, newest: Any) -> Any:
    """An old version as it would be saved anew: offered or retired as the newest is."""
    return replace(old, retired=newest.retired)
