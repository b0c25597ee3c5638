"""Forgetting in time: what is finished after three days, what chats keep after the period that is set."""

import asyncio
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from sqlalchemy import Connection

from bot.memory import Memory
from bot.store import retention

HOUR, DAY = 3600.0, 24 * 3600.0
KEEP = 3 * DAY
"""How long finished updates and questions stay known: an edit comes within two days."""
REST = 0.01
"""Seconds between two steps: whoever waits for the database comes first."""


async def sweep(memory: Memory, forget_days: int) -> None:
    """Sweep once an hour, for ever."""
    since = looked = 0.0
    while True:
        now = time.time()
        if forget_days:
            await walk(memory, retention.note_seen, since)
            since = now
        if forget_days and now - looked >= DAY:
            for table in retention.KEEPERS:
                await walk(memory, partial(retention.note_keepers, table=table, now=now))
            looked = now
        for step in retention.SWEEPING:
            await walk(memory, partial(step, before=now - KEEP))
        for step in retention.FORGETTING if forget_days else ():
            await walk(memory, partial(step, before=now - forget_days * DAY))
        await asyncio.sleep(HOUR)


async def walk(memory: Memory, step: Callable[[Connection, Any], Any], place: Any = None) -> None:
    """Take one step after another to the end, each a transaction of its own."""
    while (place := await memory.do(memory.look, partial(_step, step, place))) is not None:
        await asyncio.sleep(REST)


def _step(step: Callable[[Connection, Any], Any], place: Any, book: Connection) -> Any:
    return step(book, place)
