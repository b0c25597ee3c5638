"""All that can go wrong on the line at once, and the store away for a while: the same on both engines."""

import asyncio
import signal
from collections import Counter
from random import Random
from typing import Any

import pytest

from tests.chat.conftest import House, house, standin
from tests.chat.test_kills import process
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["house", "standin"]

CHATS, ROUNDS = 20, 12


async def chatter(standin: Standin, said: dict[int, list[str]], dice: Random) -> dict[int, dict[str, Any]]:
    """Each round somebody of every chat types, and it comes in another order. What was brought."""
    brought: dict[int, dict[str, Any]] = {}
    number = 900_000_000
    for _ in range(ROUNDS):
        chats = sorted(said)
        dice.shuffle(chats)
        bodies = []
        for chat in chats:
            said[chat].append(f"message {len(said[chat]) + 1}")
            bodies.append({"message": standin.message(chat, said[chat][-1])})
        dice.shuffle(bodies)
        for body in bodies:
            number += 1
            brought[number] = {"update_id": number, **body}
            standin.post(body, number)
        await asyncio.sleep(dice.uniform(0.0, 0.3))
    return brought


@pytest.mark.parametrize("engine", ["file", "server"])
async def test_everything_at_once(standin: Standin, house: House, server: Server, engine: str) -> None:
    if engine == "server":
        house.database = server.make("together")
    faults, dice = standin.faults, Random(11)
    faults.error_500, faults.dropped_before, faults.dropped_after = 0.04, 0.03, 0.02
    faults.slow, faults.too_many = 0.1, 0.01
    said: dict[int, list[str]] = {chat: [] for chat in range(1, CHATS + 1)}
    typing = asyncio.create_task(chatter(standin, said, dice))
    async with asyncio.timeout(120):
        async with process(house) as first:
            await standin.until(lambda: len(standin.sent()) > 60, 30)
            if engine == "server":
                await asyncio.to_thread(server.stop)
                await asyncio.sleep(0.5)
                await asyncio.to_thread(server.start)
                await standin.until(lambda: len(standin.sent()) > 120, 30)
            first.send_signal(signal.SIGTERM)
            assert await asyncio.wait_for(first.wait(), 15) == 0
        async with process(house):
            brought = await typing
            await standin.until(lambda: complete(standin, said), 90, 0.1)
            standin.end_poll()  # a quiet moment; then all of it comes again, as if never acknowledged
            await asyncio.sleep(0.3)
            standin.updates |= dict(sorted(brought.items(), key=lambda _: dice.random()))
            standin.arrived()
            await standin.until(lambda: not standin.updates, 30)
            await asyncio.sleep(0.3)
    repeated = 0
    for chat, texts in said.items():
        got = [call.text.split("\n")[:2] for call in standin.sent(chat)]
        once = [line for place, line in enumerate(got) if place == 0 or line != got[place - 1]]
        repeated += len(got) - len(once)
        assert once == [[f"turn {n}", f"Read: {text}"] for n, text in enumerate(texts, 1)]
    codes = Counter(call.code for call in standin.calls)
    print(f"{engine}: {CHATS * ROUNDS} messages, {dict(codes)}, {standin.lost} lost, {repeated} repeated")
    assert codes[500] > 3
    assert codes[429] > 0
    assert sum(count > 1 for count in standin.delivered.values()) > 100
    # A lost answer looks like a call that was lost; and what the restart cut off.
    assert repeated <= standin.lost + 4


def complete(standin: Standin, said: dict[int, list[str]]) -> bool:
    """Every chat has the answer to its last message."""
    last = {call.values["chat_id"]: call.text.split("\n")[1] for call in standin.sent()}
    return last == {chat: f"Read: {texts[-1]}" for chat, texts in said.items()}
