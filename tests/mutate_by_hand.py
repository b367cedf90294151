"""How well the tests bite: changes one sign of the program at a time and tells what no test noticed.

Run by hand, for it takes minutes: `PYTHONPATH=app:. .venv/bin/python tests/mutate_by_hand.py 210`; how many,
then a seed and parts of module names if wished. Each change is made in memory as the module is imported, in a
process of its own; no file is ever touched. Some of what survives no test can notice: a limit moved where
nothing lies on it, or a shortcut that saves time only.
"""

import ast
import copy
import importlib.abc
import os
import random
import subprocess
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parent.parent
LACET = ROOT / "app" / "lacet"
TESTS = {
    "settle": ("tests/test_settle.py", "tests/test_assess.py", "tests/checks/test_fixes.py"),
    "digest": ("tests/test_digest.py",),
    "figures": ("tests/figures", "tests/test_assess.py", "tests/checks/test_batteries.py"),
    "effort": ("tests/effort", "tests/figures"),
    "price": ("tests/price",),
    "checks": ("tests/checks",),
    "trip": ("tests/trip", "tests/settings"),
    "store": ("tests/store",),
    "service": ("tests/service",),
    "days": ("tests/days",),
}
"""The tests that have to notice a change in each room."""

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
}  # fmt: skip
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "minimum": "maximum", "maximum": "minimum"}
PATIENCE_S = 120
WORKERS = 2


@dataclass(frozen=True)
class Mutant:
    """One change: the module, the number of the node among those that can change, and what is read there."""

    module: str
    number: int
    line: int
    before: str
    after: str


def sites(tree: ast.AST) -> Iterator[ast.AST]:
    """The nodes that can change, in order; texts, types, decorators and refusals are left as they are."""
    for child in ast.iter_child_nodes(tree):
        if isinstance(child, ast.JoinedStr | ast.Raise | ast.Assert | ast.arguments):
            continue
        if isinstance(child, ast.FunctionDef | ast.ClassDef):
            for part in child.body:
                yield from sites(ast.Module([part], []))
            continue
        if isinstance(child, ast.AnnAssign):
            yield from sites(ast.Module([ast.Expr(child.value)], []) if child.value else ast.Module([], []))
            continue
        if changed(child) is not None:
            yield child
        yield from sites(child)


def changed(node: ast.AST) -> ast.AST | None:
    """The node with one sign changed, or None where it has none to change."""
    new = copy.deepcopy(node)
    match new:
        case ast.Compare(ops=[only]) if type(only) in COMPARISONS:
            new.ops = [COMPARISONS[type(only)]()]
        case ast.BoolOp():
            new.op = ast.And() if isinstance(new.op, ast.Or) else ast.Or()
        case ast.UnaryOp(op=ast.Not()):
            return new.operand
        case ast.BinOp() if type(new.op) in ARITHMETIC and not _of_text(new):
            new.op = ARITHMETIC[type(new.op)]()
        case ast.Call(func=ast.Name(id=name)) if name in CALLS:
            new.func = ast.Name(CALLS[name], ast.Load())
        case ast.Call(func=ast.Attribute(attr=name) as function) if name in CALLS and len(new.args) > 1:
            function.attr = CALLS[name]
        case ast.Constant(value=bool()):
            new.value = not new.value
        case ast.Constant(value=int() | float() as value):
            new.value = value + 1
        case ast.IfExp():
            new.body, new.orelse = new.orelse, new.body
        case _:
            return None
    return new


def _of_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(part, ast.JoinedStr | ast.Constant)
        and not isinstance(getattr(part, "value", ""), int | float)
        for part in (node.left, node.right)
    )


class Swap(ast.NodeTransformer):
    """Puts one node in the place of another."""

    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        return ast.copy_location(self.new, node) if node is self.old else self.generic_visit(node)


def mutants(module: str, file: Path) -> Iterator[Mutant]:
    for number, node in enumerate(sites(ast.parse(file.read_text(encoding="utf-8")))):
        after = changed(node)
        assert after is not None
        line = getattr(node, "lineno", 0)
        yield Mutant(module, number, line, ast.unparse(node), ast.unparse(ast.fix_missing_locations(after)))


class Planted(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds and loads one module, with its change."""

    def __init__(self, module: str, number: int) -> None:
        self.module, self.number = module, number
        self.file = LACET.joinpath(*module.split(".")[1:]).with_suffix(".py")

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        return ModuleSpec(name, self, origin=str(self.file)) if name == self.module else None

    def exec_module(self, module: ModuleType) -> None:
        tree = ast.parse(self.file.read_text(encoding="utf-8"))
        node = list(sites(tree))[self.number]
        after = changed(node)
        assert after is not None
        mutated = ast.fix_missing_locations(Swap(node, after).visit(tree))
        assert isinstance(mutated, ast.Module)
        module.__file__ = str(self.file)
        exec(compile(mutated, str(self.file), "exec"), module.__dict__)


def run_one(module: str, number: int, tests: list[str]) -> int:
    """Within the child: plant the change and run the tests until one fails."""
    import pytest

    sys.meta_path.insert(0, Planted(module, number))
    return int(
        pytest.main(["-x", "-qq", "-p", "no:pytest-qt", "-p", "no:xdist", "-p", "no:cacheprovider", *tests])
    )


def survives(mutant: Mutant) -> bool:
    room = mutant.module.split(".")[1]
    command = [sys.executable, __file__, "--one", mutant.module, str(mutant.number), *TESTS[room]]
    variables = dict(os.environ, PYTHONPATH=os.pathsep.join((str(ROOT / "app"), str(ROOT))))
    try:
        done = subprocess.run(
            command, cwd=ROOT, env=variables, capture_output=True, timeout=PATIENCE_S, check=False
        )
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def every() -> Iterator[Mutant]:
    for room in TESTS:
        files = sorted((LACET / room).rglob("*.py")) or [LACET / f"{room}.py"]
        for file in files:
            name = ".".join(("lacet", *file.relative_to(LACET).with_suffix("").parts))
            if file.name != "__init__.py":
                yield from mutants(name, file)


def main(count: int, seed: int, parts: list[str]) -> None:
    wanted = [each for each in every() if not parts or any(part in each.module for part in parts)]
    chosen = random.Random(seed).sample(wanted, min(count, len(wanted)))
    print(f"{len(chosen)} of {len(wanted)} changes, seed {seed}", flush=True)
    survivors = 0
    with ThreadPoolExecutor(WORKERS) as pool:
        for mutant, alive in zip(chosen, pool.map(survives, chosen), strict=True):
            survivors += alive
            if alive:
                print(
                    f"survived {mutant.module}:{mutant.line}  {mutant.before}  ->  {mutant.after}", flush=True
                )
    print(f"{len(chosen) - survivors} killed, {survivors} survived")


if __name__ == "__main__":
    if sys.argv[1] == "--one":
        sys.exit(run_one(sys.argv[2], int(sys.argv[3]), sys.argv[4:]))
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1, sys.argv[3:])
