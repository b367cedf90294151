"""What is asked for by place, by subject or by name is found without going through the whole library."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"

# Fields of the kept text that name a place, and those of tariffs; a text nobody can read is filed nowhere.
_FILED = """
    INSERT OR IGNORE INTO filed (under, row_id)
    WITH readable AS (SELECT row_id, kind, body FROM items WHERE json_valid(body))
    SELECT json_extract(body, '$.place'), row_id FROM readable WHERE kind IN ('lodging', 'restaurant')
    UNION SELECT json_extract(body, '$.from_place'), row_id FROM readable WHERE kind IN ('stage', 'transfer')
    UNION SELECT json_extract(body, '$.to_place'), row_id FROM readable WHERE kind IN ('stage', 'transfer')
    UNION SELECT json_extract(depot.value, '$.place'), row_id
          FROM readable, json_each(body, '$.depots') AS depot WHERE kind = 'bike'
    UNION SELECT coalesce(json_extract(body, '$.subject_id'), ''), row_id FROM readable WHERE kind = 'tariff'
    UNION SELECT '', row_id FROM readable
          WHERE kind = 'tariff' AND json_extract(body, '$.service') IN ('fixed_trip', 'fixed_person')
"""


def upgrade() -> None:
    op.create_table(
        "filed",
        sa.Column("under", sa.Text, primary_key=True),
        sa.Column("row_id", sa.Integer, sa.ForeignKey("items.row_id"), primary_key=True),
        sqlite_with_rowid=False,
    )
    op.execute(_FILED)
    op.create_index("items_named", "items", ["kind", "name"])
    op.create_index("items_retired", "items", ["kind", "id", "version"], sqlite_where=sa.text("retired"))
