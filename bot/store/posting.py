"""The outbox: what is still to be sent, ticked off, put back or set aside."""

import json
from collections.abc import Sequence

from sqlalchemy import ARRAY, BigInteger, Connection, Executable, any_, bindparam, cast, select, update

from bot.store.ready import Ready, lists
from bot.store.rows import Letter
from bot.store.tables import ASIDE, DONE, NEW, outbox
from bot.store.ticks import Tick

_unsent = (
    select(
        outbox.c.method,
        outbox.c.body,
        outbox.c.lane,
        outbox.c.chat,
        outbox.c.message,
        outbox.c.id,
        outbox.c.tries,
        outbox.c.due,
    )
    .where(outbox.c.stage == NEW)
    .order_by(outbox.c.id)
)


def _sent_at_once() -> Executable:
    given = lists(outbox, {"row": "id", "ours": "reply"})
    these = any_(cast(bindparam("row"), ARRAY(BigInteger)))  # or a server may go through the whole table
    which = update(outbox).where(outbox.c.id == given.c.row, outbox.c.id == these)
    return which.values(stage=DONE, body="", reply=given.c.ours)


_sent = Ready(
    update(outbox)
    .where(outbox.c.id == bindparam("row"))
    .values(stage=DONE, body="", reply=bindparam("ours")),
    at_once=_sent_at_once,
)
_reply = (
    select(outbox.c.reply)
    .where(
        outbox.c.chat == bindparam("asker"),
        outbox.c.message == bindparam("asked"),
        outbox.c.reply.is_not(None),
    )
    .order_by(outbox.c.id.desc())
    .limit(1)
)


def unsent(connection: Connection) -> list[Letter]:
    """Every letter still to be sent, oldest first."""
    return [
        Letter(method, json.loads(body), *rest) for method, body, *rest in connection.execute(_unsent).all()
    ]


def unsent_in(connection: Connection, lanes: Sequence[str]) -> list[Letter]:
    """Every letter of these lanes still to be sent, oldest first."""
    found = connection.execute(_unsent.where(outbox.c.lane.in_(lanes))).all()
    return [Letter(method, json.loads(body), *rest) for method, body, *rest in found]


def tick_off(connection: Connection, ticks: Sequence[Tick]) -> None:
    """Letters that arrived."""
    _sent.run_each(connection, [{"row": row, "ours": ours} for row, ours in ticks])


def reply_to(connection: Connection, chat: int, message: int) -> int | None:
    """The number of our message that answers this question."""
    return connection.execute(_reply, {"asker": chat, "asked": message}).scalar()


def put_back(connection: Connection, letter: Letter, fault: str) -> None:
    """Note a failed attempt and when to try again."""
    connection.execute(
        update(outbox).where(outbox.c.id == letter.id).values(tries=letter.tries, due=letter.due, fault=fault)
    )


def set_aside(connection: Connection, letter: Letter, fault: str) -> None:
    """Stop trying; the letter stays, with the reason, for a person to look at."""
    connection.execute(
        update(outbox).where(outbox.c.id == letter.id).values(stage=ASIDE, tries=letter.tries, fault=fault)
    )
