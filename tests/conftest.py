"""What every test stands on: repeatable properties, a home of its own, no screen, no leftover windows.

Only `tests/window` uses Qt. Nothing here imports PySide6, so the other rooms' tests also run without it
(`python3 tests/run.py -p no:pytest-qt tests/tracks`).
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# Qt reads these when it starts, so they are set before any test module is imported.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
if hasattr(os, "geteuid") and os.geteuid() == 0:
    # Chromium refuses to start its sandbox as root.
    os.environ.setdefault("QTWEBENGINE_CHROMIUM_FLAGS", "--no-sandbox --disable-gpu")

settings.register_profile("lacet", derandomize=True, deadline=None)
settings.load_profile("lacet")

NO_SCREEN = "This plugin does not support propagateSizeHints"
"""What the platform without a screen says of every window that is shown."""

HOME_VARIABLES = (
    "HOME",
    "USERPROFILE",
    "APPDATA",
    "LOCALAPPDATA",
    "XDG_CONFIG_HOME",
    "XDG_DATA_HOME",
    "XDG_CACHE_HOME",
    "XDG_STATE_HOME",
)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Let a warning of Qt fail the test it appears in, unless the test sets a level of its own.

    Marks are used because the matching settings in pyproject.toml are errors where pytest-qt is switched off.
    """
    if not config.pluginmanager.has_plugin("pytest-qt"):
        return
    for item in items:
        own = item.get_closest_marker("qt_log_ignore")
        item.add_marker(pytest.mark.qt_log_ignore(*(own.args if own else ()), NO_SCREEN))
        if item.get_closest_marker("qt_log_level_fail") is None:
            item.add_marker(pytest.mark.qt_log_level_fail("WARNING"))


@pytest.fixture(scope="session", autouse=True)
def no_home_of_a_person(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Point every home variable at an empty folder, so that nobody's settings are read or changed."""
    with pytest.MonkeyPatch.context() as patch:
        _settle_in(tmp_path_factory.mktemp("home"), patch)
        yield


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give one test an empty home of its own."""
    folder = tmp_path / "home"
    folder.mkdir()
    _settle_in(folder, monkeypatch)
    return folder


def _settle_in(folder: Path, patch: pytest.MonkeyPatch) -> None:
    for name in HOME_VARIABLES:
        patch.setenv(name, str(folder))


@pytest.fixture(autouse=True)
def no_window_left_behind() -> Iterator[None]:
    """Fail a test that leaves a visible window open, and close that window for the next one."""
    yield
    widgets = sys.modules.get("PySide6.QtWidgets")
    application = widgets.QApplication.instance() if widgets else None
    if application is None:
        return
    left = [window for window in application.topLevelWidgets() if window.isVisible()]
    names = [f"{type(window).__name__} {window.windowTitle()!r}" for window in left]
    for window in left:
        window.close()
    assert not names, f"windows left open: {', '.join(names)}"
