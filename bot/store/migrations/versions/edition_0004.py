"""What the housekeeping looks for: chats by when they were last seen, walls by when they were scrapped."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

_gone = sa.text("gone IS NOT NULL")


def upgrade() -> None:
    """Make the indexes."""
    op.create_index("ix_seen_at", "seen", ["at"])
    op.create_index("walls_gone", "walls", ["gone"], sqlite_where=_gone, postgresql_where=_gone)


def downgrade() -> None:
    """Drop them again."""
    op.drop_index("walls_gone", "walls")
    op.drop_index("ix_seen_at", "seen")
