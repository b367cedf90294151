"""The manual's table of columns, made from the same description as everything else."""

from lacet.intake.columns import SheetKind
from lacet.intake.kinds import KINDS


def columns_as_markdown() -> str:
    """Every kind of sheet with its columns, as Markdown."""
    return "\n".join(_kind_as_markdown(kind) for kind in KINDS)


def _kind_as_markdown(kind: SheetKind) -> str:
    head = f"### {kind.name}\n\n{kind.says[0].upper()}{kind.says[1:]}.\n\n"
    rows = [
        f"| `{column.name}` | {'yes' if column.required else ''} | {_escaped(column.cell.expects)} "
        f"| {_escaped(column.says)} |"
        for column in kind.columns
    ]
    return head + "\n".join(["| column | needed | holds | meaning |", "|---|---|---|---|", *rows]) + "\n"


def _escaped(text: str) -> str:
    return text.replace("|", "\\|")


def manual() -> str:
    """The whole page on sheets."""
    return f"{_INTRODUCTION}\n{columns_as_markdown()}"


_INTRODUCTION = """\
# Sheets

A library comes in from spreadsheets and goes out as such: `lacet import PROJECT FILE|FOLDER...`,
`lacet export PROJECT --sheets DIR`. `lacet template FILE` writes an empty workbook, a note at each header.

- One CSV file or one sheet of a workbook (.xlsx) holds one kind of thing and is named after it.
- Columns come in any order, cells divided by comma, semicolon, tab or bar, figures with point or comma.
- Ids tie sheets together. Reading a sheet again updates by id; `--dry-run` says what would change.
- A column that isn't there leaves what the library holds; an empty cell clears it.
- Nothing is taken in while anything is wrong.

This page is made from the description the program reads by: `python -m lacet.intake.documentation`.
"""

if __name__ == "__main__":
    print(manual(), end="")
