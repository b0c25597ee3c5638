"""The tables: they are the queue, the chat state and the outgoing post."""

from sqlalchemy import BigInteger, Column, Float, Index, Integer, MetaData, String, Table, Text, text

EDITION = "0004"
"""The migration that these tables match."""

NEW, DONE, ASIDE = "new", "done", "set aside"
Identity = BigInteger().with_variant(Integer, "sqlite")

metadata = MetaData()
is_new, is_aside = text("stage = 'new'"), text("stage = 'set aside'")
"""Written out, as in the indexes: a database need not look at the rest."""

inbox = Table(
    "inbox",
    metadata,
    Column("id", Identity, primary_key=True, autoincrement=True),
    Column("update_id", BigInteger, nullable=False, unique=True),
    Column("lane", String(80), nullable=False),
    Column("body", Text),
    Column("stage", String(12), nullable=False, server_default=NEW),
    Column("tries", Integer, nullable=False, server_default="0"),
    Column("fault", Text),
    Column("at", Float, nullable=False),
    Index("inbox_open", "id", sqlite_where=is_new, postgresql_where=is_new),
    Index("inbox_aside", "id", sqlite_where=is_aside, postgresql_where=is_aside),
    Index("inbox_at", "at"),
    sqlite_autoincrement=True,
)

talks = Table(
    "talks",
    metadata,
    Column("key", String(80), primary_key=True),
    Column("chat", BigInteger, nullable=False, index=True),
    Column("state", Text, nullable=False),
    Column("turn", BigInteger, nullable=False),
    Column("at", Float, nullable=False),
)

questions = Table(
    "questions",
    metadata,
    Column("chat", BigInteger, primary_key=True, autoincrement=False),
    Column("message", BigInteger, primary_key=True, autoincrement=False),
    Column("key", String(80), nullable=False),
    Column("turn", BigInteger, nullable=False, index=True),
    Column("before", Text, nullable=False),
    Column("digest", String(64), nullable=False),
    Column("at", Float, nullable=False, index=True),
)

outbox = Table(
    "outbox",
    metadata,
    Column("id", BigInteger, primary_key=True, autoincrement=False),
    Column("lane", String(80), nullable=False),
    Column("method", String(40), nullable=False),
    Column("body", Text, nullable=False),
    Column("chat", BigInteger),
    Column("message", BigInteger),
    Column("reply", BigInteger),
    Column("stage", String(12), nullable=False, server_default=NEW),
    Column("tries", Integer, nullable=False, server_default="0"),
    Column("due", Float, nullable=False, server_default="0"),
    Column("fault", Text),
    Column("at", Float, nullable=False),
    Index("outbox_question", "chat", "message"),
    Index("outbox_open", "id", sqlite_where=is_new, postgresql_where=is_new),
    Index("outbox_aside", "id", sqlite_where=is_aside, postgresql_where=is_aside),
)

paces = Table(
    "paces",
    metadata,
    Column("key", String(80), primary_key=True),
    Column("places", Float, nullable=False),
    Column("told", Integer, nullable=False, server_default="0"),
    Column("at", Float, nullable=False),
)

orders = Table(
    "orders",
    metadata,
    Column("name", String(40), primary_key=True),
    Column("at", Float, nullable=False),
)

seen = Table(
    "seen",
    metadata,
    Column("lane", String(80), primary_key=True),
    Column("at", Float, nullable=False, index=True),
)
