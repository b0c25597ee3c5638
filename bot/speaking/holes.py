"""Openings on paper: each with its size inside, or a letter where there is no room and the words below."""

from __future__ import annotations

from collections.abc import Sequence

from bot.speaking.dimensions import say
from bot.speaking.fonts import length as width_of
from bot.speaking.scale import Scale
from bot.speaking.strokes import Paper, Point
from knowledge.figure import Figure
from knowledge.placing import Hole

_LETTER = 28
Box = tuple[float, float, float, float]


def openings(paper: Paper, wall: Figure, scale: Scale) -> list[str]:
    """Draw all openings; what comes back is said under the drawing, a line for each letter."""
    for hole in wall.holes:
        paper.box(*_box(hole, scale), 4, 0, 255)
    taken: list[Box] = []
    across = sorted(wall.holes, key=lambda hole: hole.left)
    below = [hole for hole in across if not _inside(paper, hole, scale, wall.feet, taken)]
    said = []
    for place, hole in enumerate(below):
        letter = chr(ord("A") + place) if place < 26 else f"A{place - 25}"
        _mark(paper, letter, hole, scale, taken, [_box(other, scale) for other in wall.holes])
        lines = ", ".join(_words(hole, wall.feet))
        said.append(f"{letter}: {lines}, {say(hole.left, wall.feet)} from the left.")
    return said


def _box(hole: Hole, scale: Scale) -> Box:
    return scale.x(hole.left), scale.y(hole.top), scale.x(hole.right), scale.y(hole.bottom)


def _words(hole: Hole, feet: bool) -> list[str]:
    size = f"{say(hole.width, feet)} wide"
    if "height" not in hole.guessed:
        size = f"{say(hole.width, feet)} × {say(hole.height, feet)}"
    sill = [f"sill {say(hole.bottom, feet)}"] if not hole.guessed and hole.bottom > 0 else []
    return [hole.kind, size, *sill]


def _inside(paper: Paper, hole: Hole, scale: Scale, feet: bool, taken: list[Box]) -> bool:
    """Words inside the opening, lying or upright, where they fit."""
    left, top, right, foot = _box(hole, scale)
    lines = _words(hole, feet)
    for upright, room, depth in ((False, right - left, foot - top), (True, foot - top, right - left)):
        for size in (30, 26):
            wide = max(width_of(words, size) for words in lines)
            if wide + 16 <= room and len(lines) * (size + 4) + 8 <= depth:
                if any(_meet((left, top, right, foot), other) for other in taken):
                    return False
                taken.append((left, top, right, foot))
                _lines(paper, ((left + right) / 2, (top + foot) / 2), lines, size, upright)
                return True
    return False


def _lines(paper: Paper, at: Point, lines: Sequence[str], size: float, upright: bool) -> None:
    for place, words in enumerate(lines):
        off = (place - (len(lines) - 1) / 2) * (size + 4)
        where = (at[0] + off, at[1]) if upright else (at[0], at[1] + off)
        paper.text(where, words, size, "middle", upright=upright)


def _mark(paper: Paper, letter: str, hole: Hole, scale: Scale, taken: list[Box], others: list[Box]) -> None:
    """A letter in the opening, or beside it on white and clear of other openings; none where all is taken."""
    left, top, right, foot = _box(hole, scale)
    wide = width_of(letter, _LETTER, True)
    middle, level = (left + right) / 2, (top + foot) / 2
    inside = right - left >= wide + 6 and foot - top >= _LETTER
    half = wide / 2 + (0 if inside else 3)
    across = [middle] if inside else [left - half - 4, right + half + 4]
    for step in (0,) if inside else (0, -36, 36, -72, 72):
        for x in across:
            y = min(max(level + step, scale.top + 18), scale.foot - 18)
            box = (x - half, y - 15, x + half, y + 15)
            full = taken if inside else [*taken, *others]
            if x - half < scale.left or x + half > scale.right or any(_meet(box, other) for other in full):
                continue
            if not inside:
                paper.box(*box, 0, 0, 255)
            paper.text((x, y), letter, _LETTER, "middle", bold=True)
            taken.append(box)
            return


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
