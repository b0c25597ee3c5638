"""Lengths cut from stock: how many pieces to buy, off-cuts used where they are long enough."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

EPS = 1e-9


def packed(cuts: Iterable[float], stock: float) -> int:
    """Pieces of stock for these cuts, longest first, each where there is room. Raises ValueError."""
    left: list[float] = []
    for cut in sorted(cuts, reverse=True):
        if cut > stock + EPS:
            raise ValueError(f"a cut of {cut:g} is longer than the stock of {stock:g}")
        for place, room in enumerate(left):
            if room + EPS >= cut:
                left[place] = room - cut
                break
        else:
            left.append(stock - cut)
    return len(left)


def lapped(runs: Iterable[tuple[float, int]], stock: float, lap: float) -> int:
    """Pieces of stock for runs (length, count), lapped where one piece is too short. Raises ValueError."""
    if not 0 <= lap < stock:
        raise ValueError(f"a lap of {lap:g} on a stock length of {stock:g}")
    whole, cuts = 0, []
    for length, count in runs:
        gain = stock - lap
        full = 0 if length <= stock + EPS else -int(-(length - lap - EPS) // gain) - 1
        whole += full * count
        cuts += [length - full * gain] * count
    return whole + packed(cuts, stock)


def parted(start: float, end: float, at: Sequence[float]) -> list[tuple[float, float]]:
    """A run from start to end, parted at places inside it."""
    marks = [start, *sorted({place for place in at if start + EPS < place < end - EPS}), end]
    return list(pairwise(marks))
