"""A region says nothing that nobody has set: no zone, currency or emergency number of its own accord."""

import hashlib
import json

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

_SETTINGS = sa.table(
    "settings",
    sa.column("kind", sa.Text),
    sa.column("version", sa.Integer),
    sa.column("digest", sa.Text),
    sa.column("body", sa.Text),
)


def upgrade() -> None:
    connection = op.get_bind()
    regions = sa.select(_SETTINGS.c.version, _SETTINGS.c.body).where(_SETTINGS.c.kind == "Region")
    for version, body in connection.execute(regions).all():
        text = json.dumps(_brought_over(json.loads(body)), ensure_ascii=False, separators=(",", ":"))
        digest = hashlib.blake2b(text.encode(), digest_size=16).hexdigest()
        here = (_SETTINGS.c.kind == "Region") & (_SETTINGS.c.version == version)
        connection.execute(sa.update(_SETTINGS).where(here).values(body=text, digest=digest))


def _brought_over(region: dict[str, object]) -> dict[str, object]:
    """Keeps what was typed; what was only assumed stays unset.

    One temperature for the whole year was used where months had none; it becomes each month's.
    """
    number = region.pop("emergency_number", "")
    all_year = region.pop("default_temperature_c", None)
    if number:
        region["emergency_numbers"] = [{"number": number}]
    if all_year is not None and len(region.get("monthly_temperature_c", ())) != 12:  # type: ignore[arg-type]  # from JSON
        region["monthly_temperature_c"] = [all_year] * 12
    return region
