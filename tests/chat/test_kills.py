"""Fifty kills at random moments under load: nothing lost, only the one in flight twice, order kept."""

import asyncio
import os
import signal
import sys
import time
from bisect import bisect
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from functools import partial
from random import Random

import pytest

from tests.benchmarks.chat import used
from tests.chat.conftest import House
from tests.standin import Standin
from tests.standin.server import TOKEN

KILLS = 50
CHATS = 20


def surroundings(house: House) -> dict[str, str]:
    """What the bot's process finds in its environment."""
    return {
        **{k: v for k, v in os.environ.items() if not k.startswith("PERPEND_")},
        "PERPEND_TOKEN": TOKEN,
        "PERPEND_API_URL": house.standin.url,
        "PERPEND_DATABASE": house.database,
    }


@asynccontextmanager
async def process(
    house: House, *options: str, more: dict[str, str] | None = None
) -> AsyncIterator[asyncio.subprocess.Process]:
    """The bot as a process of its own; killed at the end if it still lives."""
    made = await asyncio.create_subprocess_exec(
        *(sys.executable, "-m", "tests.chat.process", *options),
        env={**surroundings(house), **(more or {})},
        stderr=asyncio.subprocess.DEVNULL,
    )
    try:
        yield made
    finally:
        if made.returncode is None:
            made.send_signal(signal.SIGKILL)
        await made.wait()


async def type_away(standin: Standin, said: dict[int, list[str]], dice: Random, stop: asyncio.Event) -> None:
    """People type in many chats, faster than the bot answers at times."""
    while not stop.is_set():
        for _ in range(dice.choice((1, 3, 30))):
            chat = dice.randint(1, CHATS)
            said[chat].append(f"message {len(said[chat]) + 1}")
            standin.say(chat, said[chat][-1])
        await asyncio.sleep(dice.uniform(0.0, 0.1))


@pytest.mark.parametrize("seed", [1])
async def test_fifty_kills_under_load(standin: Standin, house: House, seed: int) -> None:
    dice = Random(seed)
    said: dict[int, list[str]] = {chat: [] for chat in range(1, CHATS + 1)}
    stop = asyncio.Event()
    typing = asyncio.create_task(type_away(standin, said, dice, stop))
    at_work = 0
    kills: list[float] = []
    for _ in range(KILLS):
        async with process(house):
            before = len(standin.calls)
            if dice.random() < 0.8:  # most kills hit a bot at work, some one that is starting
                await standin.until(partial(_called, standin, before), 10)
                at_work += 1
            await asyncio.sleep(dice.uniform(0.0, 0.5))
        for _ in range(10):  # what the dead process had written is taken in look by look
            await asyncio.sleep(0.002)
        kills.append(time.monotonic())
    stop.set()
    await typing
    async with process(house):
        await standin.until(lambda: _answered(standin, said), 60, look=0.2)
        await asyncio.sleep(0.3)
    repeated: list[int] = []  # by which kill
    for chat, texts in said.items():
        got = [(call.text.split("\n")[:2], call.at) for call in standin.sent(chat)]
        twice = [place for place in range(1, len(got)) if got[place][0] == got[place - 1][0]]
        repeated += [bisect(kills, got[place - 1][1]) for place in twice]
        once = [line for place, (line, _) in enumerate(got) if place not in twice]
        assert once == [[f"turn {n}", f"Read: {text}"] for n, text in enumerate(texts, 1)]
    total = sum(map(len, said.values()))
    print(f"{total} messages, {KILLS} kills ({at_work} at work), {len(repeated)} replies repeated")
    assert total > 1000
    assert at_work >= 30
    assert len(repeated) == len(set(repeated)), "one kill repeated more than one reply"


def _called(standin: Standin, before: int) -> bool:
    return len(standin.calls) > before


def _answered(standin: Standin, said: dict[int, list[str]]) -> bool:
    last = {call.values["chat_id"]: call.text.split("\n")[1] for call in standin.sent()}
    return last == {chat: f"Read: {texts[-1]}" for chat, texts in said.items()}


async def test_a_database_has_one_process_at_a_time(standin: Standin, house: House) -> None:
    async with process(house) as first:
        await standin.until(lambda: standin.calls)
        async with process(house) as second:
            assert await asyncio.wait_for(second.wait(), 10) == 1
        first.send_signal(signal.SIGKILL)
        await first.wait()
    standin.say(5, "one")
    async with process(house) as third:
        await standin.until(lambda: standin.sent(5))
        third.send_signal(signal.SIGTERM)
        assert await asyncio.wait_for(third.wait(), 10) == 0


LIBRARIES = "import time, telegram.ext, sqlalchemy, pydantic_settings; print(time.process_time())"


async def test_ready_to_poll_soon_after_start(standin: Standin, house: House) -> None:
    took = []  # processor seconds: what else runs is no fault of the bot (the benchmark has the clock)
    bare = []  # a machine's pace: the libraries that such a bot is made of, and nothing of ours
    for _ in range(3):
        run = await asyncio.create_subprocess_exec(
            sys.executable, "-c", LIBRARIES, stdout=asyncio.subprocess.PIPE
        )
        bare.append(float((await run.communicate())[0]))
        standin.polled_at.clear()
        async with process(house) as made:
            await standin.until(lambda: standin.polled_at)
            took.append(used(made.pid))
    assert min(took) < max(0.8, 2 * min(bare))


async def test_an_update_that_kills_the_process_is_found_out(standin: Standin, house: House) -> None:
    for chat, text in ((5, "one"), (5, "die"), (5, "two"), (6, "one")):
        standin.say(chat, text)
    for _ in range(8):
        async with process(house) as made:
            with suppress(TimeoutError):
                await asyncio.wait_for(made.wait(), 2.5)
            if made.returncode is None:
                break
    else:
        raise AssertionError("the process still dies of it")
    assert [c.text.split("\n")[:2] for c in standin.sent(5)] == [
        ["turn 1", "Read: one"],
        ["turn 2", "Read: two"],
    ]
    assert len(standin.sent(6)) == 1
