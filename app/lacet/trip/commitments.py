"""What other trips have already taken: rooms, bikes, seats by date. An argument, never looked up."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeAlias

from lacet.trip.words import Service

Slot: TypeAlias = tuple[Service, str, str, date]


@dataclass(frozen=True, slots=True, kw_only=True)
class Commitments:
    """Quantities taken by (service, supplier id, detail such as the room kind, night or day)."""

    taken: Mapping[Slot, int] = field(default_factory=dict)

    def count(self, service: Service, supplier: str, detail: str, on: date) -> int:
        return self.taken.get((service, supplier, detail, on), 0)


NO_COMMITMENTS = Commitments()


@dataclass(frozen=True, slots=True, kw_only=True)
class AllTaken:
    """What all trips have taken together, and the part of each: for lists, which ask for every trip."""

    total: Mapping[Slot, int]
    own: Mapping[str, Mapping[Slot, int]]

    def without(self, trip_id: str) -> Commitments:
        """What every trip but this one has taken."""
        left = dict(self.total)
        for slot, quantity in self.own.get(trip_id, {}).items():
            left[slot] -= quantity
            if not left[slot]:
                del left[slot]
        return Commitments(taken=left)
