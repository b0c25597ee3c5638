"""How fast the chat is, against the library's bare echo bot: `python -m tests.benchmarks.chat`."""

import argparse
import compileall
import importlib.util
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from tests.benchmarks.asked import corpus, differing
from tests.standin.server import TOKEN

ECHO = "tests.benchmarks.echo_bot"
DURABLE = "bot.cli bot" if importlib.util.find_spec("bot.talk") else "tests.chat.process"


@dataclass
class Run:
    """One bot against one stand-in."""

    report: dict[str, Any]
    start_ms: float
    memory_mb: float
    cpu_ms: float


def run(
    module: str,
    messages: int,
    chats: int,
    latency: float = 0.0,
    rate: float = 0.0,
    texts: Sequence[str] = (),
    prepare: Callable[[str], None] = lambda _url: None,
    watch: Callable[[int], None] = lambda _pid: None,
) -> Run:
    """Start a stand-in and a bot on a database that was made ready, let them finish, and take the figures."""
    compiled()
    options = {"messages": messages, "chats": chats, "latency": latency, "rate": rate}
    flags = [part for name, value in options.items() for part in (f"--{name}", str(value))]
    standin = subprocess.Popen(
        [sys.executable, "-m", "tests.standin", *flags],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert standin.stdin
    assert standin.stdout
    standin.stdin.write("\n".join(texts or corpus()))
    standin.stdin.close()
    url = standin.stdout.readline().strip()
    with tempfile.TemporaryDirectory() as folder:
        env = {
            **{k: v for k, v in os.environ.items() if not k.startswith("PERPEND_")},
            "PERPEND_TOKEN": TOKEN,
            "PERPEND_API_URL": url,
            "PERPEND_DATABASE": (database := f"sqlite:///{folder}/chat.db"),
            "PERPEND_PERSON_A_MINUTE": "0",  # these people type faster than anybody can
        }
        prepare(database)
        began = time.monotonic()
        bot = subprocess.Popen([sys.executable, "-m", *module.split()], env=env, stderr=subprocess.DEVNULL)
        watch(bot.pid)
        try:
            line = standin.stdout.readline()
            if not line:
                raise SystemExit(f"{module} did not answer every message; its exit status: {bot.poll()}")
            report = json.loads(line)
            memory, cpu = resident(bot.pid), used(bot.pid)
        finally:
            bot.terminate()
            bot.wait(20)
            standin.wait(20)
    return Run(report, (report["first_poll"] - began) * 1000, memory, cpu * 1000 / messages)


@cache
def compiled() -> None:
    """Compile the program, as it is once it is installed: the chat library comes compiled."""
    for folder in ("bot", "knowledge"):
        compileall.compile_dir(Path(__file__).parents[2] / folder, quiet=2)


def resident(pid: int) -> float:
    """Resident memory of a process in MB."""
    lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    return int(next(x for x in lines if x.startswith("VmRSS")).split()[1]) / 1024


def used(pid: int) -> float:
    """Processor seconds of a process, its start included."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Print every figure with what it is measured against."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=6000)
    parser.add_argument("--chats", type=int, default=100)
    parser.add_argument("--rounds", type=int, default=3, help="each bot in turn, the best of so many")
    parser.add_argument("--bot", default=DURABLE)
    given = parser.parse_args()
    bots = (ECHO, given.bot)
    print(f"durable bot: {given.bot}; yardstick: {ECHO}; {given.messages} messages in {given.chats} chats")
    print(
        f"asked: the {len(corpus())} messages of tests/corpus in turn; then questions that are all different"
    )
    near = [{bot: run(bot, given.messages, given.chats) for bot in bots} for _ in range(given.rounds)]
    unlike = differing(given.messages)
    other = [
        {bot: run(bot, given.messages, given.chats, texts=unlike) for bot in bots}
        for _ in range(given.rounds)
    ]
    far = [
        {
            ECHO: run(ECHO, 100, given.chats, latency=0.05),
            given.bot: run(given.bot, given.messages, given.chats, latency=0.05),
        }
    ]
    slow = [{bot: run(bot, 300, 300, rate=30.0) for bot in bots} for _ in range(given.rounds)]
    for title, rounds in (
        ("all pending", near),
        ("all pending, all different", other),
        ("all pending, 50 ms to the API and back", far),
    ):
        echo, ours = (max(pair[bot].report["a_second"] for pair in rounds) for bot in bots)
        spent = [min(pair[bot].cpu_ms for pair in rounds) for bot in bots]
        print(
            f"{title}: echo {echo}/s, durable {ours}/s, {ours / echo:.2f} times; "
            f"processor a message {spent[0]:.2f} and {spent[1]:.2f} ms"
        )
    for bot in bots:
        p50, p99 = (min(pair[bot].report[name] for pair in slow) for name in ("p50_ms", "p99_ms"))
        print(f"30 a second: {bot}: p50 {p50} ms, p99 {p99} ms")
    for bot in bots:
        start, cpu = (min(getattr(pair[bot], name) for pair in near) for name in ("start_ms", "cpu_ms"))
        memory = max(pair[bot].memory_mb for pair in (*near, *other))
        print(f"{bot}: first poll after {start:.0f} ms, {memory:.0f} MB, {cpu:.2f} ms of processor a message")
    for pair in (*near, *other, *far, *slow):
        for bot, one in pair.items():
            if one.report["violations"]:
                print(f"{bot} broke the stand-in's rules: {one.report['violations']}")


if __name__ == "__main__":
    main()
