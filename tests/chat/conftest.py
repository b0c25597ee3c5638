"""A stand-in, and the real bot talking to it over real HTTP."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import ExitStack, asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from bot.fronts.talking import Talking
from bot.fronts.telegram_ports import Ports
from bot.fronts.telegram_run import serve
from bot.memory import Memory
from bot.settings import Settings
from tests.chat.fake_talk import talking
from tests.standin import Standin
from tests.standin.server import TOKEN


@pytest.fixture
async def standin() -> AsyncIterator[Standin]:
    """A fresh stand-in; at the end nothing may have broken its rules."""
    async with Standin().serving() as server:
        yield server
    assert server.violations == []


class House:
    """Starts and stops bots on one database."""

    def __init__(self, standin: Standin, path: Path) -> None:
        self.standin = standin
        self.database = f"sqlite:///{path / 'chat.db'}"
        self.more: dict[str, Any] = {"person_a_minute": 0}  # people here type faster than anybody can

    def settings(self) -> Settings:
        """Settings that point at the stand-in."""
        return Settings(token=TOKEN, api_url=self.standin.url, database=self.database, **self.more)

    @asynccontextmanager
    async def bot(self, talk: Callable[[], Talking] = talking) -> AsyncIterator[Memory]:
        """A bot at work for as long as the block lasts, stopped in good order."""
        memory = Memory(self.database)
        stop = asyncio.Event()
        with ExitStack() as held:
            settings = self.settings()
            ports = Ports.of(settings, False, held)
            task = asyncio.create_task(serve(settings, memory, stop, talk, ports))
            try:
                yield memory
            finally:
                stop.set()
                self.status = await asyncio.wait_for(task, 10)
                memory.close()


@pytest.fixture
def house(standin: Standin, tmp_path: Path) -> House:
    """A house for bots."""
    return House(standin, tmp_path)
