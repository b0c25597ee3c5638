"""Lanes shared between workers: whoever works a chat holds its lane, and the hold ends with the session.

A hold is a lock of the database on the session that also settles: a worker that dies frees its chats at once.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from sqlalchemy import Connection, text

from bot.store.posting import unsent_in
from bot.store.rows import Letter, Waiting

MANY = 64
"""Lanes looked at for one claim; the oldest come first."""

_waiting = text(
    "SELECT lane FROM (SELECT lane, min(id) AS first FROM inbox WHERE stage = 'new' GROUP BY lane) AS waiting"
    " WHERE NOT lane = ANY(CAST(:held AS text[])) ORDER BY first LIMIT :most"
)
_unsent = text(
    "SELECT DISTINCT lane FROM outbox WHERE stage = 'new' AND NOT lane = ANY(CAST(:held AS text[]))"
    " LIMIT :most"
)
_hold = text(
    "SELECT lane, places, extract(epoch FROM clock_timestamp()) - at"
    " FROM unnest(CAST(:lanes AS text[])) AS asked(lane) LEFT JOIN paces ON key = 'chat ' || lane"
    " WHERE pg_try_advisory_lock(hashtextextended(lane, 4200))"
)
_free = text(
    "SELECT pg_advisory_unlock(hashtextextended(lane, 4200))"
    " FROM unnest(CAST(:lanes AS text[])) AS held(lane)"
)
_rows = text(
    "SELECT id, body, tries, at FROM inbox WHERE stage = 'new' AND lane = ANY(CAST(:held AS text[]))"
    " ORDER BY id LIMIT :most"
)
_tried = text("UPDATE inbox SET tries = tries + 1 WHERE id = ANY(CAST(:rows AS bigint[]))")


Pace = tuple[str, float, float]
"""A lane that was written to fast: the places left to it, and how many seconds ago that was."""


@dataclass(frozen=True, slots=True)
class Claim:
    """What one worker may work now; `barred`: more waits, in lanes that another worker holds."""

    rows: Sequence[Waiting] = ()
    letters: Sequence[Letter] = ()
    barred: bool = False
    paces: Sequence[Pace] = ()


@dataclass(slots=True)
class Lanes:
    """The lanes that one session holds."""

    held: set[str] = field(default_factory=set)
    paces: list[Pace] = field(default_factory=list)

    def claim(
        self, connection: Connection, most: int, is_busy: Callable[[str], bool], only: Sequence[str] | None
    ) -> Claim:
        """Let go of quiet lanes, hold waiting ones; their updates, and letters that somebody left unsent."""
        self._let_go(connection, [lane for lane in self.held if not is_busy(lane)])
        seen = {"held": list(self.held), "most": MANY}
        waiting = connection.scalars(_waiting, seen) if only is None else only
        wanted = list(dict.fromkeys([*waiting, *connection.scalars(_unsent, seen)]))
        got: set[str] = set()
        tried = 0
        while tried < len(wanted) and len(got) < most:
            part = wanted[tried : tried + most]
            got |= set(self.take(connection, part))
            tried += len(part)
        letters = unsent_in(connection, list(got)) if got else []
        worked = [lane for lane in self.held if only is None or lane in only]
        rows = _hand(Waiting(*row) for row in connection.execute(_rows, {"held": worked, "most": most}))
        if rows:
            connection.execute(_tried, {"rows": [row.id for row in rows]})
        paces, self.paces = self.paces, []
        return Claim(rows, letters, len(got) < len(wanted), paces)

    def take(self, connection: Connection, lanes: Iterable[str]) -> Sequence[str]:
        """Hold these lanes, as far as nobody else does."""
        wanted = [lane for lane in lanes if lane not in self.held]
        found = connection.execute(_hold, {"lanes": wanted}).all() if wanted else []
        self.paces += [(lane, places, float(age)) for lane, places, age in found if places is not None]
        got = [lane for lane, *_ in found]
        self.held.update(got)
        return got

    def _let_go(self, connection: Connection, lanes: list[str]) -> None:
        if lanes:
            connection.execute(_free, {"lanes": lanes})
            self.held.difference_update(lanes)


def _hand(rows: Iterable[Waiting]) -> list[Waiting]:
    """One that was in hand before when a worker died is worked alone: it may be what killed it."""
    hand: list[Waiting] = []
    for row in rows:
        if row.tries:
            return hand or [row]
        hand.append(row)
    return hand
