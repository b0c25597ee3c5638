"""Two hundred thousand messages and updates by lot: nothing raises, nothing is answered without its reading,
rule, source and caution, no number is other than finite, and memory stays as it is.

The lots are the same every time, or PERPEND_LOTS times as many drawn afresh. A failure names its conversation
(`converse` of `tests.soak.turns`), or its first number and how many updates it took (`python -m
tests.soak.front FIRST COUNT`).
"""

import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from random import SystemRandom
from typing import Any

import pytest

from tests.reading.lots import MORE
from tests.service.postgres import Server

TIMES = max(1, MORE)
TURNS, UPDATES, SHARED = 70_000, 28_000, 4_000  # of each of two runs; and of one on a database server
FLAT = 5.0
"""Megabytes that the last half of a run may add: caches with an end still fill up."""


def run(module: str, first: int, count: int, *more: str) -> dict[str, Any]:
    """One run as a process of its own; what it tells at its end."""
    made = subprocess.run(
        [sys.executable, "-m", f"tests.soak.{module}", str(first), str(count), *more],
        stdout=subprocess.PIPE, text=True, check=True,
    )  # fmt: skip
    told: dict[str, Any] = json.loads(made.stdout)
    return {"module": module, "first": first, "count": count, **told}


@pytest.fixture(scope="module")
def runs(server: Server) -> list[dict[str, Any]]:
    """All runs, two at a time."""
    base = SystemRandom().randrange(10**9, 10**12) if MORE else 0
    wanted: list[tuple[Any, ...]] = [
        *(("turns", base + n * 10**7, TURNS * TIMES) for n in (1, 2)),
        ("front", base + 1, SHARED * TIMES, server.make("lots")),
        *(("front", base + n, UPDATES * TIMES) for n in (2, 3)),
    ]
    with ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        return list(pool.map(lambda one: run(*one), wanted))


def test_nothing_is_broken_by_two_hundred_thousand(runs: list[dict[str, Any]]) -> None:
    for one in runs:
        print(one)
    assert sum(one["count"] for one in runs) >= 200_000 * TIMES
    assert [fault for one in runs for fault in one["broken"]] == []


def test_every_way_a_turn_can_end_is_met_often(runs: list[dict[str, Any]]) -> None:
    for one in runs:
        ends = one["counts"]
        for end in ("answered", "needs", "declined"):
            assert ends[end] > 0.1 * sum(ends.values()), (one["module"], ends)
        if one["module"] == "front":
            assert ends["set aside: Malformed"] > 0.05 * one["count"]


def test_memory_is_flat_over_the_last_half(runs: list[dict[str, Any]]) -> None:
    for one in runs:
        if one["count"] >= UPDATES:  # a short run is still filling its caches
            assert one["grown_mb"] < FLAT, (one["module"], one["first"])
