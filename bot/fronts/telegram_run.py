"""The bot as a process: poller, worker and sender side by side until told to stop."""

import asyncio
import gc
import logging
import signal
import sys
import time
from collections.abc import Callable, Coroutine
from contextlib import ExitStack, suppress
from typing import Any, TypeVar

from sqlalchemy.exc import OperationalError, SQLAlchemyError

from bot.fronts.talking import Talking, talking
from bot.fronts.telegram import POLL_SECONDS, SiteBot
from bot.fronts.telegram_answer import Answerer, words
from bot.fronts.telegram_arrival import Barred, Done, Line
from bot.fronts.telegram_gate import Gate, Turnstile
from bot.fronts.telegram_log import fail, place_of, set_up_logging, warn
from bot.fronts.telegram_ports import NO_PORTS, Ports, closed
from bot.fronts.telegram_read import Reader
from bot.fronts.telegram_send import Sender
from bot.fronts.telegram_sweep import sweep
from bot.fronts.telegram_take import Poller, Refused
from bot.memory import Memory, open_memory
from bot.settings import Settings
from bot.store.opening import StoreFault
from bot.store.paces import Rate

log = logging.getLogger("perpend.run")

LOST, ANEW = 75, 1.0
"""What a run comes to when the database server went away, and the seconds before the next."""

T = TypeVar("T")


def run_bot(settings: Settings, talk: Callable[[], Talking] = talking, webhook: bool = False) -> int:
    """Run until SIGTERM or SIGINT; 0 after an orderly stop, 1 where it cannot go on."""
    set_up_logging(settings.token.get_secret_value(), settings.logs == "json")
    with ExitStack() as held:
        try:
            ports = Ports.of(settings, webhook, held)
        except OSError as error:
            fail(log, "the port cannot be had", fault=type(error).__name__)
            return 1
        while (status := _run_once(settings, talk, ports)) == LOST:
            warn(log, "the database server is gone, all begins anew in a moment")
            if _run(_away(settings, ports)):
                return 0
        return status


def _run_once(settings: Settings, talk: Callable[[], Talking], ports: Ports) -> int:
    try:
        memory = open_memory(settings.database)
    except (StoreFault, SQLAlchemyError, OSError, ImportError) as error:
        why = str(error) if isinstance(error, StoreFault) else ""
        fail(log, f"the database cannot be opened{why and ': '}{why}", fault=type(error).__name__)
        gone = isinstance(error, OperationalError) and not settings.database.startswith("sqlite")
        return LOST if gone else 1
    try:
        return _run(_serve_until_told(settings, memory, talk, ports))
    finally:
        with suppress(SQLAlchemyError):  # of a server that is gone
            memory.close()


def _run(task: Coroutine[Any, Any, T]) -> T:
    with asyncio.Runner(loop_factory=_loop_factory()) as runner:
        return runner.run(task)


def _told() -> asyncio.Event:
    """Set by SIGTERM or SIGINT."""
    stop = asyncio.Event()
    for name in (signal.SIGTERM, signal.SIGINT):
        asyncio.get_running_loop().add_signal_handler(name, stop.set)
    return stop


async def _serve_until_told(
    settings: Settings, memory: Memory, talk: Callable[[], Talking], ports: Ports
) -> int:
    return await serve(settings, memory, _told(), talk, ports)


async def _away(settings: Settings, ports: Ports) -> bool:
    """The moment before all begins anew; whoever knocks is told to come again. Whether to end instead."""
    stop = _told()
    async with closed(settings, ports):
        with suppress(TimeoutError):
            await asyncio.wait_for(stop.wait(), ANEW)
    return stop.is_set()


async def serve(
    settings: Settings,
    memory: Memory,
    stop: asyncio.Event,
    talk: Callable[[], Talking] = talking,
    ports: Ports = NO_PORTS,
) -> int:
    """Serve the chat on this loop; ends when told or on a fault. The exit status."""
    bot = SiteBot(settings)
    await bot.open()
    memory.waits = lambda fault, seconds: warn(
        log, "the database takes nothing for the moment", fault=fault, seconds=seconds
    )
    tally = ports.tally()
    poller = ports.door(bot, memory, settings, tally) or Poller(bot, memory, POLL_SECONDS)
    sender = Sender(bot, memory, lambda: poller.up)
    sender.tempo.a_second = settings.sends_a_second
    poller.tally = sender.tally = tally
    if settings.chats:
        allowed = settings.chats | settings.foremen
        poller.lets_in = Gate(allowed, bot, words()["not_for_you"], tally).lets_in
    if memory.shared:
        sender.emptied = poller.news.set  # its lane can be let go
    ending = asyncio.Event()
    tasks: list[asyncio.Future[None]] = [
        asyncio.ensure_future(poller.run()),
        asyncio.ensure_future(_answer(bot, memory, poller, sender, talk, settings, ending)),
        asyncio.ensure_future(sweep(memory, settings.forget_days)),
        *ports.watching(lambda: poller.at_work, memory, tally),
    ]
    ended: asyncio.Future[Any] = asyncio.ensure_future(stop.wait())
    try:
        watched: list[asyncio.Future[Any]] = [*tasks, sender.broken, ended]
        done, _ = await asyncio.wait(watched, return_when=asyncio.FIRST_COMPLETED)
        faults = [error for task in done - {ended} if (error := task.exception())]
        if not faults:
            await _finish(settings.stop_seconds, tasks[0], tasks[1], ending, poller, sender)
    finally:
        for task in [*tasks, ended]:
            task.cancel()
        await asyncio.gather(*tasks, ended, return_exceptions=True)
        await sender.close()
        await bot.close_pools()
    for fault in faults:
        why = "stopped, the platform refuses the token" if isinstance(fault, Refused) else "stopped"
        fail(log, why, fault=type(fault).__name__, place=place_of(fault))
    if memory.shared and any(isinstance(fault, SQLAlchemyError) for fault in faults):
        return LOST
    return 1 if faults else 0


async def _finish(
    seconds: float,
    polling: "asyncio.Future[None]",
    working: "asyncio.Future[None]",
    ending: asyncio.Event,
    poller: Poller,
    sender: Sender,
) -> None:
    """Take nothing more in, finish what is in hand, send what can go now; all within so many seconds."""
    end = time.monotonic() + seconds
    polling.cancel()
    await asyncio.wait([polling], timeout=seconds)
    ending.set()
    poller.news.set()
    if poller.at_work:
        await asyncio.wait([working], timeout=max(0.0, end - time.monotonic()))
    while sender.is_moving() and time.monotonic() < end:
        await asyncio.sleep(0.01)


async def _answer(
    bot: SiteBot,
    memory: Memory,
    poller: Poller,
    sender: Sender,
    talk: Callable[[], Talking],
    settings: Settings,
    ending: asyncio.Event,
) -> None:
    # the first poll is on its way too, and the loading holds up neither
    username, own, inline = await introduce(bot)
    from bot.fronts.desk.inline import Inline
    from bot.fronts.desk.menu import set_menu
    from bot.fronts.telegram_work import Worker
    from bot.fronts.telegram_yard import Yard

    answerer = Answerer(talk(), words(), inline)
    answerer.warm_up()
    answerer.tally = sender.tally
    _settle_memory()
    sender.offer(memory.unsent())
    poller.at_work = True
    asked_inline = Inline(bot, answerer, memory)
    poller.inline = asked_inline.take
    for query in poller.early:
        asked_inline.take(query)
    menu = asyncio.ensure_future(set_menu(bot))
    worker = Worker(memory, sender, poller, answerer, Reader(username, own).read, ending)
    worker.yard = Yard(memory, sender, poller.news.set, answerer.words, settings.foremen)
    if settings.person_a_minute:
        rate = Rate(settings.person_burst, settings.person_a_minute / 60)
        word = answerer.words["slow_down"]
        worker.turnstile = Turnstile(memory, rate, word, settings.foremen, sender.tally)
        asked_inline.turnstile = worker.turnstile
    try:
        await worker.run()
    finally:
        menu.cancel()


def _settle_memory() -> None:
    """What is loaded by now stays: the collector need not walk it again, and a long walk is a late answer.

    The little of it that is rubbish is not worth a walk either.
    """
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
        warn(log, "the platform does not answer yet", fault=type(outcome).__name__)
        await asyncio.sleep(pause)
        pause = min(pause * 2, 15.0)


def _loop_factory() -> Callable[[], asyncio.AbstractEventLoop] | None:
    if sys.platform == "win32":
        return None
    import uvloop

    return uvloop.new_event_loop
