"""The bot as a process: poller, worker and sender side by side until told to stop."""

import asyncio
import gc
import logging
import signal
import sys
import time
from collections.abc import Callable
from contextlib import suppress

from sqlalchemy.exc import OperationalError, SQLAlchemyError

from bot.fronts.telegram import POLL_SECONDS, SiteBot
from bot.fronts.telegram_answer import Answerer, Talking, talking, words
from bot.fronts.telegram_arrival import Barred, Done, Line
from bot.fronts.telegram_log import set_up_logging
from bot.fronts.telegram_read import Reader
from bot.fronts.telegram_send import Sender
from bot.fronts.telegram_take import Poller, Refused
from bot.memory import Memory, open_memory
from bot.settings import Settings
from bot.store.opening import StoreFault

log = logging.getLogger("perpend.run")

LOST, ANEW = 75, 1.0
"""What a run comes to when the database server went away, and the seconds before the next."""

KEEP_SECONDS = 3 * 24 * 3600.0
"""How long finished updates and questions stay known: an edit comes within two days."""


def run_bot(settings: Settings, talk: Callable[[], Talking] = talking, webhook: bool = False) -> int:
    """Run until SIGTERM or SIGINT; 0 after an orderly stop, 1 where it cannot go on."""
    set_up_logging(settings.token.get_secret_value())
    while (status := _run_once(settings, talk, webhook)) == LOST:
        log.warning("the database server is gone; all begins anew in a moment")
        time.sleep(ANEW)
    return status


def _run_once(settings: Settings, talk: Callable[[], Talking], webhook: bool) -> int:
    try:
        memory = open_memory(settings.database)
    except (StoreFault, SQLAlchemyError, OSError, ImportError) as error:
        log.error(
            "the database cannot be opened: %s",
            error if isinstance(error, StoreFault) else type(error).__name__,
        )
        gone = isinstance(error, OperationalError) and not settings.database.startswith("sqlite")
        return LOST if gone else 1
    try:
        with asyncio.Runner(loop_factory=_loop_factory()) as runner:
            return runner.run(_serve_until_told(settings, memory, talk, webhook))
    finally:
        with suppress(SQLAlchemyError):  # of a server that is gone
            memory.close()


async def _serve_until_told(
    settings: Settings, memory: Memory, talk: Callable[[], Talking], webhook: bool
) -> int:
    stop = asyncio.Event()
    for name in (signal.SIGTERM, signal.SIGINT):
        asyncio.get_running_loop().add_signal_handler(name, stop.set)
    return await serve(settings, memory, stop, talk, webhook)


async def serve(
    settings: Settings,
    memory: Memory,
    stop: asyncio.Event,
    talk: Callable[[], Talking] = talking,
    webhook: bool = False,
) -> int:
    """Serve the chat on this loop; ends when told or on a fault. The exit status."""
    bot = SiteBot(settings)
    await bot.open()
    poller = Poller(bot, memory, POLL_SECONDS)
    sender = Sender(bot, memory, lambda: poller.up)
    if webhook:
        from bot.fronts.web_counts import Counts
        from bot.fronts.web_door import Door

        counts = Counts()
        poller, sender.counted = Door(bot, memory, settings, counts), counts.call
    if memory.shared:
        sender.emptied = poller.news.set  # its lane can be let go
    tasks: list[asyncio.Future[None]] = [
        asyncio.ensure_future(poller.run()),
        asyncio.ensure_future(_answer(bot, memory, poller, sender, talk)),
        asyncio.ensure_future(_sweep(memory, settings.forget_days)),
        sender.broken,
    ]
    ended = asyncio.ensure_future(_until(stop))
    try:
        done, _ = await asyncio.wait([*tasks, ended], return_when=asyncio.FIRST_COMPLETED)
        faults = [error for task in done - {ended} if (error := task.exception())]
    finally:
        for task in [*tasks[:3], ended]:
            task.cancel()
        await asyncio.gather(*tasks[:3], ended, return_exceptions=True)
        await sender.close()
        await bot.close_pools()
    for fault in faults:
        refused = isinstance(fault, Refused)
        log.error("stopped: %s", "the platform refuses the token" if refused else type(fault).__name__)
    if memory.shared and any(isinstance(fault, SQLAlchemyError) for fault in faults):
        return LOST
    return 1 if faults else 0


async def _answer(
    bot: SiteBot, memory: Memory, poller: Poller, sender: Sender, talk: Callable[[], Talking]
) -> None:
    # the first poll is on its way too, and the loading holds up neither
    username, own, inline = await introduce(bot)
    from bot.fronts.desk.inline import Inline
    from bot.fronts.desk.menu import set_menu
    from bot.fronts.telegram_work import Worker

    answerer = Answerer(talk(), words(), inline)
    answerer.warm_up()
    _settle_memory()
    sender.offer(memory.unsent())
    poller.at_work = True
    poller.inline = Inline(bot, answerer, memory).take
    menu = asyncio.ensure_future(set_menu(bot))
    worker = Worker(memory, sender, poller, answerer, Reader(username, own).read)
    try:
        await worker.run()
    finally:
        menu.cancel()


def _settle_memory() -> None:
    """What is loaded by now stays: the collector need not walk it again, and a long walk is a late answer."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(5000, 20, 20)


async def introduce(line: Line) -> tuple[str, int, bool]:
    """Our own name and number and whether people may ask inline, asked for until the platform answers."""
    pause = 0.2
    while True:
        outcome = await line.call("getMe", {})
        match outcome:
            case Done({"username": str(username), "id": int(own), **rest}):
                return username, own, rest.get("supports_inline_queries") is True
            case Barred(why):
                raise Refused(why)
        log.warning("start: no answer yet: %s", type(outcome).__name__)
        await asyncio.sleep(pause)
        pause = min(pause * 2, 15.0)


async def _sweep(memory: Memory, forget_days: int) -> None:
    while True:
        memory.sweep(KEEP_SECONDS)
        if forget_days:
            memory.forget(forget_days * 24 * 3600.0)
        await asyncio.sleep(3600)


async def _until(stop: asyncio.Event) -> None:
    await stop.wait()


def _loop_factory() -> Callable[[], asyncio.AbstractEventLoop] | None:
    if sys.platform == "win32":
        return None
    import uvloop

    return uvloop.new_event_loop
