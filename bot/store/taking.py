"""The inbox and all that working one update writes."""

from collections.abc import Iterable, Sequence
from functools import partial
from typing import Any

from sqlalchemy import ARRAY, BigInteger, Connection, Executable, any_, bindparam, cast, func, select, update

from bot.store import saved
from bot.store.ready import Ready, among, listed, putting
from bot.store.rows import Question, Queue, Settled, Talk, Update, Waiting
from bot.store.tables import ASIDE, DONE, NEW, inbox, is_aside, is_new, outbox, questions, talks
from bot.written import written

PIECES = 16
"""Most letters of one update; a letter's number is its update's number times this, plus its place."""

_waiting = Ready(
    select(inbox.c.id, inbox.c.body, inbox.c.tries, inbox.c.at)
    .where(inbox.c.stage == NEW, inbox.c.id > bindparam("after"))
    .order_by(inbox.c.id)
    .limit(bindparam("most"))
)
_waiting_in = (
    select(inbox.c.id, inbox.c.body, inbox.c.tries, inbox.c.at)
    .where(inbox.c.stage == NEW, inbox.c.lane.in_(bindparam("lanes", expanding=True)))
    .order_by(inbox.c.id)
    .limit(bindparam("most"))
)
_talks = Ready(
    partial(among, select(talks.c.key, talks.c.chat, talks.c.state, talks.c.turn), talks.c.key, "keys")
)
_questions = select(
    questions.c.chat,
    questions.c.message,
    questions.c.key,
    questions.c.turn,
    questions.c.before,
    questions.c.digest,
)
_question = Ready(
    _questions.where(questions.c.chat == bindparam("asker"), questions.c.message == bindparam("asked"))
)
_question_of = Ready(_questions.where(questions.c.turn == bindparam("made")))


def _done_at_once() -> Executable:
    these = any_(cast(bindparam("row"), ARRAY(BigInteger)))
    return update(inbox).where(inbox.c.id == these).values(stage=DONE, body=None)


_done = Ready(
    update(inbox).where(inbox.c.id == bindparam("row")).values(stage=DONE, body=None), at_once=_done_at_once
)
_aside = update(inbox).where(inbox.c.id == bindparam("row")).values(stage=ASIDE, fault=bindparam("why"))
_tried = update(inbox).where(inbox.c.id == bindparam("row")).values(tries=inbox.c.tries + 1)
_letters = putting(outbox, ("id", "lane", "method", "body", "chat", "message", "at"))
_keep = putting(inbox, ("update_id", "lane", "body", "at"), ["update_id"])
_talk = putting(talks, ("key", "chat", "state", "turn", "at"), ["key"], ["state", "turn", "at"])
_ask = putting(
    questions,
    ("chat", "message", "key", "turn", "before", "digest", "at"),
    ["chat", "message"],
    ["turn", "before", "digest", "at"],
)


def keep(connection: Connection, updates: Iterable[Update], now: float) -> int:
    """Write updates down; one that is there already (a redelivery) changes nothing. How many were new."""
    rows = [{"update_id": u.update_id, "lane": u.lane, "body": u.body, "at": now} for u in updates]
    return max(0, _keep.run_each(connection, rows))


def waiting(connection: Connection, after: int, most: int) -> list[Waiting]:
    """The oldest updates not yet worked, in the order they came."""
    return [Waiting(*row) for row in _waiting.rows(connection, {"after": after, "most": most})]


def waiting_in(connection: Connection, lanes: Sequence[str], most: int) -> list[Waiting]:
    """The oldest updates of these lanes alone."""
    return [Waiting(*row) for row in connection.execute(_waiting_in, {"lanes": list(lanes), "most": most})]


def newest(connection: Connection) -> int:
    """The last update that came in, worked or not; 0 where none ever did."""
    return connection.scalar(select(func.max(inbox.c.id))) or 0


def recall(connection: Connection, keys: Iterable[str]) -> dict[str, Talk]:
    """The conversations of these keys, as far as there are any."""
    found = _talks.rows(connection, {"keys": listed(connection, keys)})
    return {row[0]: Talk(*row) for row in found}


def question(connection: Connection, chat: int, message: int) -> Question | None:
    """The answered message with this number, if we still know it."""
    found = _question.rows(connection, {"asker": chat, "asked": message})
    return Question(*found[0]) if found else None


def question_of(connection: Connection, turn: int) -> Question | None:
    """The message that this turn answered."""
    found = _question_of.rows(connection, {"made": turn})
    return Question(*found[0]) if found else None


def tried(connection: Connection, row: int) -> None:
    """Note before the attempt that this update is being attempted."""
    connection.execute(_tried, {"row": row})


def settle(connection: Connection, settled: Sequence[Settled], now: float) -> None:
    """Write what these updates changed: conversation, question, letters, and that they are done."""
    done = [{"row": one.id} for one in settled if one.fault is None]
    aside = [{"row": one.id, "why": one.fault} for one in settled if one.fault is not None]
    if done:
        _done.run_each(connection, done)
    if aside:
        connection.execute(_aside, aside)
    saved.write(connection, [change for one in settled for change in one.changes])
    given = [one.given for one in settled if one.given]
    if given:
        saved.write_answers(connection, given, now)
    kept = {one.talk.key: one.talk for one in settled if one.talk}  # the last one of a key counts
    if kept:
        rows = [
            {"key": t.key, "chat": t.chat, "state": t.state, "turn": t.turn, "at": now} for t in kept.values()
        ]
        _talk.run_each(connection, rows)
    asked = {(one.question.chat, one.question.message): one.question for one in settled if one.question}
    if asked:
        _ask.run_each(
            connection,
            [
                {
                    "chat": q.chat,
                    "message": q.message,
                    "key": q.key,
                    "turn": q.turn,
                    "before": q.before,
                    "digest": q.digest,
                    "at": now,
                }
                for q in asked.values()
            ],
        )
    post = [_post(one.id, place, now, one) for one in settled for place in range(len(one.letters))]
    if post:
        _letters.run_each(connection, post)


def _post(row: int, place: int, now: float, settled: Settled) -> dict[str, Any]:
    letter = settled.letters[place]
    letter.id = row * PIECES + place
    return {
        "id": letter.id,
        "lane": letter.lane,
        "method": letter.method,
        "body": written(letter.body),
        "chat": letter.chat,
        "message": letter.message,
        "at": now,
    }


def queues(connection: Connection) -> list[Queue]:
    """How inbox and outbox stand; only open rows and those set aside are counted, by indexes of their own."""
    found = []
    for table in (inbox, outbox):
        many = connection.scalar(select(func.count()).select_from(table).where(is_new))
        oldest = connection.scalar(select(table.c.at).where(is_new).order_by(table.c.id).limit(1))
        aside = connection.scalar(select(func.count()).select_from(table).where(is_aside))
        found.append(Queue(table.name, many or 0, oldest, aside or 0))
    return found


def has_tables(connection: Connection) -> bool:
    """Whether the database has our tables at hand."""
    connection.execute(select(inbox.c.id).where(is_new).order_by(inbox.c.id).limit(1))
    return True
