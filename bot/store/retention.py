"""Forgetting in small steps: what is finished, what is past the retention period, chats silent for so long.

A step takes where its walk stands and gives where it goes on, None at the end; none looks at a whole table.
"""

from math import inf, nextafter
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Table, delete, func, select, text

from bot.store import saved
from bot.store.tables import NEW, inbox, is_aside, outbox, paces, questions, seen, talks

A_FEW = 500
FEW_CHATS = 20
"""Rows looked at in a step, and chats forgotten whole in one: nobody's answer waits longer for it."""

_UPTO = text("SELECT max(at) FROM (SELECT at FROM inbox WHERE at >= :since ORDER BY at LIMIT :few) AS few")
_SEEN = text("""INSERT INTO seen (lane, at)
SELECT lane, max(at) FROM inbox WHERE at >= :since AND at <= :upto AND lane NOT LIKE 'update %' GROUP BY lane
ON CONFLICT (lane) DO UPDATE SET at = excluded.at""")
KEEPERS = {saved.sites: False, saved.papers: False, talks: True, saved.walls: True, saved.answers: True}
"""What keeps things by chat, and whether it bears a date; settings and papers bear none: theirs is now."""
_NOTED = {
    table: text(
        f"""INSERT INTO seen (lane, at) SELECT CAST(chat AS VARCHAR(80)), {"max(at)" if dated else ":now"}
        FROM {table.name} WHERE chat > :after AND chat <= :upto GROUP BY chat ON CONFLICT (lane)
        {"DO UPDATE SET at = excluded.at WHERE excluded.at > seen.at" if dated else "DO NOTHING"}"""  # noqa: S608
    )
    for table, dated in KEEPERS.items()
}


def note_seen(connection: Connection, since: float) -> float | None:
    """Note when each chat last wrote, from a moment on."""
    upto = connection.scalar(_UPTO, {"since": since, "few": A_FEW})
    if upto is None:
        return None
    connection.execute(_SEEN, {"since": since, "upto": upto})
    return nextafter(upto, inf)


def note_keepers(connection: Connection, after: int | None, table: Table, now: float) -> int | None:
    """Note chats that keep things and were never noted: moved ones, or older than the period's setting."""
    chat = table.c.chat
    beyond = chat > after if after is not None else chat.is_not(None)
    few = select(chat).where(beyond).order_by(chat).limit(A_FEW).subquery()
    upto = connection.scalar(select(func.max(few.c.chat)))
    if upto is None:
        return None
    asked = {"after": -(2**63) if after is None else after, "upto": upto}
    if not KEEPERS[table]:
        asked["now"] = now
    connection.execute(_NOTED[table], asked)
    return int(upto)


def sweep_inbox(connection: Connection, _place: Any, before: float) -> bool | None:
    """Forget updates from before a moment that are finished or set aside."""
    return _forget_few(connection, inbox.c.at, before, inbox.c.stage != NEW)


def sweep_questions(connection: Connection, _place: Any, before: float) -> bool | None:
    """Forget questions from before a moment: they can no longer be edited."""
    return _forget_few(connection, questions.c.at, before)


def sweep_outbox(connection: Connection, after: Any, before: float) -> Any:
    """Forget letters from before a moment; their numbers come from their updates', so the old lie first."""
    return _forget_from(connection, outbox, outbox.c.id, before, after, is_sorted=True)


def forget_silent(connection: Connection, _place: Any, before: float) -> bool | None:
    """Forget all of some chats that were silent since a moment."""
    asked = select(seen.c.lane).where(seen.c.at < before).order_by(seen.c.at).limit(FEW_CHATS)
    silent = list(connection.scalars(asked))
    for lane in silent:
        saved.forget_kept(connection, int(lane))
    connection.execute(delete(inbox).where(is_aside, inbox.c.lane.in_(silent)))
    connection.execute(delete(seen).where(seen.c.lane.in_(silent)))
    return True if len(silent) == FEW_CHATS else None


def forget_talks(connection: Connection, after: Any, before: float) -> Any:
    """Forget conversations that rested since a moment."""
    return _forget_from(connection, talks, talks.c.key, before, after)


def forget_answers(connection: Connection, after: Any, before: float) -> Any:
    """Forget answers given before a moment; their numbers are their updates', so the old lie first."""
    return _forget_from(connection, saved.answers, saved.answers.c.turn, before, after, is_sorted=True)


def forget_scrapped(connection: Connection, _place: Any, before: float) -> bool | None:
    """Forget walls scrapped before a moment; kept ones live with their chat."""
    return _forget_few(connection, saved.walls.c.gone, before)


def forget_paces(connection: Connection, after: Any, before: float) -> Any:
    """Forget who has not been here since a moment."""
    return _forget_from(connection, paces, paces.c.key, before, after)


def forget_aside(connection: Connection, _place: Any, before: float) -> None:
    """Forget what was set aside before a moment."""
    for queue in (inbox, outbox):
        connection.execute(delete(queue).where(is_aside, queue.c.at < before))


SWEEPING = (sweep_inbox, sweep_questions, sweep_outbox)
FORGETTING = (forget_silent, forget_talks, forget_answers, forget_scrapped, forget_paces, forget_aside)


def _forget_few(
    connection: Connection, at: Column[float], before: float, *which: ColumnElement[bool]
) -> bool | None:
    """The oldest few from before a moment, with all of the same moment; whether there may be more."""
    few = select(at).where(at < before, *which).order_by(at).limit(A_FEW).subquery()
    many, upto = connection.execute(select(func.count(), func.max(few.c[0])).select_from(few)).one()
    if upto is not None:
        connection.execute(delete(at.table).where(at <= upto, *which))
    return True if many == A_FEW else None


def _forget_from(
    connection: Connection, table: Table, key: Column[Any], before: float, after: Any, is_sorted: bool = False
) -> Any:
    """What is old among the next few by their key; where the old lie first, the walk ends at the young."""
    beyond = key > after if after is not None else key.is_not(None)
    rows = connection.execute(select(key, table.c.at).where(beyond).order_by(key).limit(A_FEW)).all()
    old = [place for place, at in rows if at < before]
    if old:
        settled = [table.c.stage != NEW] if "stage" in table.c else []
        connection.execute(delete(table).where(key.in_(old), *settled))
    return None if len(rows) < A_FEW or (is_sorted and not old) else rows[-1][0]
