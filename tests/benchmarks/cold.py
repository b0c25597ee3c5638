"""A cold answer against an interpreter that imports pydantic and builds one model: tests.benchmarks.cold.

The two take turns, so that a busy machine slows both alike; bytecode is compiled before the clock starts.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[2]
ROUNDS = 15
QUESTION = "10 m aircrete wall, 2.4 high, corners both ends: how many joints?"
BARE = """
from pydantic import BaseModel

class Wall(BaseModel):
    length: float

Wall(length=10)
"""


def seconds(command: list[str], surroundings: dict[str, str]) -> float:
    """How long one run takes from outside; it must succeed."""
    before = time.perf_counter()
    subprocess.run(command, env=surroundings, stdout=subprocess.DEVNULL, cwd=ROOT.parent, check=True)
    return time.perf_counter() - before


def main() -> None:
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    surroundings["PYTHONPATH"] = str(ROOT)
    runs = {
        "interpreter and nothing": [sys.executable, "-c", "pass"],
        "interpreter, pydantic, one model": [sys.executable, "-c", BARE],
        "perpend ask, its module": [sys.executable, "-P", "-m", "bot.cli", "ask", QUESTION],
        "perpend ask, the command": ["sh", str(ROOT / "deploy" / "perpend"), "ask", QUESTION],
    }
    taken: dict[str, list[float]] = {name: [] for name in runs}
    for number in range(ROUNDS + 1):
        for name, command in runs.items():
            spent = seconds(command, surroundings)
            if number:  # the first round compiles
                taken[name].append(spent)
    middle = {name: 1000 * median(spent) for name, spent in taken.items()}
    for name, value in middle.items():
        print(f"{name:34} {value:7.1f} ms  (median of {ROUNDS}, least {1000 * min(taken[name]):.1f} ms)")
    ratio = middle["perpend ask, the command"] / middle["interpreter, pydantic, one model"]
    print(f"a cold answer is {ratio:.2f} times the bare interpreter with pydantic (the aim: 2 at most)")


if __name__ == "__main__":
    main()
