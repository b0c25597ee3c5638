"""Where joints go in one straight run: fewest first, then evenly, then clear of what they must not cross.

Pure geometry in one unit of length; every limit comes from the caller. Positions are joint centre lines
measured from the left end.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf

EPS = 1e-6  # what two ways of writing one length may differ by, in metres

Zone = tuple[float, float]  # no joint strictly between these two


@dataclass(frozen=True)
class Run:
    """A wall: inner panels at most `spacing`, end panels at most `left` and `right`, no joint in `closed`."""

    length: float
    spacing: float
    left: float
    right: float
    closed: tuple[Zone, ...] = ()


def fewest(run: Run) -> int:
    """Fewest joints of the plain wall, openings left aside."""
    over = run.length - run.left - run.right
    if run.length < run.spacing - EPS:
        return 0
    return max(1, 1 - int(-(over - EPS) // run.spacing)) if over > EPS else 1


def even(run: Run, count: int) -> list[float]:
    """Positions with all panels drawn in alike, openings left aside."""
    if count == 0:
        return []
    left, right = min(run.left, run.length), min(run.right, run.length)
    scale = run.length / (left + right + (count - 1) * run.spacing)
    return [scale * (left + place * run.spacing) for place in range(count)]


def panels(length: float, positions: Sequence[float]) -> list[float]:
    """Panel lengths from left to right."""
    edges = [0.0, *positions, length]
    return [right - left for left, right in pairwise(edges)]


def merge(zones: Sequence[Zone]) -> tuple[Zone, ...]:
    """Zones that overlap become one. Touching ones leave a line between them where a joint can stand."""
    merged: list[Zone] = []
    for low, high in sorted(zones):
        if merged and low < merged[-1][1] - EPS:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return tuple(merged)


def blocked(zones: Sequence[Zone], place: float) -> Zone | None:
    """The zone that a place lies in, its edges excluded."""
    for zone in zones:
        if zone[0] + EPS < place < zone[1] - EPS:
            return zone
    return None


def clear(zones: Sequence[Zone], places: Sequence[float]) -> list[float]:
    """Of places in order, those in no zone; the zones are merged, so they are in order as well."""
    kept: list[float] = []
    ahead = iter(zones)
    zone = next(ahead, None)
    for place in places:
        while zone is not None and place >= zone[1] - EPS:
            zone = next(ahead, None)
        if zone is None or place <= zone[0] + EPS:
            kept.append(place)
    return kept


def fits(run: Run, positions: Sequence[float]) -> bool:
    """Whether a layout keeps every limit and stays clear of every closed zone."""
    if not positions:
        return run.length < run.spacing - EPS
    gaps = panels(run.length, positions)
    return (
        gaps[0] <= run.left + EPS
        and gaps[-1] <= run.right + EPS
        and all(EPS < gap <= run.spacing + EPS for gap in gaps[1:-1])
        and min(gaps) > EPS
        and all(blocked(run.closed, place) is None for place in positions)
    )


def lay_out(run: Run) -> list[float] | None:
    """The layout: fewest joints, moved as little as may be from even places; None where there is none."""
    count = fewest(run)
    wanted = even(run, count)
    if not run.closed:
        return wanted
    run = replace(run, closed=merge(run.closed))
    if all(blocked(run.closed, place) is None for place in wanted):
        return wanted
    if run.length <= run.spacing + EPS:  # a joint by common practice alone: free of the limit on end panels
        run = replace(run, left=run.length, right=run.length)
    least = _reach(run)
    if least is None:
        return None
    if least > count:
        count, wanted = least, even(run, least)
    return nearest(run, wanted, places_for(run, count))


def _reach(run: Run) -> int | None:
    """Fewest joints clear of the zones: each as far along as it may stand; None where one finds no place."""
    place, most, count = 0.0, run.left, 0
    while count == 0 or run.length - place > run.right + EPS:
        ahead = min(place + most, run.length - EPS)
        zone = blocked(run.closed, ahead)
        if zone is not None:
            ahead = zone[0]
        if ahead <= place + EPS:
            return None
        place, most, count = ahead, run.spacing, count + 1
    return count


def at_module(run: Run, positions: Sequence[float], module: float) -> list[float] | None:
    """The same joints at the nearest multiples of a module, or None where that breaks a limit."""
    near = {
        step * module
        for place in positions
        for step in (int(place / module + EPS), int(place / module + EPS) + 1)
        if EPS < step * module < run.length - EPS
    }
    run = replace(run, closed=merge(run.closed))
    if run.length <= run.spacing + EPS:
        run = replace(run, left=run.length, right=run.length)
    return nearest(run, positions, sorted(near))


def places_for(run: Run, count: int) -> list[float]:
    """Every place where a joint of a least-moved layout can stand: even places, edges, and chains of them."""
    edges = [edge for zone in run.closed for edge in zone]
    fixed = [*even(run, count), run.left, run.length - run.right, *edges]
    chained = {
        round(place + step * run.spacing, 9) for place in fixed for step in range(-count, count + 1)
    }  # fmt: skip
    return clear(run.closed, sorted(place for place in chained if EPS < place < run.length - EPS))


def nearest(run: Run, wanted: Sequence[float], places: Sequence[float]) -> list[float] | None:
    """The choice of places that keeps the limits and moves least in sum; of equals the leftmost."""
    free = clear(run.closed, places)
    # row[i]: where the joint before stands where this one is at free[i], of least cost[i] in all
    cost = [abs(place - wanted[0]) if place <= run.left + EPS else inf for place in free]
    trail = [[-1] * len(free)]
    within = [(bisect_left(free, p - run.spacing - EPS), bisect_right(free, p - 2 * EPS)) for p in free]
    for step, aim in enumerate(wanted[1:], 1):
        farthest = run.left + step * run.spacing + EPS
        nearest = run.length - run.right - (len(wanted) - 1 - step) * run.spacing - EPS
        first, last = bisect_left(free, nearest), bisect_right(free, farthest)
        before = [-1] * len(free)
        following = [inf] * len(free)
        window: deque[int] = deque()  # places from which to come, costs rising: the least stands first
        seen = 0
        for at in range(first, last):
            low, high = within[at]
            for i in range(max(seen, low), high):
                while window and cost[window[-1]] > cost[i]:
                    window.pop()
                window.append(i)
            seen = max(seen, high)
            while window and window[0] < low:
                window.popleft()
            if window:
                before[at] = window[0]
                following[at] = cost[window[0]] + abs(free[at] - aim)
        cost = following
        trail.append(before)
    ends = [
        (least, i) for i, least in enumerate(cost)
        if least < inf and run.length - free[i] <= run.right + EPS
    ]  # fmt: skip
    if not ends:
        return None
    least = min(cost for cost, _ in ends)
    place = next(i for cost, i in ends if cost <= least + EPS)
    chosen = []
    for row in reversed(trail):
        chosen.append(free[place])
        place = row[place]
    return chosen[::-1]
