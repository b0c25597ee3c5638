"""The web hook: who may bring what, and that two workers lose nothing by kills or a restart of the server."""

import asyncio
import json
import signal
from collections import Counter
from pathlib import Path
from random import Random

import aiohttp
import psycopg
import pytest

from tests.chat.conftest import standin
from tests.chat.test_kills import type_away
from tests.service.hooks import HEADERS, bring, free_port, ready, worker
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["standin"]

KILLS = 20
SOUND = {"update_id": 7, "message": {"message_id": 1}}
# Status by RFC 9110: 15.5.2, 15.5.5, 15.5.6, 15.5.14, 15.5.16
REFUSED: dict[str, tuple[str, str, dict[str, str], bytes, int]] = {
    "no secret": ("POST", "/hook", {"X-Telegram-Bot-Api-Secret-Token": ""}, json.dumps(SOUND).encode(), 401),
    "wrong secret": ("POST", "/hook", {"X-Telegram-Bot-Api-Secret-Token": "x"}, b"{}", 401),
    "wrong type": ("POST", "/hook", {"Content-Type": "text/plain"}, json.dumps(SOUND).encode(), 415),
    "too large": ("POST", "/hook", {}, json.dumps({**SOUND, "x": "y" * 600_000}).encode(), 413),
    "no JSON": ("POST", "/hook", {}, b"{'update_id': 7}", 400),
    "deep": ("POST", "/hook", {}, b"[" * 200_000, 400),
    "a list": ("POST", "/hook", {}, b"[7]", 400),
    "no number": ("POST", "/hook", {}, b'{"message": {}}', 400),
    "number too large": ("POST", "/hook", {}, b'{"update_id": 9223372036854775808}', 400),
    "wrong method": ("GET", "/hook", {}, b"", 405),
    "unknown path": ("POST", "/", {}, json.dumps(SOUND).encode(), 404),
    "method of a figure": ("POST", "/metrics", {}, b"", 405),
}


async def test_only_the_platform_is_let_in(standin: Standin, tmp_path: Path) -> None:
    port = free_port()
    async with (
        worker(standin, f"sqlite:///{tmp_path}/chat.db", port) as made,
        aiohttp.ClientSession() as session,
    ):
        await ready(port)
        for name, (method, path, headers, body, status) in REFUSED.items():
            kinds = {"Content-Type": "application/json", **HEADERS, **headers}
            async with session.request(
                method, f"http://127.0.0.1:{port}{path}", data=body, headers=kinds
            ) as answer:
                assert answer.status == status, name
        chunks = (b" " * 100_000 for _ in range(7))

        async def endless() -> object:
            for chunk in chunks:
                yield chunk

        async with session.post(
            f"http://127.0.0.1:{port}/hook",
            data=endless(),
            headers={"Content-Type": "application/json", **HEADERS},
        ) as answer:
            assert answer.status == 413
        standin.say(5, "one")
        (number,) = standin.updates
        for _ in range(3):  # replayed
            async with session.post(
                f"http://127.0.0.1:{port}/hook", json=standin.updates[number], headers=HEADERS
            ) as answer:
                assert answer.status == 200
        await standin.until(lambda: standin.sent(5))
        await asyncio.sleep(0.3)
        assert len(standin.sent()) == 1
        async with session.get(f"http://127.0.0.1:{port}/metrics") as answer:
            figures = await answer.text()
        assert 'perpend_updates_total{kind="message"} 3.0' in figures
        assert 'perpend_calls_total{end="Done",method="sendMessage"} 1.0' in figures
        assert 'perpend_waiting{queue="inbox"} 0.0' in figures
        assert 'perpend_hook_requests_total{status="401"} 2.0' in figures
        made.send_signal(signal.SIGTERM)
        assert await asyncio.wait_for(made.wait(), 10) == 0


@pytest.mark.parametrize("trouble", ["kills", "restarts"])
async def test_two_workers_lose_nothing(standin: Standin, server: Server, trouble: str) -> None:
    database = server.make(f"two_{trouble}")
    ports = [free_port(), free_port()]
    dice = Random(3)
    said: dict[int, list[str]] = {chat: [] for chat in range(1, 21)}
    stop, typed = asyncio.Event(), asyncio.Event()
    bringing = asyncio.create_task(bring(standin, ports, typed))
    typing = asyncio.create_task(type_away(standin, said, dice, stop))
    async with asyncio.timeout(150):
        if trouble == "kills":
            async with worker(standin, database, ports[0]):
                for _ in range(KILLS):
                    async with worker(standin, database, ports[1]):
                        await ready(ports[1])
                        await asyncio.sleep(dice.uniform(0.0, 0.5))
                stop.set()
                typed.set()
                await asyncio.gather(typing, bringing)
                await standin.until(lambda: _all_there(standin, said), 60, 0.1)
        else:
            async with worker(standin, database, ports[0]), worker(standin, database, ports[1]):
                for _ in range(3):
                    await asyncio.gather(*map(ready, ports))
                    await asyncio.sleep(dice.uniform(0.2, 0.8))
                    await asyncio.to_thread(server.stop)
                    await asyncio.sleep(0.2)
                    await asyncio.to_thread(server.start)
                stop.set()
                typed.set()
                await asyncio.gather(typing, bringing)
                await standin.until(lambda: _all_there(standin, said), 60, 0.1)
    repeated = 0
    for chat, texts in said.items():
        got = [call.text.split("\n")[:2] for call in standin.sent(chat)]
        once = [line for place, line in enumerate(got) if place == 0 or line != got[place - 1]]
        repeated += len(got) - len(once)
        assert once == [[f"turn {n}", f"Read: {text}"] for n, text in enumerate(texts, 1)]
    print(f"{trouble}: {sum(map(len, said.values()))} messages, {repeated} replies repeated")
    assert sum(map(len, said.values())) > 300
    # What a worker had out when it was cut off: one, or two where the machine is slow; 20 kills, 3 × 2 cuts.
    assert repeated <= (KILLS if trouble == "kills" else 12)
    with psycopg.connect(database) as connection:
        stages = Counter(row[0] for row in connection.execute("SELECT stage FROM inbox"))
    assert set(stages) == {"done"}


def _all_there(standin: Standin, said: dict[int, list[str]]) -> bool:
    last = {call.values["chat_id"]: call.text.split("\n")[1] for call in standin.sent()}
    return last == {chat: f"Read: {texts[-1]}" for chat, texts in said.items() if texts}
