"""Sites, saved walls, answers given and papers sent."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_id = sa.BigInteger().with_variant(sa.Integer, "sqlite")


def upgrade() -> None:
    """Make what a chat keeps."""
    op.create_table(
        "sites",
        sa.Column("chat", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("body", sa.Text, nullable=False),
    )
    op.create_table(
        "walls",
        sa.Column("id", _id, primary_key=True, autoincrement=True),
        sa.Column("chat", sa.BigInteger, nullable=False),
        sa.Column("name", sa.String(60), nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("gone", sa.Float),
        sa.Column("at", sa.Float, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_walls_chat", "walls", ["chat"])
    op.create_table(
        "answers",
        sa.Column("turn", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("chat", sa.BigInteger, nullable=False),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("person", sa.BigInteger),
        sa.Column("asked", sa.Text, nullable=False),
        sa.Column("record", sa.Text, nullable=False),
        sa.Column("at", sa.Float, nullable=False),
    )
    op.create_index("answers_chat", "answers", ["chat", "at"])
    op.create_table(
        "papers",
        sa.Column("chat", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("digest", sa.String(64), primary_key=True),
        sa.Column("file_id", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Drop them again."""
    for table in ("papers", "answers", "walls", "sites"):
        op.drop_table(table)
