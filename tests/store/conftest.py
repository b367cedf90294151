"""A project to try things on; making one costs a migration, so a finished one is copied for each test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from lacet.store import Project, open_project
from tests.store.things import fill


@pytest.fixture(scope="session")
def filled_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project file with a small library, a trip of four named guests. Not to be changed."""
    path = tmp_path_factory.mktemp("filled") / "filled.lacet"
    with open_project(path, create=True) as project:
        fill(project)
    return path


@pytest.fixture
def path(filled_file: Path, tmp_path: Path) -> Path:
    """A filled project file of one's own."""
    mine = tmp_path / "mine.lacet"
    shutil.copy(filled_file, mine)
    return mine


@pytest.fixture
def project(path: Path) -> Iterator[Project]:
    """A filled project, open."""
    with open_project(path) as opened:
        yield opened
