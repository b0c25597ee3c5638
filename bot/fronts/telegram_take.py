"""Taking in: every update is written down as raw JSON before it is acknowledged."""

import asyncio
import logging
from collections.abc import Callable
from typing import Any

from bot.fronts.tally import Tally
from bot.fronts.telegram_arrival import Barred, Clash, Done, Line, Wait, chat_of
from bot.fronts.telegram_log import fail, warn
from bot.memory import Memory
from bot.store.rows import Update
from bot.written import written

log = logging.getLogger("perpend.take")

KINDS = ["message", "edited_message", "callback_query", "inline_query"]
MOST = 100
FIRST_PAUSE, LONGEST_PAUSE = 0.5, 15.0
BACKLOG = 5000
"""With so many unworked updates the next poll waits: the platform keeps them as safely."""


class Refused(RuntimeError):
    """The platform does not accept the token."""


def _is_number(value: Any) -> bool:
    return type(value) is int and 0 <= value < 2**63


class Poller:
    """Polls, writes down, and only then polls again, which is the acknowledgement."""

    patient = True  # the platform keeps what it was not thanked for

    def __init__(self, line: Line, memory: Memory, seconds: int = 30) -> None:
        self.line = line
        self.memory = memory
        self.seconds = seconds
        self.news = asyncio.Event()
        self.early: list[Any] = []  # asked inline while the talk is still loading
        self.inline: Callable[[Any], None] = self.early.append
        self.lets_in: Callable[[dict[str, Any]], bool] | None = None  # None: everybody is
        self.up = True
        self.tally = Tally()
        self.at_work = False  # set once the talk is loaded
        self.backlog = 0
        self._pause = FIRST_PAUSE

    async def run(self) -> None:
        """Poll for ever; raises Refused where the token is not accepted."""
        offset = 0
        while True:
            while self.backlog >= BACKLOG:
                await asyncio.sleep(0.05)
            body = {"offset": offset, "limit": MOST, "timeout": self.seconds, "allowed_updates": KINDS}
            outcome = await self.line.call("getUpdates", body, wait=self.seconds + 10.0)
            match outcome:
                case Done(list() as updates):
                    self.up, self._pause = True, FIRST_PAUSE
                    # Nothing pending: all is acknowledged, and numbering may start anew after a quiet week.
                    offset = await self._keep(updates) if updates else 0
                case Barred(why):
                    raise Refused(why)
                case Wait(seconds):
                    await asyncio.sleep(seconds)
                case Clash(why):
                    await self._clash(why)
                case _:
                    self.up = False
                    warn(log, "poll failed", fault=type(outcome).__name__)
                    await self._rest()

    async def _keep(self, updates: list[Any]) -> int:
        sound = [u for u in updates if isinstance(u, dict) and _is_number(u.get("update_id"))]
        if len(sound) < len(updates):
            fail(log, "updates without a number left out", count=len(updates) - len(sound))
        if not sound:
            await self._rest()
            return 0
        last = max(u["update_id"] for u in sound) + 1
        await self.write_down(sound)
        return int(last)

    async def write_down(self, sound: list[dict[str, Any]]) -> None:
        """Write updates down; when this returns they may be acknowledged."""
        for update in sound:
            self.tally.update(update)
        if self.lets_in is not None:
            sound = [update for update in sound if self.lets_in(update)]
        for update in [u for u in sound if "inline_query" in u]:
            sound.remove(update)  # lives for seconds and changes nothing: past the queue
            self.inline(update["inline_query"])
        if not sound:
            return
        rows = [Update(u["update_id"], chat_of(u), written(u)) for u in sound]
        new = await self.memory.take_in(rows, self.patient)
        self.backlog += new
        if new:
            self.news.set()

    async def _clash(self, why: str) -> None:
        warn(log, "another poller or a web hook stands in the way")
        if "webhook" in why.lower():
            await self.line.call("deleteWebhook", {"drop_pending_updates": False})
        await self._rest()

    async def _rest(self) -> None:
        await asyncio.sleep(self._pause)
        self._pause = min(self._pause * 2, LONGEST_PAUSE)
