"""What tells a newer version of an item from a namesake: the digest of its first version, carried along."""

from dataclasses import dataclass, field

from sqlalchemy import Connection, select

from lacet.store.tables import ITEMS


@dataclass(slots=True)
class Lineage:
    """An item's first version by digest, and the digest of each version that is kept."""

    origin: str
    digests: dict[int, str] = field(default_factory=dict)


def lineages(connection: Connection) -> dict[tuple[str, str], Lineage]:
    """Every item of a library by kind and id."""
    found: dict[tuple[str, str], Lineage] = {}
    rows = select(ITEMS.c.kind, ITEMS.c.id, ITEMS.c.version, ITEMS.c.origin, ITEMS.c.digest)
    for kind, item_id, version, origin, digest in connection.execute(rows):
        found.setdefault((kind, item_id), Lineage(origin)).digests[version] = digest
    return found
