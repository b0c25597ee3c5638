"""The outbox: what is still to be sent, ticked off, put back or set aside."""

import json
from collections.abc import Sequence

from sqlalchemy import Connection, bindparam, delete, select, update

from bot.store.rows import Letter
from bot.store.tables import ASIDE, NEW, outbox, questions

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
_sent = delete(outbox).where(outbox.c.id == bindparam("row"))
_replied = (
    update(questions)
    .where(questions.c.chat == bindparam("asker"), questions.c.message == bindparam("asked"))
    .values(reply=bindparam("ours"))
)
_reply = select(questions.c.reply).where(
    questions.c.chat == bindparam("asker"), questions.c.message == bindparam("asked")
)


def unsent(connection: Connection) -> list[Letter]:
    """Every letter still to be sent, oldest first."""
    return [
        Letter(method, json.loads(body), *rest) for method, body, *rest in connection.execute(_unsent).all()
    ]


def tick_off(connection: Connection, sent: Sequence[tuple[Letter, int | None]]) -> None:
    """Letters that arrived, each with the number of our message where it answers a question."""
    connection.execute(_sent, [{"row": letter.id} for letter, _ in sent])
    replies = [{"asker": x.chat, "asked": x.message, "ours": ours} for x, ours in sent if ours and x.message]
    if replies:
        connection.execute(_replied, replies)


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
