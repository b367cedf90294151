"""Issued documents, pictures, and where copies of the file went."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    owner = sa.ForeignKey("trips.id", ondelete="CASCADE")
    op.create_table(
        "documents",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("trip_id", sa.Text, owner, nullable=False),
        sa.Column("variant_id", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("issued_at", sa.Text, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("media_type", sa.Text, nullable=False),
        sa.Column("figures", sa.Text, nullable=False),
        sa.Column("payload", sa.LargeBinary),
    )
    op.create_index("documents_by_trip", "documents", ["trip_id"])
    op.create_table(
        "pictures",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("media_type", sa.Text, nullable=False),
        sa.Column("width", sa.Integer, nullable=False),
        sa.Column("height", sa.Integer, nullable=False),
        sa.Column("alt", sa.Text, nullable=False),
        sa.Column("credit", sa.Text, nullable=False),
        sa.Column("payload", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "copies",
        sa.Column("path", sa.Text, primary_key=True),
        sa.Column("made_at", sa.Text, nullable=False),
    )
    # Raised when the whole file is exchanged, so that other windows forget what they read before.
    op.execute("INSERT INTO counters (name, value) VALUES ('restored', 0)")
