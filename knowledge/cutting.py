"""Lengths cut from stock: how many pieces to buy, off-cuts used where they are long enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

EPS = 1e-9


def packed(cuts: Mapping[float, int], stock: float) -> int:
    """Pieces of stock for so many of each cut, longest first, each where there is room. Raises ValueError."""
    left: list[tuple[float, int]] = []  # what is left of each piece in hand, and of how many pieces alike
    for cut, count in sorted(cuts.items(), reverse=True):
        if cut > stock + EPS:
            raise ValueError(f"a cut of {cut:g} is longer than the stock of {stock:g}")
        after: list[tuple[float, int]] = []
        for room, pieces in left:
            count = _cut_from(after, room, pieces, cut, count)
        new = -(-count // max(1, int((stock + EPS) / cut)))
        _cut_from(after, stock, new, cut, count)
        left = after
    return sum(pieces for _, pieces in left)


def _cut_from(after: list[tuple[float, int]], room: float, pieces: int, cut: float, count: int) -> int:
    """Cut from so many pieces alike; what stays of them goes to `after`. How many cuts are still wanted."""
    each = int((room + EPS) / cut)
    spent = min(pieces, count // each) if each else 0
    over = min(count - spent * each, each) if spent < pieces else 0
    kinds = ((room - each * cut, spent), (room - over * cut, int(over > 0)))
    after += [kind for kind in (*kinds, (room, pieces - spent - int(over > 0))) if kind[1]]
    return count - spent * each - over


def lapped(runs: Iterable[tuple[float, int]], stock: float, lap: float) -> int:
    """Pieces of stock for runs (length, count), lapped where one piece is too short. Raises ValueError."""
    if not 0 <= lap < stock:
        raise ValueError(f"a lap of {lap:g} on a stock length of {stock:g}")
    whole, cuts = 0, Counter[float]()
    for length, count in runs:
        gain = stock - lap
        full = 0 if length <= stock + EPS else -int(-(length - lap - EPS) // gain) - 1
        whole += full * count
        cuts[length - full * gain] += count
    return whole + packed(cuts, stock)


def parted(start: float, end: float, at: Sequence[float]) -> list[tuple[float, float]]:
    """A run from start to end, parted at places inside it."""
    marks = [start, *sorted({place for place in at if start + EPS < place < end - EPS}), end]
    return list(pairwise(marks))
