"""A signal without Qt: who listens is called, in order, with what is sent."""

from collections.abc import Callable
from typing import Generic, TypeVar

Sent = TypeVar("Sent")


class Signal(Generic[Sent]):
    """Listeners are kept strongly; whoever listens must disconnect before it goes away."""

    def __init__(self) -> None:
        self._listeners: list[Callable[[Sent], None]] = []

    def connect(self, listener: Callable[[Sent], None]) -> Callable[[], None]:
        """Listen; call what is returned to stop."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener) if listener in self._listeners else None

    def send(self, value: Sent) -> None:
        """Call every listener; those who join meanwhile wait for the next time."""
        for listener in tuple(self._listeners):
            listener(value)
