"""How long reading and answering one message takes, in one process: python -m tests.benchmarks.reading.

Each distinct message of the corpus is one turn of a new chat, the rule book and the words loaded before.
"""

from __future__ import annotations

import gc
import json
import resource
import sys
import time
import tomllib
from pathlib import Path
from statistics import median

from bot.talk import State, turn

CORPUS = Path(__file__).parents[1] / "corpus"
ROUNDS = (
    5  # the median of these is a message's time, so that a pause of the machine is not counted as reading
)


def messages() -> list[str]:
    """Every distinct message of the corpus, and of files of messages that are named on the command line."""
    found: dict[str, None] = {}
    for path in sorted(CORPUS.glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["message"]:
            found.setdefault(row["text"])
    for name in sys.argv[1:]:
        for line in Path(name).read_text(encoding="utf-8").splitlines():
            found.setdefault(json.loads(line)["text"])
    return list(found)


def megabytes() -> float:
    """The most memory that this process has held."""
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1024 * 1024 if sys.platform == "darwin" else 1024)


def main() -> None:
    texts = messages()
    first = time.perf_counter()
    turn(State(), texts[0])
    print(f"the first message, with all that it loads   {1000 * (time.perf_counter() - first):8.2f} ms")
    cold: list[float] = []
    warm: dict[str, float] = {}
    for text in texts:
        before = time.perf_counter()
        turn(State(), text)
        cold.append(time.perf_counter() - before)
    gc.collect()
    gc.freeze()
    for text in texts:
        taken = []
        for _ in range(ROUNDS):
            before = time.perf_counter()
            turn(State(), text)
            taken.append(time.perf_counter() - before)
        warm[text] = median(taken)
    ranked = sorted(warm, key=lambda text: warm[text])
    times = [1000 * warm[text] for text in ranked]
    print(f"{len(texts)} distinct messages:")
    once = sorted(1000 * seconds for seconds in cold)
    for name, spread in (("once", once), (f"median of {ROUNDS}", times)):
        middle, high = spread[len(spread) // 2], spread[min(len(spread) - 1, int(len(spread) * 0.99))]
        print(f"  {name:12}  p50 {middle:7.3f} ms   p99 {high:7.3f} ms   max {spread[-1]:7.3f} ms")
    print("the slowest:")
    for text in reversed(ranked[-5:]):
        print(f"  {1000 * warm[text]:7.3f} ms  {text[:90]}")
    print(f"memory at most {megabytes():.0f} MB")


if __name__ == "__main__":
    main()
