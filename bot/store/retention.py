"""The retention period: what is older goes, and a chat that was silent for so long goes whole."""

from sqlalchemy import Connection, Table, delete, select, text

from bot.store import paces, saved
from bot.store.tables import ASIDE, inbox, outbox, seen, talks

_BORN = """INSERT INTO seen (lane, at)
SELECT CAST(chat AS VARCHAR(80)), max(at) FROM (
    SELECT chat, at FROM talks UNION ALL SELECT chat, at FROM walls UNION ALL SELECT chat, at FROM answers
    UNION ALL SELECT chat, :now FROM sites UNION ALL SELECT chat, :now FROM papers) AS kept
WHERE CAST(chat AS VARCHAR(80)) NOT IN (SELECT lane FROM seen) GROUP BY chat"""
_SEEN = """INSERT INTO seen (lane, at)
SELECT lane, max(at) FROM inbox WHERE at >= :since AND lane NOT LIKE 'update %' GROUP BY lane
ON CONFLICT (lane) DO UPDATE SET at = excluded.at"""


def note_seen(connection: Connection, now: float, since: float) -> None:
    """Note when each chat last wrote; one that keeps things and was never noted begins with its newest."""
    connection.execute(text(_SEEN), {"since": since})
    connection.execute(text(_BORN), {"now": now})


def forget(connection: Connection, before: float, most: int) -> bool:
    """Forget some of what is from before a moment; whether there may be more."""
    chats = select(seen.c.lane).where(seen.c.at < before).order_by(seen.c.at).limit(most)
    silent = list(connection.scalars(chats))
    for lane in silent:
        saved.forget(connection, int(lane))
    connection.execute(delete(seen).where(seen.c.lane.in_(silent)))
    more = len(silent) == most
    for table, key in ((talks, "key"), (saved.answers, "turn"), (saved.walls, "id")):
        more = _some(connection, table, key, before, most) or more
    for queue in (inbox, outbox):
        connection.execute(delete(queue).where(queue.c.stage == ASIDE, queue.c.at < before))
    paces.forget(connection, before)
    return more


def _some(connection: Connection, table: Table, key: str, before: float, most: int) -> bool:
    """Some old rows; of walls only those that were scrapped long ago: kept ones live with their chat."""
    since = table.c.gone if "gone" in table.c else table.c.at
    old = list(connection.scalars(select(table.c[key]).where(since < before).limit(most)))
    if old:
        connection.execute(delete(table).where(table.c[key].in_(old)))
    return len(old) == most
