"""Lines of a night: rooms or persons, board that the room's price doesn't hold, and the visitor tax.

A house sells rooms when its tariff has any rate per room and night; a room's price then covers everyone
in it, and a rate per person with a board and no room kind is a supplement: what brings the room's own
board up to that one. Otherwise it sells beds: a rate per person and night, by age. A rate that names no
board holds breakfast.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from lacet.price.costing import Costing
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.rooms import rooms_used, sleepers
from lacet.price.tariffs import BOARDS, Ask, Found
from lacet.trip.library import Lodging
from lacet.trip.trip import Day, Night, RoomUse
from lacet.trip.words import Board, Service, Unit

BOARD_WORDS = {
    Board.ROOM_ONLY: "room only",
    Board.BREAKFAST: "breakfast",
    Board.HALF_BOARD: "half board",
    Board.FULL_BOARD: "full board",
}


def night_lines(costing: Costing, number: int, day: Day, stays: tuple[int, ...]) -> Iterator[QuoteLine]:
    """All lines of the nights after a day. `stays` tells how long the stay is that each night belongs to."""
    for night, stay in zip(day.nights, stays, strict=True):
        asleep = sleepers(costing.party, number, day, night)
        if asleep:
            yield from _Sleep(costing, number, day, night, stay, asleep).lines()


def stay_lengths(days: tuple[Day, ...]) -> tuple[tuple[int, ...], ...]:
    """For every night of every day, how many nights on end the house is slept in."""
    houses = [{night.lodging.id for night in day.nights} for day in days]

    def length(index: int, house: str) -> int:
        first = last = index
        while first > 0 and house in houses[first - 1]:
            first -= 1
        while last + 1 < len(days) and house in houses[last + 1]:
            last += 1
        return last - first + 1

    return tuple(
        tuple(length(index, night.lodging.id) for night in day.nights) for index, day in enumerate(days)
    )


class _Sleep:
    """One night in one house, being priced."""

    def __init__(
        self, costing: Costing, number: int, day: Day, night: Night, stay: int, asleep: tuple[str, ...]
    ) -> None:
        self.costing, self.night, self.stay, self.asleep = costing, night, stay, asleep
        self.when = costing.when(number)
        self.house = costing.catalogue.get(Lodging, night.lodging)
        self.shared: dict[str, Any] = {
            "service": Service.LODGING,
            "subject": night.lodging.id,
            "item": day.id,
            "day": number,
            "payer": night.payer,
            "stay_nights": stay,
        }
        self.ask = Ask(
            service=Service.LODGING,
            subject=night.lodging.id,
            unit=Unit.ROOM_NIGHT,
            board=night.board,
            nights=stay,
        )

    def lines(self) -> Iterator[QuoteLine]:
        if self.house is None:
            yield self._unknown(Unknown.NOT_IN_LIBRARY, "the library doesn't hold this house")
            return
        sells_rooms = self.costing.book.sells(Service.LODGING, self.house.id, Unit.ROOM_NIGHT)
        for rooms in self._alike(self.house):
            if self.house.rooms and not rooms[0].kind:
                yield self._unknown(Unknown.NO_RATE, "no room of the house holds so many", rooms)
            elif sells_rooms:
                yield from self._rooms(self.house, rooms)
            else:
                yield from self._beds(self.house, rooms)
        yield from self._taxes(self.house)

    def _alike(self, house: Lodging) -> Iterator[tuple[RoomUse, ...]]:
        """Rooms of one kind with equally many in them: they cost the same, so they make one line."""
        alike: dict[tuple[str, int], list[RoomUse]] = {}
        for room in rooms_used(self.night, house, self.asleep, self.costing.party):
            alike.setdefault((room.kind, len(room.travellers)), []).append(room)
        for rooms in alike.values():
            yield tuple(rooms)

    def _rooms(self, house: Lodging, rooms: tuple[RoomUse, ...]) -> Iterator[QuoteLine]:
        sharing = len(rooms[0].travellers)
        ask = replace(self.ask, room_kind=rooms[0].kind, single_use=sharing == 1)
        found = self.costing.book.find(ask, self.when)
        says = f"{house.name}: {rooms[0].kind or 'room'}, {BOARD_WORDS[self._board_given(found)]}"
        what = self._of(rooms) | {"board": self._board_given(found)}
        yield from self.costing.lines(found, len(rooms), says=says, unit=Unit.ROOM_NIGHT, **what)
        if found.rate is not None and self._lacks_board(found.rate.board):
            yield from self._supplements(house, _everyone(rooms))

    def _beds(self, house: Lodging, rooms: tuple[RoomUse, ...]) -> Iterator[QuoteLine]:
        sharing = len(rooms[0].travellers)
        ask = replace(self.ask, unit=Unit.PERSON_NIGHT, room_kind=rooms[0].kind, single_use=sharing == 1)
        for found, travellers in self.costing.by_rate(ask, _everyone(rooms), self.when):
            board = self._board_given(found)
            what = self._of(rooms) | {"travellers": travellers, "board": board}
            says = f"{house.name}: per person in a {rooms[0].kind or 'room'}, {BOARD_WORDS[board]}"
            yield from self.costing.lines(found, len(travellers), says=says, unit=Unit.PERSON_NIGHT, **what)
            if found.rate is not None and self._lacks_board(found.rate.board):
                says = f"{house.name}: {BOARD_WORDS[self.night.board]}"
                yield self.costing.unknown(
                    Unknown.NO_RATE,
                    "its tariff has no rate with this board",
                    quantity=len(travellers),
                    says=says,
                    unit=Unit.PERSON_NIGHT,
                    travellers=travellers,
                    **self.shared,
                )

    def _supplements(self, house: Lodging, travellers: tuple[str, ...]) -> Iterator[QuoteLine]:
        ask = replace(self.ask, unit=Unit.PERSON_NIGHT, exact_board=True)
        for found, some in self.costing.by_rate(ask, travellers, self.when):
            yield from self.costing.lines(
                found,
                len(some),
                says=f"{house.name}: {BOARD_WORDS[self.night.board]}",
                unit=Unit.PERSON_NIGHT,
                travellers=some,
                board=self.night.board,
                **self.shared,
            )

    def _taxes(self, house: Lodging) -> Iterator[QuoteLine]:
        """Of the house, else its place, else the region. No tariff = no tax; no rate for an age = exempt."""
        book = self.costing.book
        subjects = (house.id, house.place, "")
        subject = next((each for each in subjects if book.tariffs(Service.VISITOR_TAX, each)), None)
        if subject is None:
            return
        ask = Ask(service=Service.VISITOR_TAX, subject=subject, unit=Unit.PERSON_NIGHT, nights=self.stay)
        what = self.shared | {"service": Service.VISITOR_TAX, "subject": subject}
        for found, some in self.costing.by_rate(ask, self.asleep, self.when):
            if found.unknown is not Unknown.NO_RATE:
                yield from self.costing.lines(
                    found,
                    len(some),
                    says=f"{house.name}: visitor tax",
                    unit=Unit.PERSON_NIGHT,
                    travellers=some,
                    **what,
                )

    def _lacks_board(self, given: Board | None) -> bool:
        return BOARDS.index(self.night.board) > BOARDS.index(given or Board.BREAKFAST)

    def _board_given(self, found: Found) -> Board:
        given = found.rate.board if found.rate is not None else self.night.board
        return given or Board.BREAKFAST

    def _of(self, rooms: tuple[RoomUse, ...]) -> dict[str, Any]:
        return self.shared | {
            "travellers": _everyone(rooms),
            "room_kind": rooms[0].kind,
            "sharing": len(rooms[0].travellers),
        }

    def _unknown(self, why: Unknown, says: str, rooms: tuple[RoomUse, ...] = ()) -> QuoteLine:
        what = self._of(rooms) if rooms else self.shared | {"travellers": self.asleep}
        name = self.night.lodging.id if self.house is None else self.house.name
        return self.costing.unknown(
            why, says, quantity=max(1, len(rooms)), says=name, unit=Unit.ROOM_NIGHT, **what
        )


def _everyone(rooms: tuple[RoomUse, ...]) -> tuple[str, ...]:
    return tuple(traveller for room in rooms for traveller in room.travellers)
