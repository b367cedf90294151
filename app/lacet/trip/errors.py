"""The root of everything Lacet refuses.

`str(error)` is the one plain sentence a person reads: what was refused, where, and what to do; `error.says`
is the same for any language. Subclasses live beside the code that raises them and carry their data as
attributes, so that callers never parse text.
"""

from lacet.language import Text


class LacetError(Exception):
    """Something a person asked for that Lacet refuses, told in one plain sentence.

    Parameters
    ----------
    pattern
        What was refused, where, and what to do about it; what differs from case to case stands in braces.
    values
        What stands in the braces, by name.
    """

    def __init__(self, pattern: str | Text, /, **values: object) -> None:
        super().__init__(pattern)
        self.says = pattern if isinstance(pattern, Text) else Text(pattern, tuple(values.items()))

    def __str__(self) -> str:
        return str(self.says)
