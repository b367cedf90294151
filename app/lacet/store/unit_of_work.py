"""One unit of work: everything in it is kept together, or nothing is.

    with project.unit_of_work() as uow:
        revision = uow.trips.save(trip, revision, "move day 3")
        uow.commit()

Leaving the block without `commit` undoes all of it. A unit holds the lock of the file from its first line on,
a writing one against everybody, so keep it short, never wait for a person inside, and never open a writing
unit inside another.
"""

import sqlite3
from datetime import date
from pathlib import Path
from types import TracebackType

from sqlalchemy import Connection

from lacet.store.bodies import RecentTexts
from lacet.store.bookings import BookingRows
from lacet.store.documents import Documents
from lacet.store.engine import Access, Transaction
from lacet.store.errors import sentence_for
from lacet.store.library import Library
from lacet.store.pictures import Pictures
from lacet.store.settings import Settings
from lacet.store.taken import Moment, TakenInMemory
from lacet.store.trips import Trips
from lacet.trip.commitments import AllTaken, Commitments


class UnitOfWork:
    """What can be asked of the file, and changed in it, within one transaction.

    Attributes
    ----------
    library, trips, bookings, documents, settings, pictures
        The file's parts; they live as long as the block.
    """

    library: Library
    trips: Trips
    bookings: BookingRows
    documents: Documents
    settings: Settings
    pictures: Pictures

    def __init__(
        self, access: Access, recent: RecentTexts, *, writes: bool, taken: TakenInMemory | None = None
    ) -> None:
        self._access = access
        self._recent = recent
        self._taken = taken or TakenInMemory()
        self._moment: Moment | None = None
        self._writes = writes
        self._transaction: Transaction | None = None

    def __enter__(self) -> "UnitOfWork":
        try:
            self._transaction = self._access.begin(writes=self._writes)
        except Exception as error:
            self._tell(error)
            raise
        connection = self.connection
        self.library = Library(connection)
        self.trips = Trips(connection, self._recent)
        self.bookings = BookingRows(connection)
        self.documents = Documents(connection)
        self.settings = Settings(connection)
        self.pictures = Pictures(connection)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._end()
        if isinstance(error, Exception):
            self._tell(error)

    def commit(self) -> None:
        """Keep everything done so far and end the unit.

        Raises
        ------
        StoreError
            When the file can't take it; nothing is kept then.
        """
        assert self._writes, "a reading unit keeps nothing"
        assert self._transaction is not None, "the unit of work has ended"
        try:
            self._transaction.commit()
            if self._moment is not None:
                self._taken.keep(self._moment)
        finally:
            # What came after would belong to no unit and be lost without a word; ended, it fails aloud.
            self._end()

    def commitments(self, exclude_trip: str, as_of: date | None = None) -> Commitments:
        """What the bookings of all other trips have taken; options that ran out by `as_of` don't count."""
        return self._taken.without(self._taken_now(as_of), exclude_trip)

    def all_taken(self, as_of: date | None = None) -> AllTaken:
        """What the bookings of all trips have taken, for lists: one reading serves every trip."""
        return self._taken_now(as_of).taken

    def _taken_now(self, as_of: date | None) -> Moment:
        self._moment = self._taken.now(self.connection, as_of, self._moment)
        if not self._writes:
            # What a writing unit sees may never be kept.
            self._taken.keep(self._moment)
        return self._moment

    @property
    def path(self) -> Path:
        """The project's file; for this package alone."""
        return self._access.path

    @property
    def connection(self) -> Connection:
        """The transaction itself; for this package alone."""
        assert self._transaction is not None, "the unit of work has ended"
        return self._transaction.connection

    @property
    def plain(self) -> sqlite3.Connection:
        """The driver's own connection under the transaction; for this package alone."""
        found = self.connection.connection.driver_connection
        assert isinstance(found, sqlite3.Connection)
        return found

    def _end(self) -> None:
        transaction, self._transaction = self._transaction, None
        if transaction is not None:
            transaction.end()

    def _tell(self, error: Exception) -> None:
        meant = sentence_for(error, self._access.path)
        if meant is not None:
            raise meant from error
