"""Where the files that ship with Lacet are, in a source tree and in an installed wheel alike.

Every file that isn't Python is reached through here. In a wheel the files lie inside the package; in a source
tree they lie in `resources/` and `example_projects/` at its top.
"""

from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

_PACKAGE = files("lacet")
_TREE = Path(__file__).resolve().parent.parent.parent


def resource(name: str) -> Traversable:
    """Return a file or folder of `resources/`, named by its path with forward slashes.

    Raises
    ------
    FileNotFoundError
        If nothing of that name ships.
    """
    return _found(_root("_resources", "resources"), name)


def example_project(name: str) -> Traversable:
    """Return the folder of an example project, for instance `verrin`.

    Raises
    ------
    FileNotFoundError
        If no project of that name ships.
    """
    return _found(_root("_examples", "example_projects"), name)


@cache
def _root(in_wheel: str, in_tree: str) -> Traversable:
    inside = _PACKAGE / in_wheel
    return inside if inside.is_dir() else _TREE / in_tree


def _found(root: Traversable, name: str) -> Traversable:
    item = root.joinpath(*name.split("/"))
    if not (item.is_file() or item.is_dir()):
        raise FileNotFoundError(f"{name} is not among the files that ship with Lacet")
    return item
