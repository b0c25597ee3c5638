"""The ports of the process: held from its start to its end, whatever happens to the database in between."""

import asyncio
import contextlib
import socket
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from bot.fronts.tally import Tally
from bot.fronts.telegram_arrival import Line
from bot.memory import Memory
from bot.settings import Settings

if TYPE_CHECKING:
    from bot.fronts.telegram_take import Poller


@dataclass(frozen=True, slots=True)
class Ports:
    """Where the web hook is served, and where the figures are; what serves them is loaded only then."""

    hook: socket.socket | None = None
    watch: socket.socket | None = None

    @classmethod
    def of(cls, settings: Settings, webhook: bool, held: contextlib.ExitStack) -> "Ports":
        """Take the ports that the settings name; raises OSError where one cannot be had."""
        if not webhook and settings.watch is None:
            return NO_PORTS
        from bot.fronts.web_serve import bind

        return cls(
            held.enter_context(bind(settings.listen)) if webhook else None,
            held.enter_context(bind(settings.watch)) if settings.watch else None,
        )

    def tally(self) -> Tally:
        """Counts only where somebody can look."""
        if self.hook is None and self.watch is None:
            return Tally()
        from bot.fronts.web_counts import Counts

        return Counts()

    def door(self, line: Line, memory: Memory, settings: Settings, tally: Tally) -> "Poller | None":
        """The web hook in the poller's place, if there is one."""
        if self.hook is None:
            return None
        from bot.fronts.web_counts import Counts
        from bot.fronts.web_door import Door

        assert isinstance(tally, Counts)
        return Door(line, memory, settings, tally, self.hook)

    def watching(
        self, at_work: Callable[[], bool], memory: Memory, tally: Tally
    ) -> list["asyncio.Future[None]"]:
        """The server of the figures, if they have a port of their own."""
        if self.watch is None:
            return []
        from bot.fronts.web_counts import Counts
        from bot.fronts.web_serve import answers, watch

        assert isinstance(tally, Counts)
        served = watch(self.watch, lambda: at_work() and answers(memory), lambda: tally.text(memory))
        return [asyncio.ensure_future(served)]


NO_PORTS = Ports()


@contextlib.asynccontextmanager
async def closed(settings: Settings, ports: Ports) -> AsyncIterator[None]:
    """While the store is down: the process lives, is not ready, and the platform is told to come again."""
    async with contextlib.AsyncExitStack() as served:
        if ports.hook or ports.watch:
            from bot.fronts.web_serve import refusing, serving

            for port in filter(None, (ports.hook, ports.watch)):
                await served.enter_async_context(serving(refusing(settings, port is ports.hook), port))
        yield
