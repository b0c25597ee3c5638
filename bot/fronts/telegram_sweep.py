"""Forgetting in time: what is finished after three days, what chats keep after the period that is set."""

import asyncio
import time

from bot.memory import Memory

HOUR, DAY = 3600.0, 24 * 3600.0
KEEP = 3 * DAY
"""How long finished updates and questions stay known: an edit comes within two days."""
A_FEW = 500
"""Rows forgotten at a time: nobody's answer waits longer for it."""


async def sweep(memory: Memory, forget_days: int) -> None:
    """Sweep once an hour, for ever."""
    since = 0.0
    while True:
        now = time.time()
        if forget_days:
            await memory.do(memory.note_seen, now, since)
            since = now
        await memory.do(memory.sweep, KEEP)
        while forget_days and await memory.do(memory.forget, now - forget_days * DAY, A_FEW):
            await asyncio.sleep(0.01)
        await asyncio.sleep(HOUR)
