"""Everything the bot remembers, behind one small face: inbox, conversations, outbox."""

import asyncio
import time
from collections.abc import Awaitable, Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from functools import partial
from threading import RLock
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from bot.store import paces, posting, saved, taking
from bot.store.faults import may_pass
from bot.store.lanes import Claim, Lanes
from bot.store.opening import bring_up_to_date, claim_file, file_of, open_engine
from bot.store.paces import OwnPaces, Rate, Verdict
from bot.store.rows import Letter, Question, Queue, Settled, Talk, Update, Waiting
from bot.store.ticks import Ticks

T = TypeVar("T")

FIRST_PAUSE, LONGEST_PAUSE = 0.1, 15.0
"""Seconds before the same is tried again, where the database takes nothing for the moment."""


class Memory:
    """One process's hold on the database; each method is one transaction."""

    shared = False

    def __init__(self, url: str) -> None:
        self._lock = claim_file(url)
        self._paces = OwnPaces()
        self.waits: Callable[[str, float], None] = lambda _fault, _seconds: None
        self._engine: Engine = open_engine(url)
        bring_up_to_date(self._engine)
        self._door: Connection = self._engine.connect()
        self._book: Connection = self._engine.connect()
        self._ticks = Ticks(file_of(url))
        if file_of(url):
            # What is taken in is flushed to the disk before it counts. What is made of it outlives a killed
            # process without a flush; a power cut can only undo it whole, back to an update that is still
            # there and is worked again: a reply may be repeated then, none is lost.
            self._book.connection.cursor().execute("PRAGMA synchronous=NORMAL")  # outside of any transaction
        with self._book.begin():
            self.left_over = taking.newest(self._book)  # the last update that an earlier process took in

    def close(self) -> None:
        """Let go of the database."""
        with suppress(DBAPIError):  # then they are still noted at the next start
            self.enter_ticks()
        self._ticks.close()
        self._door.close()
        self._book.close()
        self._engine.dispose()
        if self._lock:
            self._lock.close()

    async def do(self, work: Callable[..., T], *given: Any) -> T:
        """Have one of these methods run; a file answers at once, a server is waited for aside.

        Where the database takes nothing for the moment (locked, full), it is tried again until it does.
        """
        return await self._until_taken(self._run, work, *given)

    async def _until_taken(self, work: Callable[..., Awaitable[T]], *given: Any) -> T:
        pause = FIRST_PAUSE
        while True:
            try:
                return await work(*given)
            except DBAPIError as error:
                if not may_pass(error):
                    raise
                self.waits(type(error.orig).__name__, pause)
            await asyncio.sleep(pause)
            pause = min(pause * 2, LONGEST_PAUSE)

    async def _run(self, work: Callable[..., T], *given: Any) -> T:
        return work(*given)

    async def take_in(self, updates: Sequence[Update], patient: bool = True) -> int:
        """`keep`, where waiting holds up nobody else; who is not patient is told of any fault."""
        return await (self._until_taken(self._keep, updates) if patient else self._keep(updates))

    async def _keep(self, updates: Sequence[Update]) -> int:
        return self.keep(updates)

    @contextmanager
    def _at_book(self) -> Iterator[None]:
        """A transaction; what was ticked off since the last one is written down in it."""
        with self._book.begin():
            if self._ticks.noted:
                posting.tick_off(self._book, self._ticks.noted)
            yield
        self._ticks.clear()

    def keep(self, updates: Iterable[Update]) -> int:
        """Take in raw updates; when this returns they may be acknowledged. How many were new."""
        with self._door.begin():
            return taking.keep(self._door, updates, time.time())

    def waiting(self, most: int, after: int = 0) -> list[Waiting]:
        """The oldest updates still to be worked."""
        with self._at_book():
            return taking.waiting(self._book, after, most)

    def claim(
        self,
        most: int,
        is_busy: Callable[[str], bool],  # noqa: ARG002 - all lanes are ours
        only: Sequence[str] | None = None,
    ) -> Claim:
        """What may be worked now, of all lanes or `only` of these."""
        if only is None:
            return Claim(self.waiting(most))
        return Claim(self.look(lambda book: taking.waiting_in(book, only, most)))

    def admit(self, keys: Sequence[str], rate: Rate) -> list[Verdict]:
        """Whether each of these may go on at this rate."""
        return self._paces.take(keys, rate, time.monotonic())

    def note_pace(self, lane: str, places: float) -> None:
        """Note how fast a chat was written to: for the next worker, and here there is none."""

    def recall(self, keys: Iterable[str]) -> dict[str, Talk]:
        """The conversations of these keys."""
        with self._at_book():
            return taking.recall(self._book, keys)

    def question(self, chat: int, message: int) -> Question | None:
        """A message that was answered, if still known."""
        with self._at_book():
            return taking.question(self._book, chat, message)

    def question_of(self, turn: int) -> Question | None:
        """The message that this turn answered, whoever's it was."""
        with self._at_book():
            return taking.question_of(self._book, turn)

    def look(self, question: Callable[[Connection], T]) -> T:
        """Ask anything of what chats keep."""
        with self._at_book():
            return question(self._book)

    def paper(self, chat: int, digest: str) -> str | None:
        """The platform's number of a paper that this chat has had already."""
        with self._at_book():
            return saved.paper(self._book, chat, digest)

    def keep_paper(self, chat: int, digest: str, file_id: str | None) -> None:
        """Note the platform's number of a paper that was sent; None: it is no longer good."""
        with self._at_book():
            saved.keep_paper(self._book, chat, digest, file_id)

    def tried(self, row: int) -> None:
        """Count an attempt before it is made, so that an update which kills the process is found out."""
        with self._at_book():
            taking.tried(self._book, row)

    def settle(self, settled: Sequence[Settled]) -> None:
        """State, question, letters and done mark of these updates, all or nothing."""
        with self._at_book():
            taking.settle(self._book, settled, time.time())

    def queues(self) -> list[Queue]:
        """How inbox and outbox stand."""
        with self._at_book():
            return taking.queues(self._book)

    def unsent(self) -> list[Letter]:
        """Letters that were still to be sent when the last process ended."""
        with self._at_book():
            return posting.unsent(self._book)

    def tick_off(self, sent: Sequence[tuple[Letter, int | None]]) -> None:
        """Letters that arrived: noted beside the file, so that they are not sent again whatever happens."""
        try:
            self._ticks.note([(letter.id, ours) for letter, ours in sent])
        except OSError:  # the disk takes no note
            self.enter_ticks()

    @property
    def owes_ticks(self) -> bool:
        """Whether letters arrived that the database does not know of yet."""
        return bool(self._ticks.noted)

    def enter_ticks(self) -> None:
        """Tell the database of them where nothing else is about to be written."""
        if self.owes_ticks:
            with self._at_book():
                pass

    def reply_to(self, chat: int, message: int) -> int | None:
        """Our message that answers this one."""
        with self._at_book():
            return posting.reply_to(self._book, chat, message)

    def put_back(self, letter: Letter, fault: str) -> None:
        """A failed attempt."""
        with self._at_book():
            posting.put_back(self._book, letter, fault)

    def set_aside(self, letter: Letter, fault: str) -> None:
        """A letter that cannot be sent."""
        with self._at_book():
            posting.set_aside(self._book, letter, fault)


class SharedMemory(Memory):
    """A hold on a database server that other workers share; each works only the lanes that it holds.

    Intake is flushed before it counts, on a session of its own; the rest is one session, which is the hold.
    """

    shared = True

    def __init__(self, url: str) -> None:
        super().__init__(url)
        self._one = RLock()
        self._aside = {place: ThreadPoolExecutor(1, f"perpend-{place}") for place in ("book", "door")}
        with self._book.begin():
            # as with the file: a server that crashes can only undo what is made of an update, and whole
            self._book.exec_driver_sql("SET SESSION synchronous_commit = off")
        self._lanes = Lanes()

    def close(self) -> None:
        """Let go of the database, once what is under way is done."""
        for threads in self._aside.values():
            threads.shutdown()
        super().close()

    async def _run(self, work: Callable[..., T], *given: Any) -> T:
        """In order, on the thread of the session that does the work."""
        return await asyncio.get_running_loop().run_in_executor(self._aside["book"], partial(work, *given))

    async def _keep(self, updates: Sequence[Update]) -> int:
        """On the thread of the session that takes in."""
        return await asyncio.get_running_loop().run_in_executor(self._aside["door"], self.keep, updates)

    @contextmanager
    def _at_book(self) -> Iterator[None]:
        """The session is one: who looks from the loop waits until the thread has written."""
        with self._one, self._book.begin():
            yield

    def claim(self, most: int, is_busy: Callable[[str], bool], only: Sequence[str] | None = None) -> Claim:
        """What this worker may work now, and letters that a dead one left."""
        with self._at_book():
            return self._lanes.claim(self._book, most, is_busy, only)

    def admit(self, keys: Sequence[str], rate: Rate) -> list[Verdict]:
        """Whether each of these may go on at this rate, which all workers share."""
        with self._at_book():
            return paces.take(self._book, keys, rate)

    def note_pace(self, lane: str, places: float) -> None:
        """Note how fast a chat was written to, for the worker that holds its lane next."""
        with self._at_book():
            paces.write(self._book, f"chat {lane}", places)

    def settle(self, settled: Sequence[Settled]) -> None:
        """As ever; lanes that only letters have are held as well until they are sent."""
        with self._at_book():
            self._lanes.take(self._book, {letter.lane for one in settled for letter in one.letters})
            taking.settle(self._book, settled, time.time())

    def tick_off(self, sent: Sequence[tuple[Letter, int | None]]) -> None:
        """Letters that arrived: the server is told at once."""
        with self._at_book():
            posting.tick_off(self._book, [(letter.id, ours) for letter, ours in sent])

    def unsent(self) -> list[Letter]:
        """None: letters come with the claim of their lane."""
        return []


def open_memory(url: str) -> Memory:
    """The memory that this database allows: a file is one process's own, a server is shared."""
    return Memory(url) if url.startswith("sqlite") else SharedMemory(url)
