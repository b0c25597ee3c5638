"""How fast people and chats may go, orders of the foreman, and when a chat was last seen."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_aside = sa.text("stage = 'set aside'")


def upgrade() -> None:
    """Make them."""
    op.create_table(
        "paces",
        sa.Column("key", sa.String(80), primary_key=True),
        sa.Column("places", sa.Float, nullable=False),
        sa.Column("told", sa.Integer, nullable=False, server_default="0"),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_table(
        "orders",
        sa.Column("name", sa.String(40), primary_key=True),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_table(
        "seen",
        sa.Column("lane", sa.String(80), primary_key=True),
        sa.Column("at", sa.Float, nullable=False),
    )
    for table in ("inbox", "outbox"):
        op.create_index(f"{table}_aside", table, ["id"], sqlite_where=_aside, postgresql_where=_aside)


def downgrade() -> None:
    """Drop them again."""
    for table in ("inbox", "outbox"):
        op.drop_index(f"{table}_aside", table)
    for table in ("seen", "orders", "paces"):
        op.drop_table(table)
