"""Region, office and house rules: one of each at a time, every one that ever held kept by version."""

from typing import TypeVar

from sqlalchemy import Connection, insert, select

from lacet.store.keeping import as_kept, digest_of, text_of, value_of
from lacet.store.shelving import count_change
from lacet.store.tables import SETTINGS
from lacet.trip.catalogue import Office
from lacet.trip.house_rules import HouseRules
from lacet.trip.region import Region

Setting = TypeVar("Setting", Region, Office, HouseRules)


class Settings:
    """What holds for the whole file, within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def region(self) -> Region:
        return self._latest(Region)

    def office(self) -> Office:
        return self._latest(Office)

    def house_rules(self) -> HouseRules:
        return self._latest(HouseRules)

    def save(self, setting: Region | Office | HouseRules) -> int:
        """Let this hold from now on, and return its version; what equals the last is not kept again."""
        kind, body = type(setting).__name__, text_of(as_kept(setting))
        last = self._connection.execute(
            select(SETTINGS.c.version, SETTINGS.c.digest)
            .where(SETTINGS.c.kind == kind)
            .order_by(SETTINGS.c.version.desc())
            .limit(1)
        ).first()
        if last is not None and last.digest == digest_of(body):
            return int(last.version)
        version = 1 if last is None else last.version + 1
        self._connection.execute(
            insert(SETTINGS).values(kind=kind, version=version, digest=digest_of(body), body=body)
        )
        count_change(self._connection)
        return version

    def _latest(self, kind: type[Setting]) -> Setting:
        body = self._connection.execute(
            select(SETTINGS.c.body)
            .where(SETTINGS.c.kind == kind.__name__)
            .order_by(SETTINGS.c.version.desc())
            .limit(1)
        ).scalar()
        return kind() if body is None else value_of(kind, body)
