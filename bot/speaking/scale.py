"""From millimetres of a wall to places on paper."""

from __future__ import annotations

from bot.speaking.strokes import Point
from knowledge.figure import Figure

WIDTH = 1200
LEFT, RIGHT = 168, 92  # beside the wall: heights and ends
LEAST, MOST = 175, 760  # height of the wall on paper


class Scale:
    """From millimetres of the wall to paper. A long low wall is drawn higher than it is, and that is said."""

    def __init__(self, wall: Figure, top: float) -> None:
        room = WIDTH - LEFT - RIGHT
        self.across = min(room / wall.length, MOST / wall.height)
        self.up = max(self.across, min(LEAST / wall.height, self.across * 12))
        self.stretched = self.up > self.across * 1.02
        self.left = LEFT + (room - wall.length * self.across) / 2
        self.foot = top + wall.height * self.up
        self.top = top
        self.right = self.left + wall.length * self.across

    def x(self, mm: float) -> float:
        return self.left + mm * self.across

    def y(self, mm: float) -> float:
        return self.foot - mm * self.up

    def at(self, point: Point) -> Point:
        return self.x(point[0]), self.y(point[1])
