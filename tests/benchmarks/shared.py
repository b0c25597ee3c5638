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
from dataclasses import dataclass
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


@dataclass(frozen=True)
class Spent:
    """Messages a second, and the processor's milliseconds a message by what spent them."""

    a_second: float
    workers: tuple[float, ...]
    database: float
    standin: float

    def possible(self, cores: int) -> float:
        """How many times one worker's pace the cores allow, were none of their time lost."""
        work = sum(self.workers)
        return min(len(self.workers), cores * work / (work + self.database + self.standin))

    def told(self, cores: int) -> str:
        """Each process's share of all that the cores had to give."""
        share = self.a_second / cores / 10  # ms a message -> per cent of the cores
        parts = [f"worker {one * share:.0f} %" for one in self.workers]
        parts += [f"database server {self.database * share:.0f} %", f"stand-in {self.standin * share:.0f} %"]
        every = sum(self.workers) + self.database + self.standin
        return (
            f"{self.a_second:.0f} a second; of {cores} cores: {', '.join(parts)}, nobody or others "
            f"{max(0.0, 100 - every * share):.0f} %; processor a message: worker {sum(self.workers):.2f} ms, "
            f"database server {self.database:.2f} ms, stand-in {self.standin:.2f} ms"
        )


async def measure(server: Server, workers: int, messages: int, chats: int) -> Spent:
    """All waiting in the database when the workers are ready to begin."""
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
        each = 1000 / messages
        spent = Spent(
            messages / took,
            tuple((used(pid) - then) * each for pid, then in zip(pids, before[0], strict=True)),
            (of_server(server.process.pid) - before[1]) * each,
            (time.process_time() - before[2]) * each,
        )
        print(f"{workers}: {spent.told(os.cpu_count() or 1)}")
        assert not standin.violations
        return spent


async def compare(messages: int, chats: int, rounds: int) -> int:
    """One and two in turn; 1 where the aim is missed."""
    server = Server()
    found: dict[int, list[Spent]] = {1: [], 2: []}
    try:
        for _ in range(rounds):
            for workers, runs in found.items():
                runs.append(await measure(server, workers, messages, chats))
    finally:
        server.close()
    one, two = (max(runs, key=lambda spent: spent.a_second) for runs in found.values())
    times, cores = two.a_second / one.a_second, os.cpu_count() or 1
    print(
        f"two workers: {times:.2f} times one (the aim {AIM}); {cores} cores that also carry the database "
        f"server and the stand-in allow {two.possible(cores):.2f}"
    )
    return int(times < AIM)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=3000)
    parser.add_argument("--chats", type=int, default=300)
    parser.add_argument("--rounds", type=int, default=2)
    given = parser.parse_args()
    with asyncio.Runner(loop_factory=uvloop.new_event_loop) as runner:
        raise SystemExit(runner.run(compare(given.messages, given.chats, given.rounds)))
