"""How fast a question typed in any chat is answered: `python -m tests.benchmarks.inline`.

Once from the query to the results, and once over HTTP from the poll to the call that carries the answer.
"""

import asyncio
import statistics
import tempfile
import time
from pathlib import Path

from bot.fronts.desk.inline import Inline
from bot.fronts.talking import talking
from bot.fronts.telegram_answer import Answerer, words
from bot.fronts.telegram_run import serve
from bot.memory import Memory
from bot.settings import Settings
from tests.benchmarks.asked import corpus
from tests.standin.server import TOKEN, Standin

MOST_MS = 10.0
AFTER = 20


def told(name: str, took: list[float]) -> bool:
    """Print median and the slowest hundredth in milliseconds; whether the median keeps to the limit."""
    ordered = sorted(took)
    middle, slow = statistics.median(ordered), ordered[int(len(ordered) * 0.99)]
    print(f"{name}: median {middle * 1000:.2f} ms, p99 {slow * 1000:.2f} ms, {len(ordered)} questions")
    return middle * 1000 <= MOST_MS


def alone(folder: Path) -> list[float]:
    """From the query to its results, one after the other."""
    memory = Memory(f"sqlite:///{folder / 'alone.db'}")
    answerer = Answerer(talking(), words(), share=True)
    answerer.warm_up()
    desk = Inline(Standin(), answerer, memory)  # type: ignore[arg-type]  # nothing is called
    took = []
    for text in corpus():
        began = time.perf_counter()
        desk.results(5, text)
        took.append(time.perf_counter() - began)
    memory.close()
    return took


async def whole(folder: Path) -> list[float]:
    """From the moment the platform has the query to the call that answers it."""
    async with Standin().serving() as standin:
        settings = Settings(token=TOKEN, api_url=standin.url, database=f"sqlite:///{folder / 'whole.db'}")
        memory, stop = Memory(settings.database), asyncio.Event()
        bot = asyncio.create_task(serve(settings, memory, stop))
        took = []
        for number, text in enumerate(corpus()[:300]):
            query = standin.ask_inline(1000 + number, text[:256])
            began = time.perf_counter()
            await standin.until(lambda query=query: standin.inline[query] is not None, look=0.0002)
            if number >= AFTER:  # the first wait for the start
                took.append(time.perf_counter() - began)
        stop.set()
        await bot
        memory.close()
    return took


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        kept = [told("query to results", alone(Path(name)))]
        kept.append(told("poll to answer, over HTTP", asyncio.run(whole(Path(name)))))
    raise SystemExit(0 if all(kept) else 1)
