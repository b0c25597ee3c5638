"""Two workers on a database server against one, 50 ms to the platform: python -m tests.benchmarks.shared.

The aim: 1.6 times the messages a second, or what the cores are spent on, which is printed with it.
"""

import argparse
import asyncio
import os
import sys
import time
from collections.abc import AsyncIterator
from contextlib import AsyncExitStack, asynccontextmanager
from pathlib import Path

import uvloop

from bot.fronts.telegram_arrival import chat_of
from bot.memory import open_memory
from bot.store.rows import Update
from bot.written import written
from tests.benchmarks.asked import differing
from tests.benchmarks.chat import used
from tests.service.hooks import SECRET, free_port
from tests.service.postgres import Server
from tests.standin.server import TOKEN, Standin

AIM = 1.6


@asynccontextmanager
async def worker(standin: Standin, database: str) -> AsyncIterator[int]:
    """A worker with the real talk behind a web hook that nobody calls; its process."""
    made = await asyncio.create_subprocess_exec(
        *(sys.executable, "-m", "bot.cli", "bot", "--webhook"),
        env={
            **{k: v for k, v in os.environ.items() if not k.startswith("PERPEND_")},
            "PERPEND_TOKEN": TOKEN,
            "PERPEND_API_URL": standin.url,
            "PERPEND_DATABASE": database,
            "PERPEND_WEBHOOK_SECRET": SECRET,
            "PERPEND_LISTEN": f"127.0.0.1:{free_port()}",
            "PERPEND_PERSON_A_MINUTE": "0",
        },
        stderr=asyncio.subprocess.DEVNULL,
    )
    try:
        yield made.pid
    finally:
        made.terminate()
        await made.wait()


def of_server(process: int) -> float:
    """Processor seconds of a database server, its sessions' included."""
    children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    return used(process) + sum(used(int(child)) for child in children)


async def measure(server: Server, workers: int, messages: int, chats: int) -> float:
    """Messages a second, all waiting in the database when the workers are ready to begin."""
    url = server.make(f"workers{workers}")
    async with Standin(0.05).serving() as standin, AsyncExitStack() as stack:
        pids = [await stack.enter_async_context(worker(standin, url)) for _ in range(workers)]
        ready = workers * 2
        await standin.until(lambda: sum(c.method == "getMyCommands" for c in standin.calls) >= ready, 30)
        for number, text in enumerate(differing(messages)):
            standin.say(number % chats + 1, text)
        updates = [Update(u["update_id"], chat_of(u), written(u)) for u in standin.updates.values()]
        before = [used(pid) for pid in pids], of_server(server.process.pid), time.process_time()
        memory, began = open_memory(url), time.monotonic()
        memory.keep(updates)
        memory.close()
        await standin.until(lambda: len(standin.sent()) >= messages, 300, look=0.1)
        took = standin.sent()[-1].at - began
        spent = [used(pid) - then for pid, then in zip(pids, before[0], strict=True)]
        cores = (os.cpu_count() or 1) * took
        print(
            f"{workers}: {messages / took:.0f}/s; of {cores:.1f} s of all cores: workers "
            f"{' + '.join(f'{one:.1f}' for one in spent)}, "
            f"database {of_server(server.process.pid) - before[1]:.1f}, "
            f"stand-in {time.process_time() - before[2]:.1f}"
        )
        assert not standin.violations
        return messages / took


async def compare(messages: int, chats: int, rounds: int) -> int:
    """One and two in turn; 1 where the aim is missed."""
    server = Server()
    best = {1: 0.0, 2: 0.0}
    try:
        for _ in range(rounds):
            for workers in (1, 2):
                best[workers] = max(best[workers], await measure(server, workers, messages, chats))
    finally:
        server.close()
    print(f"two workers: {best[2] / best[1]:.2f} times one, on {os.cpu_count()} cores (the aim {AIM})")
    return int(best[2] / best[1] < AIM)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=3000)
    parser.add_argument("--chats", type=int, default=300)
    parser.add_argument("--rounds", type=int, default=2)
    given = parser.parse_args()
    with asyncio.Runner(loop_factory=uvloop.new_event_loop) as runner:
        raise SystemExit(runner.run(compare(given.messages, given.chats, given.rounds)))
