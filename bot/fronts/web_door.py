"""The web hook in the poller's place: served here, and the platform told where it is."""

import asyncio
import logging
import socket
from typing import Any

from sqlalchemy.exc import SQLAlchemyError

from bot.fronts.telegram_arrival import Barred, Done, Line
from bot.fronts.telegram_log import warn
from bot.fronts.telegram_take import KINDS, LONGEST_PAUSE, Poller, Refused
from bot.fronts.web import NotNow, Site
from bot.fronts.web_counts import Counts
from bot.fronts.web_serve import answers, serving
from bot.memory import Memory
from bot.settings import Settings
from bot.store.faults import may_pass

log = logging.getLogger("perpend.web")


class Door(Poller):
    """Writes down what the platform brings, and only then says that it has it."""

    patient = False  # the platform waits at the door: it is told to come again

    def __init__(
        self, line: Line, memory: Memory, settings: Settings, counts: Counts, bound: socket.socket
    ) -> None:
        super().__init__(line, memory)
        self.tally = counts
        self._bound = bound
        self._settings = settings
        self._counts = counts
        self._fault: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    async def run(self) -> None:
        """Serve until cancelled; requests under way are answered first."""
        secret = self._settings.webhook_secret
        assert secret is not None
        site = Site(
            self.is_ready,
            lambda: self._counts.text(self.memory),
            secret.get_secret_value(),
            self.take,
            self._counts.request,
        )
        async with serving(site, self._bound) as task:
            await self._tell()
            await asyncio.wait([task, self._fault], return_when=asyncio.FIRST_COMPLETED)
            if self._fault.done():
                await self._fault

    async def take(self, update: dict[str, Any]) -> None:
        """Write one update down; a store that is gone ends the worker, once that is said."""
        try:
            await self.write_down([update])
        except SQLAlchemyError as error:
            if not may_pass(error) and not self._fault.done():
                asyncio.get_running_loop().call_later(0.1, self._end, error)
            raise NotNow from None

    def _end(self, error: Exception) -> None:
        if not self._fault.done():
            self._fault.set_exception(error)

    def is_ready(self) -> bool:
        """Whether the talk is loaded and the database answers."""
        return self.at_work and answers(self.memory)

    async def _tell(self) -> None:
        """Tell the platform the address, where we are given it."""
        if self._settings.webhook_url is None:
            return
        secret = self._settings.webhook_secret
        assert secret is not None
        body = {
            "url": self._settings.webhook_url,
            "secret_token": secret.get_secret_value(),
            "allowed_updates": KINDS,
        }
        pause = 0.5
        while True:
            match await self.line.call("setWebhook", body):
                case Done():
                    return
                case Barred(why):
                    raise Refused(why)
            warn(log, "the platform does not take the web hook's address yet")
            await asyncio.sleep(pause)
            pause = min(pause * 2, LONGEST_PAUSE)
