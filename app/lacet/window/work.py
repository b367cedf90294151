"""Work that may take longer than a moment: off the window's thread, with progress, and to be called off."""

import gc
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from threading import Lock, Thread
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from lacet.trip.errors import LacetError

SHOWN_AFTER_MS = 600
MUCH_READ_S = 2.0
UNFINISHED = "This could not be finished: something unexpected went wrong in Lacet."
Step = Callable[[int, int], None]


class CalledOff(LacetError):
    """The person has called it off."""


class Work(QObject):
    """One errand at a time. `then` is called with what it made, or `refused` with a sentence.

    `stepped` tells how far it is, for whoever shows that by themselves.
    """

    _done = Signal(object, object)
    stepped = Signal(int, int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        # Threads of Python's own: in a pool's thread every errand has another Python state; a library that
        # keeps something per thread (PROJ) then uses what has gone.
        self._thread: Thread | None = None
        self._one = Lock()
        self._told: QProgressDialog | None = None
        self._off = False
        self._last = 0
        self.busy = False
        self._done.connect(self._on_done)
        self.stepped.connect(self._on_stepped)

    def run(
        self,
        says: str,
        errand: Callable[[Step], Any],
        then: Callable[[Any], None],
        refused: Callable[[str], None],
        *,
        may_be_called_off: bool = True,
        quiet: bool = False,
    ) -> None:
        """Do an errand; a window with its progress appears when it takes longer than a moment.

        Parameters
        ----------
        errand
            Is given a function to tell (done, of) with; that function raises when the person calls it off.
        quiet
            No window: somebody tells the progress elsewhere, or nobody waits for it.
        """
        self._off, self._last, self.busy = False, 0, True
        if not quiet:
            self._told = self._progress(says, may_be_called_off)

        def task() -> None:
            # A full garbage collection looks at all that was read so far, and stops the window meanwhile.
            gc.disable()
            began = time.perf_counter()
            try:
                made: Any = errand(self._step)
                answer: Callable[[], None] = lambda: then(made)  # noqa: E731 - one of two answers
            except LacetError as refusal:
                sentence = (
                    "Called off; nothing was changed." if isinstance(refusal, CalledOff) else str(refusal)
                )
                answer = lambda: refused(sentence)  # noqa: E731 - the other
            except Exception as fault:
                # Told like a refusal, so that the window goes on; the report gets where it came from.
                sys.excepthook(type(fault), fault, fault.__traceback__)
                answer = lambda: refused(UNFINISHED)  # noqa: E731 - as above
            finally:
                if time.perf_counter() - began > MUCH_READ_S:
                    # What was read stays in memory; later collections needn't look at it.
                    gc.freeze()
                gc.enable()
            # The window may have been closed meanwhile.
            with suppress(RuntimeError):
                self._done.emit(answer, None)

        def in_turn() -> None:
            with self._one:
                task()

        self._thread = Thread(target=in_turn, name=says)
        self._thread.start()

    def call_off(self) -> None:
        """Let what is being done end at its next step."""
        self._off = True

    def wait(self) -> None:
        """Until nothing is being done; for the end of the window."""
        if self._thread is not None:
            self._thread.join()

    def _step(self, done: int, of: int) -> None:
        if self._off:
            raise CalledOff("Called off.")
        share = done * 100 // max(of, 1)
        if share != self._last:
            self._last = share
            self.stepped.emit(done, of)

    def _on_stepped(self, done: int, of: int) -> None:
        if self._told is not None:
            self._told.setMaximum(of)
            self._told.setValue(min(done, of - 1))

    def _on_done(self, answer: Callable[[], None], _: object) -> None:
        self.busy = False
        if self._told is not None:
            self._told.close()
            self._told.deleteLater()
            self._told = None
        answer()

    def _progress(self, says: str, may_be_called_off: bool) -> QProgressDialog:
        parent = self.parent()
        assert isinstance(parent, QWidget)
        told = QProgressDialog(says, "Call it off", 0, 0, parent)
        told.setWindowTitle("Lacet")
        told.setWindowModality(Qt.WindowModality.WindowModal)
        told.setAutoClose(False)
        told.setAutoReset(False)
        told.setMinimumDuration(SHOWN_AFTER_MS)
        if not may_be_called_off:
            told.setCancelButton(None)
        told.canceled.connect(self.call_off)
        # Starts its clock: it shows itself when that has run.
        told.setValue(0)
        return told
