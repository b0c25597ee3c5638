"""How long a whole wall takes, to the drawing and to the sheet. Run: python -m tests.benchmarks.whole

Limits: 40 ms for the answer with the drawing, 200 ms for the sheet, in a process that is warm.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Callable
from time import perf_counter

from bot.speaking.again import whole
from bot.speaking.drawing import png
from bot.speaking.sheet import sheet
from bot.talk import State, turn
from knowledge.answers import Answer
from knowledge.questions import Question

MESSAGE = (
    "everything for a 10.2 x 2.6 solid aircrete wall, rendered, corner left, free right, "
    "window 1800x1200 at 3.1, door 900x2100 at 7.4"
)
LIMITS = {"answer with drawing": 40.0, "sheet": 200.0}


def median(work: Callable[[], object], times: int = 25) -> float:
    """Milliseconds, the middle of several."""
    taken = []
    for _ in range(times):
        start = perf_counter()
        work()
        taken.append((perf_counter() - start) * 1000)
    return statistics.median(taken)


def wall() -> tuple[dict[str, object], Question, Answer]:
    """The message read and answered, and its wall."""
    _, reply = turn(State(), MESSAGE)
    found = whole(reply.record)
    if found is None or not isinstance(found[1], Answer):
        raise SystemExit(f"no answer to draw: {reply.record['outcome']}, {reply.record['needs']}")
    return reply.record, found[0], found[1]


def main() -> int:
    """Print the medians; 1 where a limit is passed."""

    def drawn() -> bytes:
        _, question, found = wall()
        return png(question, found)

    def paper() -> bytes:
        return sheet(*wall())

    drawn(), paper()
    record, question, found = wall()
    parts = {
        "message to answer": median(lambda: turn(State(), MESSAGE)),
        "answer with drawing": median(drawn),
        "sheet": median(paper),
        "drawing alone": median(lambda: png(question, found)),
        "sheet alone": median(lambda: sheet(record, question, found)),
    }
    for name, took in parts.items():
        limit = LIMITS.get(name)
        print(f"{name:22} {took:7.1f} ms" + (f"   limit {limit:g}" if limit else ""))
    return int(any(parts[name] > limit for name, limit in LIMITS.items()))


if __name__ == "__main__":
    sys.exit(main())
