"""Totals are worked out anew wherever they are shown; nothing read the kept ones."""

from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    op.drop_table("totals")
