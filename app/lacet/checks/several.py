"""How several findings of one cause are said in one line: named by the check that finds them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Several:
    """A pattern for many findings of one code.

    Attributes
    ----------
    says
        The sentence. A value that differs from finding to finding is put in as all of them, each once.
    by
        Values that must be the same in all of them: other values make another line.
    most
        Values of which the largest stands for all.
    """

    says: str
    by: tuple[str, ...] = ()
    most: tuple[str, ...] = ()
