"""The wheel carries all it needs: built, installed outside the tree, and at work there."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path
from zipfile import ZipFile

import pytest

ROOT = Path(__file__).resolve().parent.parent


def run(*command: str | Path, where: Path) -> str:
    """What a command says, in a folder outside the tree and without the tree on its path."""
    variables = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(command, cwd=where, env=variables, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def outside(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with an environment in which the wheel is installed, over the packages of the tests' own."""
    folder = tmp_path_factory.mktemp("outside")
    run(sys.executable, "-m", "build", "--no-isolation", "--wheel", "--outdir", folder, ROOT, where=folder)
    (wheel,) = folder.glob("*.whl")
    venv.create(folder / "installed", with_pip=False)
    python = binary(folder, "python")
    install = ("-m", "pip", "--python", python, "install", "-q", "--no-compile", "--no-deps", "--no-index")
    run(sys.executable, *install, wheel, where=folder)
    packages = Path(
        run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", where=folder).strip()
    )
    (packages / "tests_own.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    return folder


def binary(folder: Path, name: str) -> Path:
    return folder / "installed" / ("Scripts" if os.name == "nt" else "bin") / name


def test_it_is_the_wheel_that_runs(outside: Path) -> None:
    found = run(binary(outside, "python"), "-c", "import lacet; print(lacet.__file__)", where=outside)
    assert Path(found.strip()).is_relative_to(outside / "installed")
    assert (Path(found.strip()).parent / "py.typed").is_file()


def test_the_demo_is_written_and_assessed(outside: Path) -> None:
    project = run(binary(outside, "lacet"), "demo", outside, where=outside).strip()
    said = run(binary(outside, "lacet"), "assess", project, "1", "A", "--json", where=outside)
    assert json.loads(said)["totals"]


def test_everything_of_resources_came_along(outside: Path) -> None:
    (wheel,) = outside.glob("*.whl")
    with ZipFile(wheel) as packed:
        carried = {
            name.removeprefix("lacet/_resources/") for name in packed.namelist() if "/_resources/" in name
        }
    there = [file for file in (ROOT / "resources").rglob("*") if file.is_file()]
    assert carried == {file.relative_to(ROOT / "resources").as_posix() for file in there}


def test_the_licences_are_shown_there(outside: Path) -> None:
    assert "pyside6" in run(binary(outside, "lacet"), "licences", where=outside)
