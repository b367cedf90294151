"""Starts Lacet from the source tree: `python3 app/run.py [PROJECT.lacet]` opens the window.

Without a project it opens the last one, at the very first start the demo; `python3 app/run.py demo` opens the
demo. With other arguments it is the command line (`python3 app/run.py --help`). Standard library only: the
first start makes the environment everything else runs in.
"""

import os
import sys

import bootstrap
import system_packages

COMMAND_LINE = "import sys; from lacet.cli import main; sys.exit(main(sys.argv[1:]))"
WINDOW = "import sys; from lacet.window.app import main; sys.exit(main(['lacet', *sys.argv[1:]]))"


def main(arguments: list[str]) -> int:
    """Open the window, or run the command line if there are arguments; return its exit code."""
    window = wants_window(arguments)
    if window and not _has_display():
        bootstrap.say(
            "There is no display to open a window on; use the command line instead: python3 app/run.py --help"
        )
        return 1
    try:
        if window:
            system_packages.provide_qt_libraries()
        python = str(bootstrap.prepare())
    except system_packages.SetUpRefused as refusal:
        bootstrap.say(str(refusal))
        return 1
    # -P keeps modules that happen to lie in the current folder from standing in for Lacet's.
    command = [python, "-P", "-c", WINDOW if window else COMMAND_LINE, *arguments]
    return bootstrap.hand_over(command, bootstrap.environment_variables())


def wants_window(arguments: list[str]) -> bool:
    """Whether the arguments name nothing, a project alone, or the demo alone."""
    alone = len(arguments) == 1
    return not arguments or (alone and (arguments[0] == "demo" or arguments[0].endswith(".lacet")))


def _has_display() -> bool:
    if not system_packages.ON_LINUX:
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
