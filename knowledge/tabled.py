"""Values between the lines of a table."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def between(points: Sequence[tuple[float, float]], at: float) -> float:
    """Straight-line interpolation; the first or last value beyond the ends."""
    if at <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return points[-1][1]
