"""The platform's side of the web hook: it brings a chat's updates in order, again until told they arrived."""

import asyncio
import itertools
import os
import socket
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress

import aiohttp

from tests.standin import Standin
from tests.standin.server import TOKEN

SECRET = "a-secret-of-the-tests-1234"  # pragma: allowlist secret
HEADERS = {"X-Telegram-Bot-Api-Secret-Token": SECRET}


def free_port() -> int:
    """A port that nobody has."""
    with socket.socket() as made:
        made.bind(("127.0.0.1", 0))
        return int(made.getsockname()[1])


@asynccontextmanager
async def worker(
    standin: Standin, database: str, port: int, more: dict[str, str] | None = None
) -> AsyncIterator[asyncio.subprocess.Process]:
    """A worker with the counting talk behind a web hook; killed at the end if it still lives."""
    made = await asyncio.create_subprocess_exec(
        *(sys.executable, "-m", "tests.chat.process", "--webhook"),
        env={
            **{k: v for k, v in os.environ.items() if not k.startswith("PERPEND_")},
            "PERPEND_TOKEN": TOKEN,
            "PERPEND_API_URL": standin.url,
            "PERPEND_DATABASE": database,
            "PERPEND_WEBHOOK_SECRET": SECRET,
            "PERPEND_LISTEN": f"127.0.0.1:{port}",
            **(more or {}),
        },
        stderr=asyncio.subprocess.DEVNULL,
    )
    try:
        yield made
    finally:
        with suppress(ProcessLookupError):
            made.kill()
        await made.wait()


async def ready(port: int) -> None:
    """Wait until a worker says that it is ready."""
    async with aiohttp.ClientSession() as session:
        for _ in range(1000):
            with suppress(aiohttp.ClientError):
                async with session.get(f"http://127.0.0.1:{port}/ready") as answer:
                    if answer.status == 200:
                        return
            await asyncio.sleep(0.02)
    raise AssertionError("the worker does not get ready")


async def bring(standin: Standin, ports: list[int], stop: asyncio.Event) -> None:
    """Bring what people said to the workers in turn until told to stop and nothing is left."""
    turn = itertools.cycle(ports)

    async def lane(chat: int, session: aiohttp.ClientSession) -> None:
        while not stop.is_set() or _of(standin, chat):
            mine = _of(standin, chat)
            if not mine:
                await asyncio.sleep(0.01)
                continue
            with suppress(aiohttp.ClientError, TimeoutError):
                async with session.post(
                    f"http://127.0.0.1:{next(turn)}/hook",
                    json=standin.updates[mine[0]],
                    headers=HEADERS,
                    timeout=aiohttp.ClientTimeout(total=5),
                ) as answer:
                    if answer.status == 200:
                        del standin.updates[mine[0]]
                        continue
            await asyncio.sleep(0.05)

    async with aiohttp.ClientSession() as session:
        await asyncio.gather(*(lane(chat, session) for chat in range(1, 21)))


def _of(standin: Standin, chat: int) -> list[int]:
    return [n for n, u in standin.updates.items() if u.get("message", {}).get("chat", {}).get("id") == chat]
