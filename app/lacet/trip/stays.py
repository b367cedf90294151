"""Stays: nights in one house one after the other, as the pills of the journey sheet show them.

A trip keeps nights by day; a stay is only a way of reading them. Those who sleep apart have stays of their
own. Another version of the same house is the same stay.
"""

from dataclasses import dataclass

from lacet.trip.library import Ref
from lacet.trip.trip import Day, Leg, Ride, Travellers, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """Nights in one house, one after the other: `first` is the index of the first one's day (0-based).

    `lodging` is the version the first night points at.
    """

    lodging: Ref
    travellers: Travellers
    first: int
    nights: int

    @property
    def last(self) -> int:
        """Index of the day whose night is the last of the stay."""
        return self.first + self.nights - 1


def stays(variant: Variant) -> tuple[Stay, ...]:
    """All stays of a variant, by first day and then in the order of that day's nights."""
    running: dict[tuple[str, Travellers], Stay] = {}
    done: list[Stay] = []
    for index, day in enumerate(variant.days):
        tonight = {(night.lodging.id, night.travellers): night.lodging for night in day.nights}
        done += [stay for key, stay in running.items() if key not in tonight]
        running = {key: _longer(running.get(key), lodging, key[1], index) for key, lodging in tonight.items()}
    return tuple(sorted((*done, *running.values()), key=lambda stay: stay.first))


def stay_of(variant: Variant, day_index: int, lodging_id: str) -> Stay | None:
    """The stay that sleeps in this house on this day (0-based), or None."""
    for stay in stays(variant):
        if stay.lodging.id == lodging_id and stay.first <= day_index <= stay.last:
            return stay
    return None


def is_rest_day(day: Day) -> bool:
    """Whether nobody goes anywhere: no leg and no ride. What there is to see may still fill it."""
    return not any(isinstance(item, Leg | Ride) for item in day.items)


def _longer(stay: Stay | None, lodging: Ref, travellers: Travellers, index: int) -> Stay:
    if stay is None:
        return Stay(lodging=lodging, travellers=travellers, first=index, nights=1)
    return Stay(lodging=stay.lodging, travellers=travellers, first=stay.first, nights=stay.nights + 1)
