"""PySide6 itself is sound on this Python.

PySide6 6.12.0 on Python 3.10 and 3.11 drops a reference to None in every Qt call that returns nothing; some
thousands of calls later the process dies. From Python 3.12 on None is immortal and can't be dropped.
"""

import sys

from PySide6.QtCore import QObject

CALLS = 200


def test_calls_that_return_nothing_keep_their_reference_to_none() -> None:
    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        thing.setObjectName("anything")
    assert abs(sys.getrefcount(None) - before) < CALLS / 2
