"""Lanes shared between workers: whoever works a chat holds its lane, and the hold ends with the session.

A hold is a lock of the database on the session that also settles: a worker that dies frees its chats at once.
"""

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, text

from bot.store.posting import unsent_in
from bot.store.rows import Letter, Waiting

MANY, PAGE = 64, 256
"""Lanes looked at for one claim, and rows: the oldest come first."""
LEFT_EVERY = 0.5
"""Seconds between looks for letters that a dead worker left in lanes where nothing else waits."""

_page = text("SELECT id, lane, tries FROM inbox WHERE stage = 'new' ORDER BY id LIMIT :most")
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
    "SELECT id, lane, tries FROM inbox WHERE stage = 'new' AND lane = ANY(CAST(:held AS text[]))"
    " ORDER BY id LIMIT :most"
)
_in_hand = text(
    "UPDATE inbox SET tries = tries + 1 WHERE id = ANY(CAST(:rows AS bigint[])) AND stage = 'new'"
    " RETURNING id, body, tries - 1, at"
)


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
    look_again: float = 0.0

    def claim(
        self, connection: Connection, most: int, is_busy: Callable[[str], bool], only: Sequence[str] | None
    ) -> Claim:
        """Let go of quiet lanes, hold waiting ones; their updates, and letters that somebody left unsent."""
        self._let_go(connection, [lane for lane in self.held if not is_busy(lane)])
        page = connection.execute(_page, {"most": PAGE}).all() if only is None else []
        wanted = [lane for _, lane, _ in page] if only is None else list(only)
        if time.monotonic() >= self.look_again:
            wanted += self._left(connection)
        wanted = list(dict.fromkeys(lane for lane in wanted if lane not in self.held))
        got = self._take_some(connection, wanted, most)
        mine = [row for row in page if row.lane in self.held][:most]
        if only is None and len(page) == PAGE and len(mine) < most:  # others have most of what is oldest
            further = connection.scalars(_waiting, {"held": list(self.held), "most": MANY}).all()
            more = [lane for lane in further if lane not in wanted]
            got |= self._take_some(connection, more, most)
            wanted += more
        if only is not None or (len(page) == PAGE and len(mine) < most):
            worked = [lane for lane in self.held if only is None or lane in only]
            mine = list(connection.execute(_rows, {"held": worked, "most": most}))
        letters = unsent_in(connection, list(got)) if got else []
        if letters and (left := [lane for lane in self._left(connection) if lane not in wanted]):
            also = self._take_some(connection, left, most)  # where a dead worker left one, there may be more
            letters += unsent_in(connection, list(also)) if also else []
        hand = _hand(mine)
        rows = connection.execute(_in_hand, {"rows": hand}).all() if hand else []
        paces, self.paces = self.paces, []
        return Claim([Waiting(*row) for row in sorted(rows)], letters, len(got) < len(wanted), paces)

    def _left(self, connection: Connection) -> Sequence[str]:
        self.look_again = time.monotonic() + LEFT_EVERY
        return connection.scalars(_unsent, {"held": list(self.held), "most": MANY}).all()

    def _take_some(self, connection: Connection, wanted: Sequence[str], most: int) -> set[str]:
        got: set[str] = set()
        tried = 0
        while tried < len(wanted) and len(got) < most:
            part = wanted[tried : tried + most]
            got |= set(self.take(connection, part))
            tried += len(part)
        return got

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


def _hand(rows: Iterable[Any]) -> list[int]:
    """One that was in hand before when a worker died is worked alone: it may be what killed it."""
    hand: list[int] = []
    for row, _, tries in rows:
        if tries:
            return hand or [row]
        hand.append(row)
    return hand
