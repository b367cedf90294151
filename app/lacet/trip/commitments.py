"""What other trips have already taken: rooms, bikes, seats by date. An argument, never looked up."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from lacet.trip.words import Service


@dataclass(frozen=True, slots=True, kw_only=True)
class Commitments:
    """Quantities taken by (service, supplier id, detail such as the room kind, night or day)."""

    taken: Mapping[tuple[Service, str, str, date], int] = field(default_factory=dict)

    def count(self, service: Service, supplier: str, detail: str, on: date) -> int:
        return self.taken.get((service, supplier, detail, on), 0)


NO_COMMITMENTS = Commitments()
