"""Updates by the thousand through the whole front, from raw JSON to the calls that go out.

`python -m tests.soak.front FIRST COUNT [DATABASE]`: the stand-in is in this process, the library and the
store are real.
"""

from __future__ import annotations

import asyncio
import json
import logging
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from functools import partial
from random import Random
from typing import Any

from sqlalchemy import Connection, text

import bot.fronts.telegram
from bot.fronts.talking import Talking, talking
from bot.fronts.telegram_run import serve
from bot.memory import Memory, open_memory
from bot.settings import Settings
from tests.soak.memory import Scale
from tests.soak.turns import check_whole
from tests.soak.updates import spoil, update
from tests.standin.near import NearRequest
from tests.standin.server import TOKEN, Standin

WAVE = 250
SPOILT = 0.35
PAPERS = 12
# Refusals that a spoilt update brings about by naming chats, threads and queries that are not there.
NOT_THERE = (
    "chat not found",
    "thread not found",
    "message to edit not found",
    "query is too old",
    "can't be edited",
)


class Gang:
    """Brings waves of updates, waits until they are worked, and looks at what came of them."""

    def __init__(self, first: int, count: int, database: str) -> None:
        self.count = count
        self.database = database
        self.lot = Random(first)
        self.first = first
        self.standin = Standin()
        self.broken: list[str] = []
        self.counts: Counter[str] = Counter()
        self.next = 0

    def talk(self) -> Talking:
        """The real talk; each of its turns is checked."""
        real = talking()

        def checked(verb: Any) -> Any:
            def done(state: Any, said: Any) -> Any:
                after, reply = verb(state, said)
                try:
                    check_whole(reply.record["question"], reply)
                except Exception as error:
                    self.fault(f"said {said!r} in {state!r}: {error!r}")
                    raise
                self.counts[reply.outcome] += 1
                return after, reply

            return done

        return replace(real, turn=checked(real.turn), choose=checked(real.choose))

    def fault(self, what: str) -> None:
        """Note what is wrong, with the wave that shows it again."""
        self.broken.append(f"front {self.first} after {self.next} updates: {what}"[:3000])

    async def run(self) -> dict[str, Any]:
        """All waves; the figures."""
        bot.fronts.telegram.SiteRequest = partial(NearRequest, self.standin)  # type: ignore[assignment, misc]
        memory = open_memory(self.database)
        settings = Settings(token=TOKEN, api_url="http://stand-in", database=self.database)
        stop = asyncio.Event()
        serving = asyncio.create_task(serve(settings, memory, stop, self.talk))
        await self.wave(memory, serving)
        await self.papers(memory)
        scale = Scale(self.count)
        while self.next < self.count and len(self.broken) < 10 and not serving.done():
            await self.wave(memory, serving)
            scale.look(self.next)
        if serving.done():
            self.fault(f"the bot ended by itself with {serving.result()}")
        stop.set()
        await serving
        memory.close()
        return {"counts": self.counts, "broken": self.broken, **scale.told()}

    async def papers(self, memory: Memory) -> None:
        """Enough papers that all they load is loaded, in each of the threads that make them."""
        standin = self.standin
        for number in range(PAPERS):
            standin.say(7, f"joints for {8 + number} m wall 2.4 high")
        while not self.settled(memory):
            await asyncio.sleep(0.01)
        for call in standin.sent(7):
            message = standin.chats[7][call.message_id or 0]
            for button in (b for row in message["reply_markup"]["inline_keyboard"] for b in row):
                if button.get("callback_data", "")[2:3] in ("d", "s"):
                    standin.press(message, button["callback_data"])
        while not self.settled(memory):
            await asyncio.sleep(0.01)
        if len(standin.files) < 2 * PAPERS:
            self.fault(f"{len(standin.files)} papers")

    async def wave(self, memory: Memory, serving: asyncio.Task[int]) -> None:
        """One wave: chats of its own, so that no group is written to faster than the platform allows."""
        standin, base = self.standin, self.next
        ours = [m for chat in standin.chats.values() for m in chat.values() if m["from"]["id"] == 4200]
        standin.calls.clear()
        asked: Counter[int] = Counter()
        for _ in range(WAVE):
            self.next += 1
            person = 10_000 + base + self.lot.randrange(40)
            chat = person if self.lot.random() < 0.8 else -(10_000 + base + self.lot.randrange(25))
            number = standin.new_message_id()
            made = update(self.lot, number, chat, person, ours)
            self.known(made)
            sound = self.lot.random() >= SPOILT
            if sound and chat > 0 and is_question(made.get("message", {})):
                asked[chat] += 1
            standin.post(made if sound else spoil(self.lot, made))
        while not (serving.done() or self.settled(memory)):
            await asyncio.sleep(0.01)
        self.look(memory, asked)
        for held in (standin.delivered, standin.queries, standin.inline, standin.files):
            held.clear()
        for chat in list(standin.chats)[:-60]:
            del standin.chats[chat]

    def known(self, made: dict[str, Any]) -> None:
        """The stand-in knows the chat, its message and the queries of a sound update."""
        holder = next(iter(made.values()))
        at = holder.get("message", holder)
        if "chat" in at:
            self.standin.chats.setdefault(at["chat"]["id"], {}).setdefault(
                at["message_id"], {"from": {"id": 0}, **at}
            )
        if "callback_query" in made:
            self.standin.queries[holder["id"]] = False
        if "inline_query" in made:
            self.standin.inline[holder["id"]] = None

    def settled(self, memory: Memory) -> bool:
        """Nothing is waiting anywhere."""
        left = (
            u for u in self.standin.updates.values() if "channel_post" not in u
        )  # of which we are not told
        return not any(left) and memory.look(nothing_waits)

    def look(self, memory: Memory, asked: Counter[int]) -> None:
        """Nobody is left without a word, nothing was refused, no update broke anything."""
        said = Counter(call.values.get("chat_id") for call in self.standin.sent())
        for chat, questions in asked.items():
            if said[chat] < questions:
                self.fault(f"chat {chat} asked {questions} and got {said[chat]}")
        for violation in self.standin.violations:
            if not any(words in violation for words in NOT_THERE):
                self.fault(violation)
        self.standin.violations.clear()
        for (fault,) in memory.look(partial(faults)):
            kind = fault.partition(":")[2].strip()
            self.counts[f"set aside: {kind}"] += 1
            if kind != "Malformed" and not any(words in fault for words in NOT_THERE):
                self.fault(fault)


def is_question(message: dict[str, Any]) -> bool:
    """Whether somebody is to be answered, in whatever words."""
    said = message.get("text", "").strip()
    elsewhere = {"migrate_to_chat_id", "migrate_from_chat_id"} & set(message)
    return bool(said) and not elsewhere and "@other_bot" not in said.partition(" ")[0]


def nothing_waits(book: Connection) -> bool:
    """Whether all is worked and sent."""
    waiting = (f"SELECT 1 FROM {table} WHERE stage = 'new' LIMIT 1" for table in ("inbox", "outbox"))  # noqa: S608
    return not any(book.execute(text(words)).first() for words in waiting)


def faults(book: Connection) -> Any:
    """Why updates and letters were set aside, told once."""
    found = [*book.execute(text("SELECT fault FROM inbox WHERE stage = 'set aside'"))]
    found += book.execute(text("SELECT method || ': ' || fault FROM outbox WHERE stage = 'set aside'"))
    for table in ("inbox", "outbox"):  # what is finished is swept in days; here in moments
        book.execute(text(f"DELETE FROM {table} WHERE stage <> 'new'"))  # noqa: S608
    return found


def main(first: int, count: int, database: str) -> None:
    """So many updates; the figures as JSON."""
    logging.disable(logging.CRITICAL)
    with tempfile.TemporaryDirectory() as folder:
        gang = Gang(first, count, database or f"sqlite:///{folder}/chat.db")
        print(json.dumps(asyncio.run(gang.run())))


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), (sys.argv[3:] or [""])[0])
