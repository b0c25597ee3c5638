"""The worker: updates from the inbox, in the order they came, a small batch to a transaction."""

import asyncio
import logging
from collections.abc import Callable, Sequence

from bot.fronts.telegram_answer import Answerer, pressed_turn
from bot.fronts.telegram_arrival import Arrival
from bot.fronts.telegram_send import Sender
from bot.fronts.telegram_take import Poller
from bot.memory import Memory
from bot.store.rows import Settled, Talk, Waiting

log = logging.getLogger("perpend.work")

BATCH = 16
KILLS = 5
"""An update that was in hand when the process died so many times is set aside."""
POST_FULL = 2000
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

    async def run(self) -> None:
        """Work for ever; what the last process left comes first, one by one."""
        await self._left_over()
        while True:
            self.poller.news.clear()
            while batch := self.memory.waiting(BATCH):
                self.poller.backlog -= len(batch)
                await self._work(batch)
                while self.sender.pending >= POST_FULL:
                    await asyncio.sleep(0.01)
                if len(batch) < BATCH and not self.poller.news.is_set():
                    break
            self.poller.backlog = 0
            await self.poller.news.wait()

    async def _left_over(self) -> None:
        """Each is marked before it is tried: one of them may be what killed the process."""
        last = 0
        left = self.memory.waiting(1_000_000)
        for row in left:
            last = row.id
            if row.tries >= KILLS:
                log.error("update in row %d set aside: in hand at %d ends of the process", row.id, row.tries)
                self.memory.settle([Settled(row.id, fault="in hand when the process ended")])
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
        talks = self.memory.recall({arrival.key for _, arrival in read if arrival.chat})
        fresh: dict[tuple[int, int], Settled] = {}
        for row, arrival in read:
            try:
                one = self._answer(row.id, arrival, talks.get(arrival.key), fresh)
            except Exception as error:
                log.error("row %d: no answer: %s", row.id, _where(error))
                one = (
                    self.answerer.say(row.id, arrival, "trouble")
                    if arrival.kind in ("text", "command")
                    else Settled(row.id)
                )
                one.fault = f"no answer: {type(error).__name__}"
            if one.talk:
                talks[arrival.key] = one.talk
            if one.question:
                fresh[one.question.chat, one.question.message] = one
            settled.append(one)
            for _ in range(ROUNDS):
                await asyncio.sleep(0)  # the sender's turn
        settled.sort(key=lambda one: one.id)
        self.memory.settle(settled)
        self.sender.offer(letter for one in settled for letter in one.letters)

    def _answer(
        self,
        row: int,
        arrival: Arrival,
        talk: Talk | None,
        fresh: dict[tuple[int, int], Settled],
    ) -> Settled:
        """`fresh` holds what this batch answered already and the database does not know yet."""
        match arrival.kind:
            case "text":
                return self.answerer.ask(row, arrival, talk)
            case "command":
                return self.answerer.command(row, arrival, talk)
            case "wordless":
                return self.answerer.say(row, arrival, "no_words")
            case "edit":
                known = fresh.get((arrival.chat, arrival.message))
                question = (known and known.question) or self.memory.question(arrival.chat, arrival.message)
                return self.answerer.correct(row, arrival, question, talk) if question else Settled(row)
            case "press":
                return self._press(row, arrival, talk, fresh)
            case _:
                return Settled(row)

    def _press(
        self,
        row: int,
        arrival: Arrival,
        talk: Talk | None,
        fresh: dict[tuple[int, int], Settled],
    ) -> Settled:
        turn = pressed_turn(arrival.text)
        question = next((s.question for s in fresh.values() if s.question and s.question.turn == turn), None)
        if question is None and turn is not None:
            question = self.memory.question_of(turn)
        return self.answerer.choose(row, arrival, talk, question)


def _where(error: Exception) -> str:
    """The kind and place of an error, never its words: they may be a person's."""
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    place = f" at {trace.tb_frame.f_code.co_name}:{trace.tb_lineno}" if trace else ""
    return type(error).__name__ + place
