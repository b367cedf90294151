"""Finds what is marked for people to read: texts as values, and refusals made of a pattern."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

MAKERS = frozenset({"to_say", "to_count"})


@cache
def _trees(folder: Path) -> dict[Path, ast.Module]:
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(folder.rglob("*.py"))}


@cache
def refusals(folder: Path) -> frozenset[str]:
    """The names of `LacetError` and of all that inherit from it."""
    classes = [
        each for tree in _trees(folder).values() for each in ast.walk(tree) if isinstance(each, ast.ClassDef)
    ]
    known = {"LacetError"}
    bases = {each.name: {ast.unparse(base) for base in each.bases} for each in classes}
    while more := {name for name, above in bases.items() if known & above} - known:
        known |= more
    return frozenset(known)


@cache
def _by_pattern(folder: Path) -> frozenset[str]:
    """Those made of a pattern; the others take what they are about, and make the sentence themselves."""
    own = {
        each.name
        for tree in _trees(folder).values()
        for each in ast.walk(tree)
        if isinstance(each, ast.ClassDef)
        and any(isinstance(part, ast.FunctionDef) and part.name == "__init__" for part in each.body)
    }
    return refusals(folder) - own | {"LacetError", "NotPlain", "NewerFile", "DamagedPart"}


def calls_of_texts(folder: Path) -> Iterator[tuple[Path, ast.Call]]:
    """Every call below a folder that makes a text or a refusal."""
    wanted = MAKERS | _by_pattern(folder)
    for path, tree in _trees(folder).items():
        for each in ast.walk(tree):
            if isinstance(each, ast.Call) and isinstance(each.func, ast.Name) and each.func.id in wanted:
                yield path, each
