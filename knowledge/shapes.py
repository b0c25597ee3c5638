"""Plane shapes in any one unit: convex outlines, what of a line or a shape lies inside, tilted strips."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

Point = tuple[float, float]
Outline = tuple[Point, ...]  # convex, anticlockwise
EPS = 1e-9


def box(left: float, bottom: float, right: float, top: float) -> Outline:
    """An upright rectangle."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def strip(middle: Point, along: Point, length: float, width: float) -> Outline:
    """A rectangle about a middle, its length in the direction `along`."""
    size = hypot(*along)
    ax, ay = along[0] / size * length / 2, along[1] / size * length / 2
    bx, by = -along[1] / size * width / 2, along[0] / size * width / 2
    x, y = middle
    turns = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return tuple((x + a * ax + b * bx, y + a * ay + b * by) for a, b in turns)


def clip(shape: Sequence[Point], inside: Outline) -> Outline:
    """The part of a convex shape inside a convex outline; empty where there is none."""
    kept = list(shape)
    for start, end in _edges(inside):
        if not kept:
            break
        kept, before = [], kept
        for here, there in _edges(before):
            a, b = _side(start, end, here), _side(start, end, there)
            if a >= -EPS:
                kept.append(here)
            if (a > EPS and b < -EPS) or (a < -EPS and b > EPS):
                share = a / (a - b)
                kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return tuple(kept) if len(kept) > 2 else ()


def span(inside: Outline, height: float) -> tuple[float, float] | None:
    """Where a level line enters and leaves a convex outline."""
    return _cut([(y, x) for x, y in inside], height)


def rise(inside: Outline, place: float) -> tuple[float, float] | None:
    """Where an upright line enters and leaves a convex outline, bottom first."""
    return _cut(list(inside), place)


def area(shape: Sequence[Point]) -> float:
    """Area, positive where the outline runs anticlockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in _edges(shape)) / 2


def _edges(shape: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(pairwise([*shape, shape[0]]))


def _side(start: Point, end: Point, point: Point) -> float:
    """Positive to the left of the line from start to end."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _cut(points: list[Point], at: float) -> tuple[float, float] | None:
    found = []
    for (a, u), (b, v) in _edges(points):
        if abs(a - b) <= EPS:
            if abs(a - at) <= EPS:
                found += [u, v]
        elif min(a, b) - EPS <= at <= max(a, b) + EPS:
            found.append(u + (v - u) * (at - a) / (b - a))
    return (min(found), max(found)) if found and max(found) - min(found) > EPS else None
