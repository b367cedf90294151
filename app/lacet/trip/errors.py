"""The root of everything Lacet refuses.

`str(error)` is the one plain sentence a person reads: what was refused, where, and what to do. Subclasses
live beside the code that raises them and carry their data as attributes, so that callers never parse text.
"""


class LacetError(Exception):
    """Something a person asked for that Lacet refuses, told in one plain sentence.

    Parameters
    ----------
    sentence
        What was refused, where, and what to do about it.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence
