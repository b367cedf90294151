"""Pictures of places and houses, each kept once by its bytes, with the words that go with it."""

from dataclasses import dataclass, replace

from sqlalchemy import Connection, select
from sqlalchemy.dialects.sqlite import insert

from lacet.store.keeping import digest_of
from lacet.store.tables import PICTURES
from lacet.trip.printable import without_commands


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture [pixels]; `alt` tells it to those who can't see it, `credit` says whose it is."""

    payload: bytes
    media_type: str
    width: int
    height: int
    alt: str = ""
    credit: str = ""

    @property
    def id(self) -> str:
        return digest_of(self.payload)


class Pictures:
    """Pictures within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def keep(self, picture: Picture) -> str:
        """Keep a picture, or other words for one that is kept, and return its id."""
        alt, credit = without_commands(picture.alt), without_commands(picture.credit)
        picture = replace(picture, alt=alt, credit=credit)
        columns = {name: getattr(picture, name) for name in Picture.__dataclass_fields__}
        putting = insert(PICTURES).values(id=picture.id, **columns)
        words = {"alt": picture.alt, "credit": picture.credit}
        self._connection.execute(putting.on_conflict_do_update(index_elements=["id"], set_=words))
        return picture.id

    def get(self, picture_id: str) -> Picture | None:
        """A picture, or None."""
        columns = [PICTURES.c[name] for name in Picture.__dataclass_fields__]
        found = self._connection.execute(select(*columns).where(PICTURES.c.id == picture_id)).first()
        return None if found is None else Picture(**found._mapping)
