"""Of files that left the project: what they are, and of which trip."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.add_column("copies", sa.Column("kind", sa.Text, nullable=False, server_default="backup"))
    op.add_column("copies", sa.Column("trip_id", sa.Text))
