"""The signs of a drawing, the same on the wall and in its legend."""

from __future__ import annotations

from collections.abc import Sequence

from bot.speaking.strokes import Paper, Point

REINFORCED = (22.0, 9.0)  # dash of bed joint reinforcement


def reinforcement(paper: Paper, start: Point, end: Point) -> None:
    """A run of bed joint reinforcement: a broken line."""
    paper.line(start, end, 5, 0, REINFORCED)


def mesh(paper: Paper, shape: Sequence[Point]) -> None:
    """A patch of mesh: a net."""
    paper.shape(shape, 2, 0, 255)
    for angle in (0, 90):
        paper.hatch(shape, 7, angle, 1, 70)


def movement_joint(paper: Paper, x: float, top: float, foot: float) -> None:
    """The sign of a movement joint."""
    paper.box(x - 5, top, x + 5, foot, 3, 0, 255)


def slip(paper: Paper, x: float, y: float, half: float = 18.0) -> None:
    """The sign of a slip tie: bedded left, sleeved right."""
    paper.line((x - half, y), (x + half, y), 3)
    paper.box(x + 6, y - 4, x + half, y + 4, 2, 0, 255)


def cavity_tie(paper: Paper, x: float, y: float) -> None:
    """A cavity tie."""
    paper.line((x - 6, y), (x + 6, y), 2, 60)
    paper.line((x, y - 6), (x, y + 6), 2, 60)
