"""The worker: updates from the inbox, in the order they came, a small batch to a transaction."""

import asyncio
import logging
from collections.abc import Callable, Sequence
from contextlib import suppress

from bot.fronts.desk.desk import Desk
from bot.fronts.desk.site import Site, read_site
from bot.fronts.telegram_answer import Answerer, pressed_turn
from bot.fronts.telegram_arrival import Arrival
from bot.fronts.telegram_send import Sender
from bot.fronts.telegram_take import Poller
from bot.memory import Memory
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
ROUNDS = 12
"""Rounds of the loop between two turns: one call's answer taken in, ticked off, and the next call begun."""


class Worker:
    """Works the inbox; a batch's states, replies and done marks are one transaction."""

    def __init__(
        self,
        memory: Memory,
        sender: Sender,
        poller: Poller,
        answerer: Answerer,
        parse: Callable[[str], Arrival],
    ) -> None:
        self.memory = memory
        self.sender = sender
        self.poller = poller
        self.parse = parse
        self.answerer = answerer
        self.desk = Desk(answerer, memory, sender.line)

    async def run(self) -> None:
        """Work for ever; what the last process left comes first, one by one."""
        if not self.memory.shared:
            await self._left_over()
        while True:
            self.poller.news.clear()
            claim = self.memory.claim(BATCH, self.sender.has)
            self.sender.offer(claim.letters)
            self.poller.backlog -= len(claim.rows)
            batch = [row for row in claim.rows if not self._killed(row)]
            if batch:
                await self._work(batch)
            while self.sender.pending >= POST_FULL:
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
        log.error("update in row %d set aside: in hand at %d ends of the process", row.id, row.tries)
        self.memory.settle([Settled(row.id, fault="in hand when the process ended")])
        return True

    async def _left_over(self) -> None:
        """Each is marked before it is tried: one of them may be what killed the process."""
        last = 0
        left = self.memory.waiting(1_000_000)
        for row in left:
            last = row.id
            if self._killed(row):
                continue
            self.memory.tried(row.id)
            await self._work([row])
        if last:
            log.info("%d updates taken up again", len(left))

    async def _work(self, batch: Sequence[Waiting]) -> None:
        settled: list[Settled] = []
        read: list[tuple[Waiting, Arrival]] = []
        for row in batch:
            try:
                read.append((row, self.parse(row.body)))
            except Exception as error:
                log.error("update in row %d set aside: %s", row.id, type(error).__name__)
                settled.append(Settled(row.id, fault=f"cannot be read: {type(error).__name__}"))
        here = [arrival for _, arrival in read]
        talks, sites = self._recall(here)
        fresh: dict[tuple[int, int], Settled] = {}
        for row, arrival in read:
            desk = self.desk.takes(arrival)
            if desk and settled:
                self._write(settled)  # the desk looks into the database
            try:
                one = (
                    await self.desk.take(row.id, arrival, talks.get(arrival.key))
                    if desk
                    else self._answer(
                        row.id, arrival, talks.get(arrival.key), sites.get(arrival.chat, Site()), fresh
                    )
                )
            except Exception as error:
                log.error("row %d: no answer: %s", row.id, _where(error))
                one = self.answerer.excuse(row.id, arrival, sites.get(arrival.chat))
                one.fault = f"no answer: {type(error).__name__}"
            if one.talk:
                talks[arrival.key] = one.talk
            if one.question:
                fresh[one.question.chat, one.question.message] = one
            settled.append(one)
            if desk or one.changes:
                self._write(settled)
                talks, sites = self._recall(here)
            for _ in range(ROUNDS):
                await asyncio.sleep(0)  # the sender's turn
        self._write(settled)

    def _recall(self, arrivals: Sequence[Arrival]) -> tuple[dict[str, Talk], dict[int, Site]]:
        """Conversations and settings as they stand in the database."""
        keys = {arrival.key for arrival in arrivals if arrival.chat}
        chats = {arrival.chat for arrival in arrivals if arrival.chat}
        talks, bodies = self.memory.look(lambda book: (recall(book, keys), site_bodies(book, chats)))
        return talks, {chat: read_site(body) for chat, body in bodies.items()}

    def _write(self, settled: list[Settled]) -> None:
        """Write what was settled so far, and hand its letters over."""
        done = sorted(settled, key=lambda one: one.id)
        settled.clear()
        self.memory.settle(done)
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
            case "text":
                return self.answerer.ask(row, arrival, talk, site)
            case "command":
                return self.answerer.command(row, arrival, talk, site)
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


def _where(error: Exception) -> str:
    """The kind and place of an error, never its words: they may be a person's."""
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    place = f" at {trace.tb_frame.f_code.co_name}:{trace.tb_lineno}" if trace else ""
    return type(error).__name__ + place
