"""The sender: letters go out in order within a chat, side by side between chats."""

import asyncio
import logging
import time
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from bot.fronts.desk.printing import Printer
from bot.fronts.tally import Tally
from bot.fronts.telegram_arrival import Again, Done, Line, Never, Outcome, Wait
from bot.fronts.telegram_log import fail, info
from bot.fronts.telegram_window import Pace, Tempo, Window
from bot.memory import Memory
from bot.store.rows import Letter

log = logging.getLogger("perpend.send")

ATTEMPTS = 5
FIRST_PAUSE, LONGEST_PAUSE = 0.5, 30.0
_AS_SENT = ("message is not modified", "query is too old", "query id is invalid")
_OF_A_NEW_MESSAGE = ("message_thread_id", "reply_parameters")
_NO_LONGER_THERE = ("message to edit not found", "message can't be edited", "message_id_invalid")


class Sender:
    """Posts what the outbox holds; a letter leaves it when the platform has it or it is set aside."""

    def __init__(self, line: Line, memory: Memory, is_up: Callable[[], bool] = lambda: True) -> None:
        self.line = line
        self.printer = Printer(memory)
        self.memory = memory
        self.is_up = is_up
        self.window = Window()
        self.pace = Pace(memory.note_pace if memory.shared else None)
        self.tempo = Tempo(0, memory.admit)
        self.objected: Callable[[], None] = lambda: None
        self.broken: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self.pending = self.begun = self.ended = 0
        self._resting = 0
        self._closing = False
        self.tally = Tally()
        self.emptied: Callable[[], None] = lambda: None
        self.idle = asyncio.Event()
        self.idle.set()
        self._lanes: dict[str, deque[Letter]] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._ticking: set[asyncio.Task[None]] = set()
        self._ticks: list[tuple[Letter, int | None]] = []
        self._ticked: asyncio.Future[None] | None = None

    def has(self, lane: str) -> bool:
        """Whether something of this lane is still to be sent."""
        return lane in self._lanes

    def offer(self, letters: Iterable[Letter]) -> None:
        """Take over letters that are in the outbox already."""
        for letter in letters:
            self.pending += 1
            self.idle.clear()
            lane = self._lanes.get(letter.lane)
            if lane is not None:
                lane.append(letter)
                continue
            self._lanes[letter.lane] = deque([letter])
            task = asyncio.get_running_loop().create_task(self._work(letter.lane))
            self._tasks.add(task)
            task.add_done_callback(self._ended)

    def is_moving(self) -> bool:
        """Whether any letter could go now, rather than at some later time."""
        return len(self._lanes) > self._resting

    async def close(self, patience: float = 5.0) -> None:
        """Begin nothing new, let calls under way end, stop; what is not sent stays in the outbox."""
        self._closing = True
        end = time.monotonic() + patience
        while self.window.out and time.monotonic() < end:
            await asyncio.sleep(0.01)
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    def _ended(self, task: asyncio.Task[None]) -> None:
        self._tasks.discard(task)
        if not task.cancelled() and (error := task.exception()) and not self.broken.done():
            self.broken.set_exception(error)

    async def _work(self, name: str) -> None:
        lane = self._lanes[name]
        while lane:
            letter = lane[0]
            while not await self._attempt(letter):
                pass
            lane.popleft()
            self.pending -= 1
        del self._lanes[name]
        self.emptied()
        if not self.pending and self.memory.owes_ticks:  # nothing else may be written for long
            await self.memory.do(self.memory.enter_ticks)
        if not self.pending:
            self.idle.set()

    async def _attempt(self, letter: Letter) -> bool:
        """One attempt, when it is due; true when the letter is off the desk."""
        while rest := max(letter.due - time.time() if letter.due else 0.0, self._must_rest(letter)):
            await self._rest(rest)
        while letter.chat is not None and (rest := self.tempo.wait(time.monotonic())):
            await asyncio.sleep(rest)
        made = await self.printer.ready(letter) if "paper" in letter.body else None
        async with self.window:
            if self._closing:
                raise asyncio.CancelledError
            self._address(letter)
            body = made if made is not None else _carried(letter)
            began = time.perf_counter()
            self.begun += 1
            outcome = await self.line.call(letter.method, body)
            self.ended += 1
            self.tally.call(letter, type(outcome).__name__)
            if isinstance(outcome, Done):
                self.window.took(time.perf_counter() - began)
                self.printer.sent(letter, body, outcome.result)
                await self._tick(letter, outcome)
                return True
        if isinstance(outcome, Never) and self.printer.spoiled(letter, body):
            return False  # the platform no longer knows the paper by its number: it is made again
        return self._failed(letter, outcome)

    async def _rest(self, seconds: float) -> None:
        self._resting += 1
        try:
            await asyncio.sleep(seconds)
        finally:
            self._resting -= 1

    def _must_rest(self, letter: Letter) -> float:
        if letter.due > time.time() or letter.chat is None:
            return 0.0
        return self.pace.wait(letter.chat, time.monotonic())

    def _address(self, letter: Letter) -> None:
        """An edit of our own answer learns its number only once that answer is out."""
        if letter.method != "editMessageText" or "message_id" in letter.body:
            return
        assert letter.chat is not None
        assert letter.message is not None
        ours = self.memory.reply_to(letter.chat, letter.message)
        if ours is None:
            letter.method = "sendMessage"
        else:
            letter.body["message_id"] = ours

    async def _tick(self, letter: Letter, outcome: Done) -> None:
        """Tick off together with all that arrive in the same breath."""
        result = outcome.result if letter.method == "sendMessage" else None
        ours = result.get("message_id") if isinstance(result, dict) else None
        if self.window.size == 1:  # nobody else can arrive
            await self._tick_now([(letter, ours)])
            return
        self._ticks.append((letter, ours))
        if self._ticked is None:
            loop = asyncio.get_running_loop()
            self._ticked = loop.create_future()
            loop.call_soon(self._tick_off_soon)
        await asyncio.shield(self._ticked)

    async def _tick_now(self, ticks: Sequence[tuple[Letter, int | None]]) -> None:
        try:
            await self.memory.do(self.memory.tick_off, ticks)
        except Exception:
            self._closing = True  # the process must not go on as if these were sent
            raise

    def _tick_off_soon(self) -> None:
        task = asyncio.get_running_loop().create_task(self._tick_off())
        self._ticking.add(task)
        task.add_done_callback(self._ticking.discard)

    async def _tick_off(self) -> None:
        ticks, done, self._ticks, self._ticked = self._ticks, self._ticked, [], None
        assert done is not None
        try:
            await self._tick_now(ticks)
        except Exception as error:
            done.set_exception(error)
        else:
            done.set_result(None)

    def _failed(self, letter: Letter, outcome: Outcome) -> bool:
        """Decide what a failure means; true when the letter is off the desk."""
        match outcome:
            case Wait(seconds):
                if letter.chat is not None:
                    self.pace.slow_down(letter.chat, time.monotonic())
                    if self.tempo.refused(letter.chat, time.monotonic()):
                        self.objected()
                return self._later(letter, seconds, "too many requests")
            case Again(why, unsent):
                letter.misses += 1
                if not unsent and self.is_up():  # an outage of the platform is no fault of the letter
                    letter.tries += 1
                if letter.tries >= ATTEMPTS:
                    return self._aside(letter, why)
                return self._later(
                    letter, min(LONGEST_PAUSE, FIRST_PAUSE * 2 ** min(letter.misses - 1, 8)), why
                )
            case Never(why, moved_to):
                return self._refused(letter, why.lower(), moved_to)
            case _:
                return self._later(letter, LONGEST_PAUSE, type(outcome).__name__)

    def _refused(self, letter: Letter, why: str, moved_to: int | None) -> bool:
        if any(words in why for words in _AS_SENT):
            self.memory.tick_off([(letter, None)])
            return True
        if moved_to is not None and letter.body.get("chat_id") != moved_to:
            letter.body["chat_id"] = moved_to
            return False
        if letter.method == "editMessageText" and any(words in why for words in _NO_LONGER_THERE):
            letter.method = "sendMessage"
            letter.body.pop("message_id", None)
            return False
        return self._aside(letter, why, refused=True)

    def _later(self, letter: Letter, seconds: float, why: str) -> bool:
        letter.due = time.time() + seconds
        self.memory.put_back(letter, why)
        info(log, "letter waits", row=letter.id, seconds=round(seconds, 1), fault=why)
        return False

    def _aside(self, letter: Letter, why: str, refused: bool = False) -> bool:
        self.memory.set_aside(letter, why)
        # the words of a refusal may hold a person's: they stay in the database
        fault = "refused" if refused else why
        fail(log, "letter set aside", row=letter.id, tries=letter.tries, fault=fault)
        return True


def _carried(letter: Letter) -> dict[str, Any]:
    """The body of the call; an edit does not say where a new message would go, until it becomes one."""
    if letter.method != "editMessageText":
        return letter.body
    return {name: value for name, value in letter.body.items() if name not in _OF_A_NEW_MESSAGE}
