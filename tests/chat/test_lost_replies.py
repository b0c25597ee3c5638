"""The platform does what it is asked and its answer is lost, and the process is killed: for every handler.

All rows of `handlers` are played at once, each in a chat of its own, and compared with a run in which nothing
goes wrong: what is said and what is kept is the same, and at most the one reply in flight is said again.
"""

import asyncio
import json
import re
import sqlite3
from contextlib import closing
from typing import Any

import pytest
from sqlalchemy import Connection, text

from bot.fronts.talking import talking
from bot.memory import Memory
from tests.chat.conftest import House
from tests.chat.handlers import PLAIN, ROWS
from tests.chat.hands import ask, quiet
from tests.chat.test_every_handler import Scene, aside, seen
from tests.chat.test_kills import process
from tests.standin import Standin

KEPT = {
    "walls": "SELECT name, body, gone FROM walls WHERE chat = {chat} ORDER BY id",
    "sites": "SELECT body FROM sites WHERE chat = {chat}",
    "talks": "SELECT key, state FROM talks WHERE chat = {chat} ORDER BY key",
    "answers": "SELECT key, person, asked, record FROM answers WHERE chat = {chat} ORDER BY turn",
    "questions": "SELECT key, before, digest FROM questions WHERE chat = {chat} ORDER BY turn",
}
MOMENT = 1e9
"""Figures beyond it are moments."""
FOREMAN = 7
Told = list[tuple[str, list[str]]]


class Run:
    """All rows at once."""

    def __init__(self, standin: Standin, house: House) -> None:
        self.standin, self.house = standin, house
        rows = sorted(ROWS, key=lambda row: row.do == "/downtools")  # after it nobody else's is worked
        self.scenes = [Scene(standin, None, row, number) for number, row in enumerate(rows, 1)]  # type: ignore[arg-type]
        foremen = {FOREMAN, *(scene.chat for scene in self.scenes if scene.row.foreman)}
        house.more |= {"foremen": frozenset(foremen)}
        self.more = {"PERPEND_FOREMEN": ",".join(map(str, foremen))}
        self.before = 0

    async def prepare(self) -> None:
        """All that comes before, in all chats."""
        async with self.house.bot(talking) as memory:
            for place in range(max(len(scene.row.before) for scene in self.scenes)):
                for scene in self.scenes:
                    if place < len(scene.row.before):
                        scene.hands.do(scene.row.before[place].replace("{name}", PLAIN))
                await quiet(self.standin, memory, 30)
        self.before = len(self.standin.calls)

    def play(self) -> set[str]:
        """What is done, in all chats; the numbers of the presses."""
        known = set(self.standin.queries)
        for scene in self.scenes:
            scene.hands.do(scene.row.do.replace("{name}", PLAIN))
        return set(self.standin.queries) - known

    async def end(self) -> dict[str, Any]:
        """Nothing goes wrong any more: all is worked, and what was said and is kept is told."""
        with closing(sqlite3.connect(self.house.database.partition("///")[2])) as file, file:
            file.execute("UPDATE outbox SET due = 0")  # time goes by
        async with self.house.bot(talking) as memory:
            orders = await self.orders(memory)
            self.standin.say(FOREMAN, "/crackon")  # else nobody's left over is worked
            await quiet(self.standin, memory, 30)
            assert {row[0] for row in memory.look(aside)} == {"cannot be read: Malformed"}
            found: dict[str, Any] = {"orders": orders}
            for scene in self.scenes:
                found[scene.name] = (
                    self.told(scene),
                    memory.look(lambda book, chat=scene.chat: kept(book, chat)),  # type: ignore[misc]
                )
        return found

    async def orders(self, memory: Memory) -> list[str]:
        """The orders that stand, once the foreman's own are worked."""
        order = next(scene for scene in self.scenes if scene.row.do == "/downtools")
        await self.standin.until(lambda: order.standin.sent(order.chat)[-1:], 10)
        return memory.look(lambda book: [row[0] for row in book.execute(text("SELECT name FROM orders"))])

    def told(self, scene: Scene) -> Told:
        """What was said in a chat since all was set."""
        calls = self.standin.calls[self.before :]
        here = [c for c in calls if c.code == 200 and c.values.get("chat_id") == scene.chat]
        if scene.row.foreman:  # how much waits is another figure each time
            return [(c.method, [re.sub(r"\d+", "#", words) for words in seen(c)]) for c in here]
        return [(c.method, seen(c)) for c in here]


def kept(book: Connection, chat: int) -> dict[str, Any]:
    """What is kept of a chat, whatever its number, without moments and numbers of rows."""
    found: dict[str, Any] = {}
    for name, asked in KEPT.items():
        rows = [list(row) for row in book.execute(text(asked.format(chat=chat)))]
        found[name] = [[plain(value) for value in row] for row in rows]
    return found


def plain(value: Any) -> Any:
    """The value without moments and numbers of rows."""
    if isinstance(value, str) and value[:1] == "{":
        return plain(json.loads(value))
    if isinstance(value, dict):
        return {name: plain(one) for name, one in value.items() if name != "id"}
    if isinstance(value, list):
        return [plain(one) for one in value]
    return "then" if isinstance(value, float) and value > MOMENT else value


def is_said_once(got: Told, right: Told) -> bool:
    """The same, or one of them twice in a row."""
    return got == right or any(got == [*right[: n + 1], *right[n:]] for n in range(len(right)))


@pytest.fixture(scope="module")
def sound() -> dict[str, Any]:
    """What comes of it where nothing goes wrong; the first test fills it in."""
    return {}


@pytest.mark.parametrize("loss", ["", "dropped", "500", "silence", "presses"])
async def test_a_lost_reply_loses_nothing(
    standin: Standin, house: House, sound: dict[str, Any], loss: str
) -> None:
    run = Run(standin, house)
    await run.prepare()
    if not loss:
        run.play()
        sound |= await run.end()
        return
    spoken = {scene.chat for scene in run.scenes if sound[scene.name][0]}
    async with process(house, "--real", "--wide", more=run.more):
        await ask(standin, FOREMAN, "/help")  # it is at work, and its window open
        presses = run.play()
        standin.faults.lose = loss
        standin.faults.losing |= presses if loss == "presses" else spoken
        await standin.until(lambda: not standin.faults.losing, 30)
    assert standin.lost == len(presses if loss == "presses" else spoken)
    await asyncio.sleep(0.05)  # what the dead process had written still arrives
    got = await run.end()
    repeated = 0
    assert got["orders"] == sound["orders"] == ["paused"]
    for scene in run.scenes:
        (told, after), (right, state) = got[scene.name], sound[scene.name]
        assert after == state, scene.name
        assert is_said_once(told, right), (scene.name, told, right)
        repeated += len(told) - len(right)
    print(f"{loss}: {len(spoken)} replies, {standin.lost} lost, {repeated} said again")
