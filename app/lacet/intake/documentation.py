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
