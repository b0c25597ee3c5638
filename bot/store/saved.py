"""What a chat keeps: its site settings, saved walls, the record of answers, pictures sent before."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    Float,
    Index,
    String,
    Table,
    Text,
    and_,
    delete,
    func,
    insert,
    select,
    text,
    update,
)

from bot.store.ready import Ready, among, listed, putting
from bot.store.tables import NEW, Identity, inbox, metadata, outbox, questions, talks

sites = Table(
    "sites",
    metadata,
    Column("chat", BigInteger, primary_key=True, autoincrement=False),
    Column("body", Text, nullable=False),
)
is_gone = text("gone IS NOT NULL")
walls = Table(
    "walls",
    metadata,
    Column("id", Identity, primary_key=True, autoincrement=True),
    Column("chat", BigInteger, nullable=False, index=True),
    Column("name", String(60), nullable=False),
    Column("body", Text, nullable=False),
    Column("gone", Float),
    Column("at", Float, nullable=False),
    Index("walls_gone", "gone", sqlite_where=is_gone, postgresql_where=is_gone),
    sqlite_autoincrement=True,
)
answers = Table(
    "answers",
    metadata,
    Column("turn", BigInteger, primary_key=True, autoincrement=False),
    Column("chat", BigInteger, nullable=False),
    Column("key", String(80), nullable=False),
    Column("person", BigInteger),
    Column("asked", Text, nullable=False),
    Column("record", Text, nullable=False),
    Column("at", Float, nullable=False),
    Index("answers_chat", "chat", "at"),
)
papers = Table(
    "papers",
    metadata,
    Column("chat", BigInteger, primary_key=True, autoincrement=False),
    Column("digest", String(64), primary_key=True),
    Column("file_id", Text, nullable=False),
)
_TABLES = {table.name: table for table in (sites, walls, answers, papers)}


_sites = Ready(partial(among, select(sites.c.chat, sites.c.body), sites.c.chat, "here"))
_settings = putting(sites, ("chat", "body"), ["chat"], ["body"])
_answer = putting(
    answers,
    ("turn", "chat", "key", "person", "asked", "record", "at"),
    ["turn"],
    ["asked", "record", "at"],
)


@dataclass(frozen=True, slots=True)
class Wall:
    """A saved wall: `body` is its reading and region as JSON."""

    id: int
    chat: int
    name: str
    body: str
    gone: float | None
    at: float


@dataclass(frozen=True, slots=True)
class Given:
    """An answer that was given: what was asked, and its record as JSON."""

    turn: int
    chat: int
    key: str
    person: int | None
    asked: str
    record: str
    at: float = 0.0


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to write with an update: a row put (or put over), or all of a person or chat forgotten."""

    verb: Literal["put", "forget", "move"]
    table: str = ""
    row: dict[str, Any] | None = None


def write(connection: Connection, changes: Iterable[Change]) -> None:
    """Write what one update changed."""
    settings: dict[int, dict[str, Any]] = {}  # the last of a chat counts, and they go together
    for change in changes:
        row = change.row or {}
        if change.verb == "put" and change.table == "sites":
            settings[row["chat"]] = row
            continue
        _write_settings(connection, settings)
        if change.verb == "forget":
            forget(connection, **row)
        elif change.verb == "move":
            move(connection, **row)
        else:
            _put(connection, _TABLES[change.table], row)
    _write_settings(connection, settings)


def _write_settings(connection: Connection, settings: dict[int, dict[str, Any]]) -> None:
    _settings.run_each(connection, list(settings.values()))
    settings.clear()


def write_answers(connection: Connection, given: Sequence[Given], now: float) -> None:
    """Write answers down; an update that is worked again writes its answer over."""
    _answer.run_each(
        connection,
        [
            {
                "turn": one.turn,
                "chat": one.chat,
                "key": one.key,
                "person": one.person,
                "asked": one.asked,
                "record": one.record,
                "at": now,
            }
            for one in given
        ],
    )


def site_bodies(connection: Connection, chats: Iterable[int]) -> dict[int, str]:
    """The settings of these chats, as JSON, as far as there are any."""
    found: dict[int, str] = dict(_sites.rows(connection, {"here": listed(connection, chats)}))
    return found


def walls_of(connection: Connection, chat: int, with_gone: bool = False) -> list[Wall]:
    """The chat's walls, oldest first."""
    asked = select(walls).where(walls.c.chat == chat).order_by(walls.c.id)
    if not with_gone:
        asked = asked.where(walls.c.gone.is_(None))
    return [Wall(*row) for row in connection.execute(asked)]


def given(connection: Connection, turn: int) -> Given | None:
    """The answer of this turn."""
    row = connection.execute(select(answers).where(answers.c.turn == turn)).first()
    return Given(*row) if row else None


def given_in(connection: Connection, chat: int) -> list[Given]:
    """Every answer given in a chat, in order."""
    asked = select(answers).where(answers.c.chat == chat).order_by(answers.c.turn)
    return [Given(*row) for row in connection.execute(asked)]


def paper(connection: Connection, chat: int, digest: str) -> str | None:
    """The number under which the platform holds a paper already sent to this chat."""
    row = select(papers.c.file_id).where(papers.c.chat == chat, papers.c.digest == digest)
    return connection.execute(row).scalar()


def keep_paper(connection: Connection, chat: int, digest: str, file_id: str | None) -> None:
    """Note the number of a paper that was sent; None: the platform no longer knows it."""
    connection.execute(delete(papers).where(papers.c.chat == chat, papers.c.digest == digest))
    if file_id is not None:
        connection.execute(insert(papers).values(chat=chat, digest=digest, file_id=file_id))


def held(connection: Connection, chat: int, person: int | None = None) -> dict[str, int]:
    """How much is kept of a chat, or of one person in it, by name."""
    counted = {"walls": walls, "settings": sites} if person is None else {}
    found = {
        name: connection.execute(select(func.count()).where(table.c.chat == chat)).scalar() or 0
        for name, table in counted.items()
    }
    for name, table in (("answers", answers), ("conversations", talks)):
        where = _own(table, chat, person)
        found[name] = connection.execute(select(func.count()).select_from(table).where(where)).scalar() or 0
    return found


def forget(connection: Connection, chat: int, person: int | None = None) -> None:
    """Delete everything of a chat, or of one person in it."""
    forget_kept(connection, chat, person)
    connection.execute(delete(inbox).where(inbox.c.lane == str(chat), inbox.c.stage != NEW))


def forget_kept(connection: Connection, chat: int, person: int | None = None) -> None:
    """Delete all that is kept of a chat or person but the updates, which are empty once they are worked."""
    for table in (answers, talks, questions):
        connection.execute(delete(table).where(_own(table, chat, person)))
    if person is None:
        for table in (walls, sites, papers):
            connection.execute(delete(table).where(table.c.chat == chat))
    # what could not be worked or sent may hold words of anybody in the chat
    connection.execute(delete(outbox).where(outbox.c.chat == chat, outbox.c.stage != NEW))


def move(connection: Connection, old: int, new: int) -> None:
    """A group became a supergroup: all that it keeps goes along, what the new one has stands."""
    for table in (talks, questions, answers):
        keyed = select(table.c.key).where(table.c.chat == old)
        for key in {row.key for row in connection.execute(keyed)}:
            moved = f"{new}:{key.partition(':')[2]}"
            if table is talks and connection.execute(select(talks.c.key).where(talks.c.key == moved)).first():
                continue
            connection.execute(
                update(table).where(table.c.chat == old, table.c.key == key).values(chat=new, key=moved)
            )
    connection.execute(update(walls).where(walls.c.chat == old).values(chat=new))
    if connection.execute(select(sites.c.chat).where(sites.c.chat == new)).first() is None:
        connection.execute(update(sites).where(sites.c.chat == old).values(chat=new))
    for table in (talks, sites, papers):
        connection.execute(delete(table).where(table.c.chat == old))


def put_site(chat: int, body: dict[str, Any]) -> Change:
    """The change that writes a chat's settings."""
    return Change("put", "sites", {"chat": chat, "body": json.dumps(body)})


def _own(table: Table, chat: int, person: int | None) -> Any:
    """Rows of a chat, or of one person in it: keys end with the person."""
    if person is None:
        return table.c.chat == chat
    return and_(table.c.chat == chat, table.c.key.like(f"%:{person}"))


def _put(connection: Connection, table: Table, row: dict[str, Any]) -> None:
    keys = [column.name for column in table.primary_key]
    if not set(keys) <= set(row):
        connection.execute(insert(table).values(row))
        return
    putting(table, tuple(row), keys, [name for name in row if name not in keys]).run(connection, row)
