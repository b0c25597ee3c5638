"""What a process holds in memory, looked at fifty times on its way."""

import gc
import os
import time
from pathlib import Path
from statistics import linear_regression
from typing import Any

LOOKS = 50
PAGE = os.sysconf("SC_PAGE_SIZE")


class Scale:
    """Weighs this process as its work goes on."""

    def __init__(self, count: int) -> None:
        self._each = max(1, count // LOOKS)
        self._seen: list[tuple[float, float]] = []
        self._began = time.process_time()
        gc.collect()
        gc.freeze()  # what is loaded by now stays, as with the bot

    def look(self, done: int) -> None:
        """Weigh it where another fiftieth of the work is done."""
        if done >= self._each * (len(self._seen) + 1):
            gc.collect()
            pages = int(Path("/proc/self/statm").read_text().split()[1])
            self._seen.append((done, pages * PAGE / 1e6))

    def told(self) -> dict[str, Any]:
        """Megabytes at the half and at the end, and what the last half added by its slope."""
        half = self._seen[len(self._seen) // 2 :]
        slope = linear_regression(*zip(*half, strict=True)).slope if len(half) > 2 else 0.0
        return {
            "seconds": round(time.process_time() - self._began, 1),
            "half_mb": half[0][1],
            "end_mb": half[-1][1],
            "grown_mb": round(slope * (half[-1][0] - half[0][0]), 3),
        }
