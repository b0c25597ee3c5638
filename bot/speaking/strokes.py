"""What a drawing is made of: lines, shapes and texts on paper, y downwards; back ends only copy them.

Tones are 0 black to 255 white. Nothing is told by tone alone: line styles differ, and a legend names them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import cos, radians, sin
from typing import Literal

Point = tuple[float, float]
Anchor = Literal["left", "middle", "right"]
Dash = tuple[float, ...]  # stroke, gap, stroke, gap; empty: a full line


@dataclass(frozen=True)
class Line:
    start: Point
    end: Point
    width: float = 2
    tone: int = 0
    dash: Dash = ()


@dataclass(frozen=True)
class Shape:
    """A closed outline; `fill` None leaves it open."""

    points: tuple[Point, ...]
    width: float = 2
    tone: int = 0
    fill: int | None = None


@dataclass(frozen=True)
class Text:
    """One line of words about its middle height; `upright` reads from the bottom up."""

    at: Point
    words: str
    size: float
    anchor: Anchor = "left"
    bold: bool = False
    upright: bool = False
    tone: int = 0
    length: float = 0


Stroke = Line | Shape | Text


@dataclass
class Paper:
    """Strokes in the order in which they are laid down."""

    width: float
    height: float = 0
    strokes: list[Stroke] = field(default_factory=list)

    def line(self, start: Point, end: Point, width: float = 2, tone: int = 0, dash: Dash = ()) -> None:
        """A straight line."""
        self.strokes.append(Line(start, end, width, tone, dash))

    def shape(
        self, points: Sequence[Point], width: float = 2, tone: int = 0, fill: int | None = None
    ) -> None:
        """A closed outline."""
        self.strokes.append(Shape(tuple(points), width, tone, fill))

    def box(
        self, left: float, top: float, right: float, bottom: float, width: float = 2, tone: int = 0,
        fill: int | None = None,
    ) -> None:  # fmt: skip
        """An upright rectangle."""
        self.shape(((left, top), (right, top), (right, bottom), (left, bottom)), width, tone, fill)

    def hatch(
        self, points: Sequence[Point], gap: float, angle: float, width: float = 1.5, tone: int = 0
    ) -> None:
        """Lines at an angle in degrees across a convex shape."""
        along = (cos(radians(angle)), -sin(radians(angle)))
        across = (-along[1], along[0])
        offsets = [x * across[0] + y * across[1] for x, y in points]
        place = min(offsets) + gap / 2
        while place < max(offsets):
            met = _crossings(points, across, place)
            if len(met) >= 2:
                ends = sorted(met, key=lambda p: p[0] * along[0] + p[1] * along[1])
                self.line(ends[0], ends[-1], width, tone)
            place += gap

    def text(
        self, at: Point, words: str, size: float, anchor: Anchor = "left", *, bold: bool = False,
        upright: bool = False, tone: int = 0,
    ) -> None:  # fmt: skip
        """One line of words."""
        from bot.speaking.fonts import length

        self.strokes.append(Text(at, words, size, anchor, bold, upright, tone, length(words, size, bold)))


def dashes(start: Point, end: Point, dash: Dash) -> list[tuple[Point, Point]]:
    """A broken line as its pieces."""
    span = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    if not dash or span == 0:
        return [(start, end)]
    ux, uy = (end[0] - start[0]) / span, (end[1] - start[1]) / span
    pieces, place, turn = [], 0.0, 0
    while place < span:
        reach = min(span, place + dash[turn % len(dash)])
        if turn % 2 == 0:
            pieces.append(
                (
                    (start[0] + ux * place, start[1] + uy * place),
                    (start[0] + ux * reach, start[1] + uy * reach),
                )
            )
        place, turn = reach, turn + 1
    return pieces


def _crossings(points: Sequence[Point], across: Point, place: float) -> list[Point]:
    met = []
    for (ax, ay), (bx, by) in pairwise([*points, points[0]]):
        a, b = ax * across[0] + ay * across[1] - place, bx * across[0] + by * across[1] - place
        if (a < 0) != (b < 0):
            share = a / (a - b)
            met.append((ax + share * (bx - ax), ay + share * (by - ay)))
    return met
