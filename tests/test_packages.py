"""Which room stands on which package: what is imported is declared, and each package has its rooms."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
LACET = ROOT / "app" / "lacet"

ROOMS = {
    "PIL": {"documents", "intake", "tracks"},
    "PySide6": {"window"},
    "affine": {"tracks"},
    "alembic": {"store"},
    "babel": {"days", "documents", "language", "price", "window", "wording"},
    "branca": {"window"},
    "cattrs": {"trip"},
    "contourpy": {"documents"},
    "folium": {"window"},
    "gpxpy": {"tracks"},
    "holidays": {"days"},
    "icalendar": {"documents"},
    "jinja2": {"documents", "window"},
    "markupsafe": {"documents"},
    "numpy": {
        "compare",
        "documents",
        "effort",
        "figures",
        "intake",
        "service",
        "store",
        "tracks",
        "window",
    },
    "opening_hours": {"days"},
    "openpyxl": {"documents", "intake"},
    "orjson": {"cli", "digest", "service", "store", "tracks", "trip", "window"},
    "platformdirs": {"unexpected", "window"},
    "pyproj": {"tracks"},
    "pyqtgraph": {"window"},
    "rasterio": {"tracks"},
    "rich": {"cli"},
    "segno": {"documents"},
    "shapely": {"documents", "intake", "tracks"},
    "shiboken6": {"window"},
    "sqlalchemy": {"store"},
    "typst": {"documents"},
    "tzdata": {"days"},
    "tzfpy": {"days"},
    "xstatic": {"window"},
}
"""The rooms that may import each package; what isn't here has no reason to be used yet."""

DATA_ONLY = {"fontpkg-amiri", "noto-cjk-sans-jp-regular"}
"""Declared without an import: fonts, found through their files."""

PART_OF = {"shiboken6": "pyside6", "xstatic": "xstatic-leaflet"}
"""Modules that come with a package of another name, or that several packages share."""

WITHOUT_QT = """
import importlib, importlib.abc, pkgutil, sys

class NoQt(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {"PySide6", "shiboken6", "pyqtgraph", "pytestqt"}:
            raise ModuleNotFoundError(f"{name} isn't installed here", name=name)

sys.meta_path.insert(0, NoQt())
"""


def imports_of(file: Path) -> Iterator[str]:
    """The first part of every module a file imports, lazily or only for types too."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name.partition(".")[0] for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module.partition(".")[0]


def used() -> dict[str, set[str]]:
    """Every package from outside that the program imports, and the rooms that do."""
    found: dict[str, set[str]] = {}
    for file in LACET.rglob("*.py"):
        room = file.relative_to(LACET).parts[0].removesuffix(".py")
        for name in imports_of(file):
            if name != "lacet" and name not in sys.stdlib_module_names:
                found.setdefault(name, set()).add(room)
    return found


def normal(name: str) -> str:
    """A package's name as indexes compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def declared() -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return {normal(re.split(r"[^\w.-]", wanted)[0]) for wanted in project["dependencies"]}


def test_each_package_is_imported_in_its_rooms_alone() -> None:
    assert used() == ROOMS


def test_what_is_imported_is_declared_and_what_is_declared_is_imported() -> None:
    brings = packages_distributions()
    needed = {PART_OF.get(name) or normal(brings[name][0]) for name in used()}
    assert needed | DATA_ONLY == declared()


def test_readme_says_what_each_package_is_for() -> None:
    rows = re.findall(r"^\| (\*\*.+?\*\*) \|", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    told = {normal(name) for row in rows for name in re.findall(r"\*\*(.+?)\*\*", row)}
    assert told == declared()


def run_without_qt(program: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", WITHOUT_QT + program], cwd=ROOT, capture_output=True, text=True, check=False
    )


def test_all_rooms_but_the_window_stand_without_qt(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(ROOT / "app"))
    done = run_without_qt("""
import lacet
for module in pkgutil.walk_packages(lacet.__path__, "lacet."):
    if module.name != "lacet.__main__" and not module.name.startswith("lacet.window"):
        importlib.import_module(module.name)
""")
    assert done.returncode == 0, done.stderr


def test_all_tests_but_those_of_the_window_are_found_without_qt(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(ROOT / "app"))
    done = run_without_qt("""
import pytest
plugins = ["-p", "no:pytest-qt", "-p", "no:xdist"]
sys.exit(pytest.main(["--collect-only", "-qq", *plugins, "--ignore=tests/window"]))
""")
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr


ENTRANCES = {"lacet.__main__", "lacet.cli", "lacet.window.app", "lacet.intake.documentation"}
"""What a person starts; the last writes `resources/sheets.md`."""

MIGRATIONS = "lacet.store.migrations"
"""Found by alembic in their folder."""

BY_NAME = re.compile(r'"([a-z_]+):[a-z_]+"')
"""How `cli/parser.py` names the function of a command: a module of `cli`, loaded when it is asked for."""


def modules() -> dict[str, Path]:
    named = {
        ".".join(file.relative_to(LACET.parent).with_suffix("").parts): file for file in LACET.rglob("*.py")
    }
    return {name.removesuffix(".__init__"): file for name, file in named.items()}


def reached_from(file: Path, known: set[str]) -> Iterator[str]:
    """The modules of the program a file imports, their packages, and commands by name."""
    text = file.read_text(encoding="utf-8")
    for node in ast.walk(ast.parse(text)):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [name.name for name in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names = [node.module, *(f"{node.module}.{name.name}" for name in node.names)]
        for name in names:
            parts = name.split(".")
            yield from known & {".".join(parts[:end]) for end in range(1, len(parts) + 1)}
    if file == LACET / "cli" / "parser.py":
        yield from known & {f"lacet.cli.{name}" for name in BY_NAME.findall(text)}


def test_every_module_is_reached_from_the_window_or_the_command_line() -> None:
    files = modules()
    known, seen, waiting = set(files), set[str](), list(ENTRANCES)
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            waiting += reached_from(files[name], known)
    assert {name for name in known - seen if not name.startswith(MIGRATIONS)} == set()
