"""The stand-in as a process: loads people's messages, times the replies, prints what it saw as JSON.

`python -m tests.standin --messages 3000 --chats 100 [--latency 0.05] [--rate 30] < questions`
"""

import argparse
import asyncio
import json
import statistics
import sys
import time

import uvloop

from tests.standin.server import Call, Standin


async def serve(messages: int, chats: int, latency: float, rate: float) -> None:
    """Serve one run and report on it."""
    texts = [line.strip() for line in sys.stdin if line.strip()]
    standin = Standin(latency)
    said: dict[int, list[float]] = {chat: [] for chat in range(1, chats + 1)}

    def say(number: int) -> None:
        chat = number % chats + 1
        said[chat].append(time.monotonic())
        standin.say(chat, texts[number % len(texts)])

    async with standin.serving():
        if not rate:
            for number in range(messages):
                say(number)
        print(standin.url, flush=True)
        await standin.until(lambda: standin.polled_at, 30)
        first = standin.polled_at[0]
        if rate:
            await asyncio.sleep(1.0)
            began = time.monotonic()
            for number in range(messages):
                await asyncio.sleep(max(0.0, began + number / rate - time.monotonic()))
                say(number)
        sent = await _all_sent(standin, messages)
        firsts = {call.values["chat_id"]: call.at for call in reversed(sent)}
        waits = [(firsts[chat] - moments[0]) * 1000 for chat, moments in said.items() if chat in firsts]
        cuts = statistics.quantiles(waits, n=100)
        report = {
            "replies": len(sent),
            "first_poll": first,
            "a_second": round(messages / (sent[-1].at - first), 1),
            "p50_ms": round(cuts[49], 2),
            "p99_ms": round(cuts[98], 2),
            "violations": standin.violations[:5],
        }
        print(json.dumps(report), flush=True)
        await asyncio.sleep(0.5)  # let the bot be measured while it is still answered


async def _all_sent(standin: Standin, messages: int) -> list[Call]:
    """Every reply, once there are enough and no more come (a long one is sent in pieces)."""
    while time.monotonic() - standin.polled_at[-1] < 60:
        before = len(standin.calls)
        await asyncio.sleep(0.3)
        sent = standin.sent() if len(standin.calls) == before else []
        if len(sent) >= messages:
            return sent
    raise SystemExit("the bot no longer polls")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--messages", type=int, default=3000)
    parser.add_argument("--chats", type=int, default=100)
    parser.add_argument("--latency", type=float, default=0.0)
    parser.add_argument("--rate", type=float, default=0.0)
    given = parser.parse_args()
    with asyncio.Runner(loop_factory=uvloop.new_event_loop) as runner:
        runner.run(serve(given.messages, given.chats, given.latency, given.rate))
