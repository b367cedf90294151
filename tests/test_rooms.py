"""What import-linter can't see.

Above the store nobody knows where a project lies, nor what keeps it; and nothing is worked out in the window.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import grimp
import pytest

import lacet

ROOMS = ("service", "window", "cli", "demo")
# Who needs the file's own name, and for what.
LICENSED = {
    "service/importing.py": "lays elevation rasters beside the file",
    "window/app.py": "remembers which file was open last",
    "window/lost_file.py": "offers a place beside the file that was lost",
    "window/main_window.py": "remembers what was open in which file",
    "window/starting.py": "goes back to what was open in the file",
}
PROJECTS = {"project", "_project", "other"}
OF_THE_STORE = {"connection", "path", "plain"}


def reads(source: str) -> Iterator[str]:
    """What is the store's own of a project or a unit of work: 'project.path', 'unit.plain'."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Attribute):
            continue
        of = node.value.attr if isinstance(node.value, ast.Attribute) else getattr(node.value, "id", "")
        if (of in PROJECTS and node.attr == "path") or (of == "unit" and node.attr in OF_THE_STORE):
            yield f"{of}.{node.attr}"


def found() -> dict[str, list[str]]:
    root = Path(lacet.__file__).parent
    modules = [path for room in ROOMS for path in sorted((root / room).rglob("*.py"))]
    told = {path.relative_to(root).as_posix(): list(reads(path.read_text("utf-8"))) for path in modules}
    return {name: each for name, each in told.items() if each}


def test_only_the_licensed_know_where_a_project_lies() -> None:
    assert {name: set(each) for name, each in found().items()} == {
        name: {"project.path"} for name in LICENSED
    }


@pytest.mark.parametrize(
    "line",
    ["self.session.project.path.parent", "open(project.path)", "unit.connection.execute(x)", "unit.plain"],
)
def test_breaking_the_rule_is_seen(line: str) -> None:
    assert list(reads(line))


@pytest.mark.parametrize(
    "line", ["raster.path", "arguments.project", "project.name", "project.rasters(names)"]
)
def test_other_paths_are_nobodys_business(line: str) -> None:
    assert not list(reads(line))


QT = {"PySide6", "pyqtgraph", "shiboken6"}
# What needs no Qt and still belongs to the window; all else works something out, and belongs beneath it.
VIEW_HELP = {
    "lacet.window.commands.listed": "the list of commands",
    "lacet.window.map.page": "the page the browser engine shows",
    "lacet.window.sheet.geometry": "pixels of columns",
}


def without_qt(graph: grimp.ImportGraph) -> set[str]:
    """Modules of the window that come to no Qt, however far one follows their imports; no packages."""
    modules = graph.find_descendants("lacet.window")
    return {
        each
        for each in modules
        if not graph.find_children(each) and not graph.find_upstream_modules(each) & QT
    }


def test_what_needs_no_qt_is_worked_out_beneath_the_window() -> None:
    graph = grimp.build_graph("lacet", include_external_packages=True, cache_dir=None)
    assert without_qt(graph) == set(VIEW_HELP)
    graph.add_module("lacet.window.sums")
    graph.add_import(importer="lacet.window.sums", imported="lacet.figures.day")
    assert "lacet.window.sums" in without_qt(graph)
