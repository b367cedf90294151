"""`lacet demo`: the island of Verrin with its trips, as a project to try."""

import argparse

from lacet.cli.telling import progress, say


def demo(arguments: argparse.Namespace) -> None:
    """Write the demo project into a folder and print the path of its file."""
    from lacet.demo import write_demo

    with progress("Building Verrin"):
        path = write_demo(arguments.directory)
    say(str(path))
