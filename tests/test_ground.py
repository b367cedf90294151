"""The ground everything stands on: the two commands, the locks, the package and what ships with it."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest

import bootstrap
import lacet
import system_packages
from lacet.resources import example_project, resource
from lacet.trip.errors import LacetError

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def _locked(lock: Path) -> dict[str, str]:
    """Return the lines of a lock, hashes included, by the name of the package and its marker."""
    entries = re.split(r"\n(?=[A-Za-z])", lock.read_text(encoding="utf-8"))
    return {entry.split(" \\\n")[0]: entry for entry in entries if not entry.startswith("#")}


def _names(requirements: list[str]) -> set[str]:
    return {re.split(r"[^A-Za-z0-9._-]", line)[0].lower().replace("_", "-") for line in requirements}


class TestLocks:
    @pytest.mark.parametrize(
        "lock", [bootstrap.APP_LOCK, bootstrap.TESTS_LOCK], ids=lambda path: path.parent.name
    )
    def test_every_package_is_pinned_and_hashed(self, lock: Path) -> None:
        for requirement, entry in _locked(lock).items():
            assert re.match(r"[a-z0-9-]+==\S+( ; .+)?$", requirement)
            assert "--hash=sha256:" in entry

    @pytest.mark.parametrize(
        "lock", [bootstrap.APP_LOCK, bootstrap.TESTS_LOCK], ids=lambda path: path.parent.name
    )
    def test_no_address_is_written_into_a_lock(self, lock: Path) -> None:
        text = lock.read_text(encoding="utf-8")
        assert "://" not in text
        assert "index" not in re.sub(r"^[a-z].*", "", text, flags=re.MULTILINE)

    def test_the_lock_of_the_tests_holds_all_of_the_lock_of_the_app(self) -> None:
        assert _locked(bootstrap.APP_LOCK).items() <= _locked(bootstrap.TESTS_LOCK).items()

    def test_each_dependency_is_locked(self) -> None:
        project = PROJECT["project"]["dependencies"]
        assert _names(project) <= _names(list(_locked(bootstrap.APP_LOCK)))
        assert _names(PROJECT["dependency-groups"]["test"]) <= _names(list(_locked(bootstrap.TESTS_LOCK)))

    def test_each_dependency_is_explained_in_the_readme(self) -> None:
        readme = (ROOT / "README.md").read_text(encoding="utf-8").lower()
        assert [
            name for name in _names(PROJECT["project"]["dependencies"]) if f"**{name}**" not in readme
        ] == []


@pytest.fixture
def tree(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty source tree with a lock, in place of this one."""
    lock = tmp_path / "app" / "requirements.lock"
    lock.parent.mkdir()
    lock.write_text("nothing==1\n", encoding="utf-8")
    environment = tmp_path / ".venv"
    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap, "ENVIRONMENT", environment)
    monkeypatch.setattr(bootstrap, "STAMP", environment / "lacet-set-up.json")
    monkeypatch.setattr(bootstrap, "GUARD", tmp_path / ".venv.lock")
    monkeypatch.setattr(bootstrap, "APP_LOCK", lock)
    monkeypatch.setattr(bootstrap, "_create_environment", lambda: _touch(bootstrap.environment_python()))
    return tmp_path


def _touch(path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.touch()


class TestSetUp:
    def test_a_finished_environment_is_not_made_again(
        self, tree: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        installed: list[Path] = []
        monkeypatch.setattr(bootstrap, "_install", installed.append)
        assert bootstrap.prepare() == bootstrap.prepare() == bootstrap.environment_python()
        assert installed == [tree / "app" / "requirements.lock"]

    def test_a_half_made_environment_is_made_again(self, tree: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        def fail(lock: Path) -> None:
            raise system_packages.SetUpRefused(f"{lock.name} can't be fetched")

        monkeypatch.setattr(bootstrap, "_install", fail)
        with pytest.raises(system_packages.SetUpRefused, match="can't be fetched"):
            bootstrap.prepare()
        assert not bootstrap.STAMP.exists()
        installed: list[Path] = []
        monkeypatch.setattr(bootstrap, "_install", installed.append)
        bootstrap.prepare()
        assert len(installed) == 1

    def test_a_changed_lock_is_installed_into_the_finished_environment(
        self, tree: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        installed: list[Path] = []
        monkeypatch.setattr(bootstrap, "_install", installed.append)
        bootstrap.prepare()
        bootstrap.APP_LOCK.write_text("nothing==2\n", encoding="utf-8")
        monkeypatch.setattr(bootstrap, "_create_environment", lambda: pytest.fail("made from nothing"))
        bootstrap.prepare()
        assert len(installed) == 2

    def test_another_python_makes_it_from_nothing(self, tree: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(bootstrap, "_install", lambda lock: None)
        bootstrap.prepare()
        stamp = json.loads(bootstrap.STAMP.read_text(encoding="utf-8"))
        bootstrap.STAMP.write_text(json.dumps(stamp | {"python": "3.10"}), encoding="utf-8")
        created: list[bool] = []
        monkeypatch.setattr(bootstrap, "_create_environment", lambda: created.append(True))
        bootstrap.prepare()
        assert created == [True]

    def test_two_starts_never_set_up_at_once(self, tree: Path) -> None:
        with bootstrap._one_at_a_time(), bootstrap.GUARD.open("a+b") as second:
            assert not bootstrap._try_to_hold(second.fileno())
        with bootstrap.GUARD.open("a+b") as third:
            assert bootstrap._try_to_hold(third.fileno())

    def test_a_folder_that_cannot_be_written_is_told_in_a_sentence(
        self, tree: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(bootstrap, "GUARD", tree / "missing" / ".venv.lock")
        with pytest.raises(system_packages.SetUpRefused, match="can't write its environment"):
            bootstrap.prepare()

    def test_who_is_not_root_is_told_the_exact_command(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(system_packages, "is_root", lambda: False)
        with pytest.raises(system_packages.SetUpRefused) as refusal:
            system_packages.provide(["libegl1", "libnss3"], "Qt needs")
        command = "sudo apt-get install -y --no-install-recommends libegl1 libnss3"
        assert str(refusal.value).endswith(command)

    def test_a_machine_without_package_lists_fetches_them_first(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        ran: list[str] = []

        def apt(command: Sequence[str]) -> bool:
            ran.append(command[1])
            return command[1] == "update" or ran.count("update") == 1

        monkeypatch.setattr(system_packages, "is_root", lambda: True)
        monkeypatch.setattr(system_packages, "_apt", apt)
        system_packages.provide(["libegl1"], "Qt needs")
        assert ran == ["install", "update", "install"]

    def test_packages_that_cannot_be_installed_are_told_with_the_command(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(system_packages, "is_root", lambda: True)
        monkeypatch.setattr(system_packages, "_apt", lambda command: False)
        with pytest.raises(system_packages.SetUpRefused, match=r"apt-get install -y .* libegl1$"):
            system_packages.provide(["libegl1"], "Qt needs")

    @pytest.mark.skipif(
        not sys.platform.startswith("linux"), reason="only Linux leaves Qt's libraries to the system"
    )
    def test_a_library_the_loader_does_not_find_is_missing(self, monkeypatch: pytest.MonkeyPatch) -> None:
        libraries = {"libc.so.6": ("libc6",), "libneverheardof.so.0": ("libneverheardof0",)}
        monkeypatch.setattr(system_packages, "QT_LIBRARIES", libraries)
        assert system_packages.missing_libraries() == ["libneverheardof.so.0"]


def _run(*arguments: str, **changed: str) -> subprocess.CompletedProcess[str]:
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM", "PYTHONPATH")
    variables = {name: value for name, value in os.environ.items() if name not in hidden} | changed
    command = [sys.executable, *arguments]
    return subprocess.run(command, env=variables, capture_output=True, text=True, check=False)


class TestCommands:
    @pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems always have a display")
    def test_without_a_display_the_command_line_is_named(self) -> None:
        done = _run(str(ROOT / "app" / "run.py"))
        assert done.returncode == 1
        assert done.stdout == ""
        assert done.stderr.count("\n") == 1
        assert "python3 app/run.py --help" in done.stderr

    def test_an_older_python_is_refused_in_a_sentence(self) -> None:
        pretend = "import sys; sys.version_info = (3, 10, 4); import bootstrap"
        done = _run("-c", pretend, PYTHONPATH=str(ROOT / "app"))
        assert done.returncode == 1
        assert done.stderr.startswith("Lacet needs Python 3.11 or newer, and this is Python 3.10;")

    @pytest.mark.parametrize("script", ["app/run.py", "app/bootstrap.py"])
    def test_an_older_python_can_read_as_far_as_that_sentence(self, script: str) -> None:
        ast.parse((ROOT / script).read_text(encoding="utf-8"), feature_version=(3, 7))

    def test_starting_needs_nothing_but_the_standard_library(self) -> None:
        look = "import sys, run; print(*sorted({name.split('.')[0] for name in sys.modules}))"
        done = _run("-I", "-S", "-c", f"import sys; sys.path.insert(0, {str(ROOT / 'app')!r}); {look}")
        own = {"run", "bootstrap", "system_packages", "__main__"}
        assert set(done.stdout.split()) - own <= sys.stdlib_module_names | set(sys.builtin_module_names)


class TestPackage:
    def test_importing_it_imports_nothing_else_of_it(self) -> None:
        look = "import sys, lacet; print(*[name for name in sys.modules if name.startswith('lacet.')])"
        assert _run("-c", look, PYTHONPATH=str(ROOT / "app")).stdout.split() == []

    def test_only_the_window_needs_qt(self) -> None:
        package = ROOT / "app" / "lacet"
        outside = [
            ".".join(("lacet", *path.relative_to(package).with_suffix("").parts)).removesuffix(".__init__")
            for path in sorted(package.rglob("*.py"))
            if path.relative_to(package).parts[0] != "window" and "migrations" not in path.parts
        ]
        imports = "".join(f"import {name}\n" for name in outside if not name.endswith("__main__"))
        blocked = "import sys\nsys.modules['PySide6'] = sys.modules['shiboken6'] = None\n"
        done = _run("-c", blocked + imports, PYTHONPATH=str(ROOT / "app"))
        assert done.returncode == 0, done.stderr

    def test_an_error_is_the_sentence_a_person_reads(self) -> None:
        assert str(LacetError("Day 3 has no end; add a stage.")) == "Day 3 has no end; add a stage."


class TestResources:
    def test_a_file_that_ships_is_found_in_the_source_tree(self) -> None:
        assert resource("lacet.svg").read_text(encoding="utf-8").startswith("<svg")

    @pytest.mark.parametrize("find", [resource, example_project])
    def test_a_file_that_does_not_ship_is_named(self, find: object) -> None:
        assert callable(find)
        with pytest.raises(FileNotFoundError, match="nowhere is not among the files that ship"):
            find("nowhere")

    def test_a_wheel_carries_the_package_its_resources_and_the_demo(self, tmp_path: Path) -> None:
        build = [
            sys.executable,
            "-m",
            "build",
            "--wheel",
            "--no-isolation",
            "--outdir",
            str(tmp_path),
            str(ROOT),
        ]
        subprocess.run(build, check=True, capture_output=True)
        (wheel,) = tmp_path.glob("lacet-*.whl")
        assert wheel.name.startswith(f"lacet-{lacet.__version__}-")
        installed = tmp_path / "installed"
        zipfile.ZipFile(wheel).extractall(installed)
        look = (
            "import lacet; from lacet.resources import resource, example_project\n"
            "print(lacet.__file__, resource('lacet.svg').is_file(), example_project('verrin').is_dir())"
        )
        done = _run("-I", "-c", f"import sys; sys.path.insert(0, {str(installed)!r}); {look}")
        assert done.stdout.split() == [str(installed / "lacet" / "__init__.py"), "True", "True"], done.stderr
