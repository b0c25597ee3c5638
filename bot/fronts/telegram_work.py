"""The worker: updates from the inbox, in the order they came, a small batch to a transaction."""

import asyncio
import logging
import time
from collections.abc import Callable, Sequence
from contextlib import suppress

from bot.fronts.desk import screens
from bot.fronts.desk.desk import Desk
from bot.fronts.desk.site import Site, read_site
from bot.fronts.telegram_answer import Answerer, pressed_turn
from bot.fronts.telegram_arrival import Arrival
from bot.fronts.telegram_gate import Turnstile
from bot.fronts.telegram_log import fail, info, place_of
from bot.fronts.telegram_send import Sender
from bot.fronts.telegram_take import Poller
from bot.fronts.telegram_yard import Yard
from bot.memory import Memory
from bot.store.faults import is_lost, is_of_a_row, may_pass
from bot.store.rows import Settled, Talk, Waiting
from bot.store.saved import site_bodies
from bot.store.taking import recall

log = logging.getLogger("perpend.work")

BATCH = 16
KILLS = 5
"""An update that was in hand when the process died so many times is set aside."""
POST_FULL = 2000
LOOK, LOOK_BARRED = 0.2, 0.02
"""Seconds between looks for what other workers took in, or hold at the moment."""
ROUNDS, MORE_ROUNDS = 3, 9
"""Rounds of the loop between two turns: to see that a call's answer came; until the next call is begun."""


class Unwritten(Exception):
    """The database took all but something of these very updates; the kind of fault."""


class Worker:
    """Works the inbox; a batch's states, replies and done marks are one transaction."""

    def __init__(
        self,
        memory: Memory,
        sender: Sender,
        poller: Poller,
        answerer: Answerer,
        parse: Callable[[str], Arrival],
        ending: asyncio.Event | None = None,
    ) -> None:
        self.memory = memory
        self.sender = sender
        self.poller = poller
        self.parse = parse
        self.ending = ending or asyncio.Event()
        self.answerer = answerer
        self.desk = Desk(answerer, memory, sender.line)
        self.yard: Yard | None = None
        self.turnstile: Turnstile | None = None

    async def run(self) -> None:
        """Work until told to end; what the last process left comes first, one by one."""
        if not self.memory.shared and not (self.yard and self.yard.only()):
            await self._left_over()
        while not self.ending.is_set():
            self.poller.news.clear()
            only = self.yard.only() if self.yard else None
            claim = await self.memory.do(self.memory.claim, BATCH, self.sender.has, only)
            for lane, places, ago in claim.paces:
                self.sender.pace.learn(int(lane), places, ago, time.monotonic())
            self.sender.offer(claim.letters)
            self.poller.backlog -= len(claim.rows)
            batch = [row for row in claim.rows if not self._killed(row)]
            if batch:
                await self._work(batch)
            while self.sender.pending >= POST_FULL and not self.ending.is_set():
                await asyncio.sleep(0.01)
            if len(claim.rows) < BATCH and not (self.memory.shared and claim.rows):
                await self._rest(claim.barred)

    async def _rest(self, barred: bool) -> None:
        """Until there is news; other workers' news is looked for."""
        self.poller.backlog = 0
        if not self.memory.shared:
            await self.poller.news.wait()
            return
        with suppress(TimeoutError):
            await asyncio.wait_for(self.poller.news.wait(), LOOK_BARRED if barred else LOOK)

    def _killed(self, row: Waiting) -> bool:
        """Set aside what was in hand at too many ends of a process."""
        if row.tries < KILLS:
            return False
        fail(
            log,
            "update set aside",
            row=row.id,
            tries=row.tries,
            fault="in hand at too many ends of a process",
        )
        self.memory.settle([Settled(row.id, fault="in hand when the process ended")])
        return True

    async def _left_over(self) -> None:
        """Each is marked before it is tried: one of them may be what killed the process."""
        left = [row for row in self.memory.waiting(1_000_000) if row.id <= self.memory.left_over]
        for row in left:
            if self.ending.is_set():
                return
            if self._killed(row):
                continue
            self.memory.tried(row.id)
            await self._work([row])
        if left:
            info(log, "updates taken up again", count=len(left))

    async def _work(self, batch: Sequence[Waiting]) -> None:
        settled: list[Settled] = []
        read: list[tuple[Waiting, Arrival]] = []
        for row in batch:
            try:
                read.append((row, self.parse(row.body)))
            except Exception as error:
                fail(log, "update set aside", row=row.id, fault=type(error).__name__)
                settled.append(Settled(row.id, fault=f"cannot be read: {type(error).__name__}"))
        held = await self.memory.do(self.turnstile.held_back, read) if self.turnstile else None
        if held:
            settled += held.values()
            read = [(row, arrival) for row, arrival in read if row.id not in held]
        await self._work_through(read, settled)

    async def _work_through(self, read: Sequence[tuple[Waiting, Arrival]], held: Sequence[Settled]) -> None:
        """Work these at once; where what came of one of them cannot be written, each by itself."""
        written: set[int] = set()
        try:
            await self._work_at_once(read, list(held), written)
        except Unwritten:
            for one in held:
                if one.id not in written:
                    await self._write([one], written)
            for row, arrival in read:
                if row.id not in written:
                    await self._work_alone(row, arrival)

    async def _work_alone(self, row: Waiting, arrival: Arrival) -> None:
        """Work one; if the database refuses what came of it, it is set aside and its asker told."""
        try:
            await self._work_at_once([(row, arrival)], [], set())
        except Unwritten as refused:
            fail(log, "update set aside", row=row.id, fault=f"cannot be written: {refused}")
            one = self.answerer.excuse(row.id, arrival)
            one.fault = f"cannot be written: {refused}"
            try:
                await self._write([one], set())
            except Unwritten:
                await self._write([Settled(row.id, fault=one.fault)], set())

    async def _work_at_once(
        self, read: Sequence[tuple[Waiting, Arrival]], settled: list[Settled], written: set[int]
    ) -> None:
        here = [arrival for _, arrival in read]
        talks, sites = await self._recall(here)
        fresh: dict[tuple[int, int], Settled] = {}
        for row, arrival in read:
            self.answerer.tally.began(row.id, row.at)
            yard = self.yard is not None and self.yard.takes(arrival)
            desk = yard or self.desk.takes(arrival, talks.get(arrival.key))
            if desk and settled:
                await self._write(settled, written)  # the desk looks into the database
            try:
                if yard and self.yard:
                    one = self.yard.take(row.id, arrival)
                elif desk:
                    one = await self.desk.take(row.id, arrival, talks.get(arrival.key))
                else:
                    site = sites.get(arrival.chat, Site())
                    one = self._answer(row.id, arrival, talks.get(arrival.key), site, fresh)
            except Exception as error:
                if may_pass(error) or is_lost(error):
                    raise  # no fault of this update's
                fail(log, "no answer", row=row.id, fault=type(error).__name__, place=place_of(error))
                one = self.answerer.excuse(row.id, arrival, sites.get(arrival.chat))
                one.fault = f"no answer: {type(error).__name__}"
            if one.talk:
                talks[arrival.key] = one.talk
            if one.question:
                fresh[one.question.chat, one.question.message] = one
            settled.append(one)
            if one.site is not None:
                sites[arrival.chat] = one.site
            if desk:
                await self._write(settled, written)
                talks, sites = await self._recall(here)
            await self._the_senders_turn()
        await self._write(settled, written)

    async def _the_senders_turn(self) -> None:
        """A call's answer taken in, ticked off, and the next call begun, if there is one to take in."""
        ended, begun = self.sender.ended, self.sender.begun
        for _ in range(ROUNDS):
            await asyncio.sleep(0)
        if self.sender.ended == ended:
            return
        for _ in range(MORE_ROUNDS):
            await asyncio.sleep(0)
            if self.sender.begun > begun or not self.sender.pending:
                return

    async def _recall(self, arrivals: Sequence[Arrival]) -> tuple[dict[str, Talk], dict[int, Site]]:
        """Conversations and settings as they stand in the database."""
        keys = {arrival.key for arrival in arrivals if arrival.chat}
        chats = {arrival.chat for arrival in arrivals if arrival.chat}
        talks, bodies = await self.memory.do(
            self.memory.look, lambda book: (recall(book, keys), site_bodies(book, chats))
        )
        return talks, {chat: read_site(body) for chat, body in bodies.items()}

    async def _write(self, settled: list[Settled], written: set[int]) -> None:
        """Write what was settled so far, note it, and hand its letters over."""
        done = sorted(settled, key=lambda one: one.id)
        settled.clear()
        if done:
            try:
                await self.memory.do(self.memory.settle, done)
            except Exception as error:
                if is_of_a_row(error):
                    raise Unwritten(type(error).__name__) from error
                raise
        written.update(one.id for one in done)
        self.sender.offer(letter for one in done for letter in one.letters)

    def _answer(
        self,
        row: int,
        arrival: Arrival,
        talk: Talk | None,
        site: Site,
        fresh: dict[tuple[int, int], Settled],
    ) -> Settled:
        """`fresh` holds what this batch answered already and the database does not know yet."""
        match arrival.kind:
            case "text" if screens.is_help(arrival.text, site.language):
                return screens.help_(self.answerer, row, arrival, talk, site)
            case "text":
                return self.answerer.ask(row, arrival, talk, site)
            case "command":
                return screens.command(self.answerer, row, arrival, talk, site)
            case "wordless":
                return self.answerer.say(row, arrival, "no_words", site)
            case "edit":
                known = fresh.get((arrival.chat, arrival.message))
                question = (known and known.question) or self.memory.question(arrival.chat, arrival.message)
                return self.answerer.correct(row, arrival, question, talk, site) if question else Settled(row)
            case "press":
                return self._press(row, arrival, talk, site, fresh)
            case _:
                return Settled(row)

    def _press(
        self,
        row: int,
        arrival: Arrival,
        talk: Talk | None,
        site: Site,
        fresh: dict[tuple[int, int], Settled],
    ) -> Settled:
        turn = pressed_turn(arrival.text)
        question = next((s.question for s in fresh.values() if s.question and s.question.turn == turn), None)
        if question is None and turn is not None:
            question = self.memory.question_of(turn)
        return self.answerer.choose(row, arrival, talk, question, site)
