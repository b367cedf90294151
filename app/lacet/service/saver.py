"""Who saves: at once where nobody waits for a picture, else a thread of its own, one errand after another."""

from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any, Protocol

# What an errand came to, or why it failed.
Answer = Callable[[Any, Exception | None], None]


class Saver(Protocol):
    """Runs errands in the order in which they came, and hands on what each came to."""

    def run(self, errand: Callable[[], Any], answer: Answer) -> None:
        """Do an errand; `answer` gets its result, or None and why it failed."""

    def wait(self) -> None:
        """Until every errand is done and answered."""

    def close(self) -> None:
        """Wait, then let the thread go."""


class AtOnce:
    """Saves on the spot: `run` returns when the errand is answered."""

    def run(self, errand: Callable[[], Any], answer: Answer) -> None:
        answer(*_outcome(errand))

    def wait(self) -> None:
        """Nothing is ever under way."""

    def close(self) -> None:
        """Nothing to let go."""


class Worker:
    """Saves on a thread of its own; answers are given on the thread that calls `deliver` or `wait`.

    Parameters
    ----------
    ready
        Called from the worker's thread when there is an answer to deliver.
    """

    def __init__(self, ready: Callable[[], None]) -> None:
        self._ready = ready
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="saving")
        self._under_way: deque[tuple[Future[tuple[Any, Exception | None]], Answer]] = deque()

    def run(self, errand: Callable[[], Any], answer: Answer) -> None:
        future = self._pool.submit(_outcome, errand)
        self._under_way.append((future, answer))
        future.add_done_callback(lambda _: self._ready())

    def deliver(self) -> None:
        """Give the answers that have come, in order."""
        while self._under_way and self._under_way[0][0].done():
            self._answer_first()

    def wait(self) -> None:
        while self._under_way:
            self._answer_first()

    def close(self) -> None:
        self.wait()
        self._pool.shutdown()

    def _answer_first(self) -> None:
        future, answer = self._under_way[0]
        outcome = future.result()
        # An answer may wait itself, and must not find its own errand again.
        self._under_way.popleft()
        answer(*outcome)


def _outcome(errand: Callable[[], Any]) -> tuple[Any, Exception | None]:
    try:
        return errand(), None
    except Exception as error:
        return None, error
