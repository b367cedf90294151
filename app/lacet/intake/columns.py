"""What a sheet is made of: the description from which reading, writing, templates and the manual derive."""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Any, Protocol

Fields = dict[str, Any]


class CellKind(Protocol):
    """A sort of value; see `cells`."""

    @property
    def expects(self) -> str:
        """What belongs in the cell, for templates, the manual and sentences."""

    def read(self, text: str, comma: bool = False) -> Any:
        """The value of a text that isn't empty; `comma` = a lone comma can only be a decimal one."""

    def write(self, value: Any) -> str:
        """The text that `read` makes the value of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column.

    Parameters
    ----------
    field
        The item's field, or a name that the kind's `take` and `give` know; "" = understood, but not kept.
    refers
        The kind of sheet whose ids belong here, or "".
    only_read
        Understood where a sheet has it, but never written.
    """

    name: str
    says: str
    cell: CellKind
    field: str
    required: bool = False
    refers: str = ""
    only_read: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """One kind of sheet: a row is one value of `makes`.

    Parameters
    ----------
    parent, parent_field
        For what belongs to an item (rooms to a lodging): the parent's kind and the field that holds the
        rows. The first column then names the parent.
    take, give
        From fields by name to what `makes` is called with, and back, where they differ.
    """

    name: str
    one: str
    makes: type[Any]
    says: str
    columns: tuple[Column, ...]
    parent: str = ""
    parent_field: str = ""
    take: Callable[[Fields], Fields] = lambda known: known
    give: Callable[[Any], Fields] | None = None

    @property
    def written(self) -> tuple[Column, ...]:
        """The columns that are written; those that are only understood are left out."""
        return tuple(column for column in self.columns if column.field and not column.only_read)

    @property
    def kept(self) -> tuple[Column, ...]:
        """The columns that say something about the item itself."""
        return tuple(column for column in self.columns if column.field and column.field != "parent")

    def fields_of(self, item: Any) -> Fields:
        """The values of an item by field name."""
        if self.give is not None:
            return self.give(item)
        return {each.field: getattr(item, each.field) for each in self.kept if hasattr(item, each.field)}

    def default_of(self, column: Column) -> Any:
        """What an empty cell means."""
        return defaults_of(self.makes).get(column.field)


def defaults_of(kind: type[Any]) -> Mapping[str, Any]:
    """The defaults of a dataclass by field name."""
    return {each.name: each.default for each in fields(kind) if each.default is not MISSING}
