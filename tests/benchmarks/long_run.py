"""Memory of a worker over a hundred thousand messages, all different: python -m tests.benchmarks.long_run.

The aim: no upward slope over the last half, that is less than 1 MB by the straight line through it.
"""

import argparse
import threading
import time

from tests.benchmarks.asked import differing
from tests.benchmarks.chat import DURABLE, resident, run

MOST = 1.0
EACH = 0.5


def rise(seen: list[float]) -> float:
    """How far the straight line through these rises from the first to the last (least squares)."""
    middle, level = (len(seen) - 1) / 2, sum(seen) / len(seen)
    over = sum((n - middle) * (value - level) for n, value in enumerate(seen))
    return over / sum((n - middle) ** 2 for n in range(len(seen))) * (len(seen) - 1)


def main() -> int:
    """Print the memory on the way and the rise; 1 where the aim is missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=100_000)
    parser.add_argument("--chats", type=int, default=1000)
    given = parser.parse_args()
    seen: list[float] = []

    def look(pid: int) -> None:
        try:
            while True:
                seen.append(resident(pid))
                time.sleep(EACH)
        except (OSError, StopIteration):
            return  # it has ended

    def watch(pid: int) -> None:
        threading.Thread(target=look, args=(pid,), daemon=True).start()

    texts = differing(given.messages)
    began = time.monotonic()
    one = run(DURABLE, given.messages, given.chats, texts=texts, watch=watch)
    half = seen[len(seen) // 2 :]
    print(f"{given.messages} messages in {time.monotonic() - began:.0f} s, {one.report['a_second']}/s")
    print("MB on the way: " + " ".join(f"{seen[n * (len(seen) - 1) // 10]:.1f}" for n in range(11)))
    print(f"over the last half it rose by {rise(half):+.2f} MB (most {MOST}), {max(seen):.0f} MB at most")
    return int(rise(half) > MOST)


if __name__ == "__main__":
    raise SystemExit(main())
