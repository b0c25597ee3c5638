"""Inbox, talks, questions and outbox."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_id = sa.BigInteger().with_variant(sa.Integer, "sqlite")
_open = sa.text("stage = 'new'")


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "inbox",
        sa.Column("id", _id, primary_key=True, autoincrement=True),
        sa.Column("update_id", sa.BigInteger, nullable=False, unique=True),
        sa.Column("lane", sa.String(80), nullable=False),
        sa.Column("body", sa.Text),
        sa.Column("stage", sa.String(12), nullable=False, server_default="new"),
        sa.Column("tries", sa.Integer, nullable=False, server_default="0"),
        sa.Column("fault", sa.Text),
        sa.Column("at", sa.Float, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_index("inbox_open", "inbox", ["id"], sqlite_where=_open, postgresql_where=_open)
    op.create_index("inbox_at", "inbox", ["at"])
    op.create_table(
        "talks",
        sa.Column("key", sa.String(80), primary_key=True),
        sa.Column("chat", sa.BigInteger, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("turn", sa.BigInteger, nullable=False),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_index("ix_talks_chat", "talks", ["chat"])
    op.create_table(
        "questions",
        sa.Column("chat", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("message", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("turn", sa.BigInteger, nullable=False),
        sa.Column("before", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_index("ix_questions_turn", "questions", ["turn"])
    op.create_index("ix_questions_at", "questions", ["at"])
    op.create_table(
        "outbox",
        sa.Column("id", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("lane", sa.String(80), nullable=False),
        sa.Column("method", sa.String(40), nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("chat", sa.BigInteger),
        sa.Column("message", sa.BigInteger),
        sa.Column("reply", sa.BigInteger),
        sa.Column("stage", sa.String(12), nullable=False, server_default="new"),
        sa.Column("tries", sa.Integer, nullable=False, server_default="0"),
        sa.Column("due", sa.Float, nullable=False, server_default="0"),
        sa.Column("fault", sa.Text),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_index("outbox_question", "outbox", ["chat", "message"])
    op.create_index("outbox_open", "outbox", ["id"], sqlite_where=_open, postgresql_where=_open)


def downgrade() -> None:
    """Drop them again."""
    for table in ("outbox", "questions", "talks", "inbox"):
        op.drop_table(table)
