"""Rows of dimensions: a line with a slash at every mark, and the size of each part where there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bot.speaking.fonts import length as width_of
from bot.speaking.numerals import number
from bot.speaking.strokes import Paper

SIZE, LEVEL, TICK = 32, 36, 9
_FRACTIONS = {1: "¼", 2: "½", 3: "¾"}


def say(mm: float, feet: bool) -> str:
    """A size without its unit: '2.04' of metres, or 6′ 8¼″."""
    if not feet:
        return number(round(mm / 1000, 3))
    quarters = round(mm / 25.4 * 4)
    whole, rest = divmod(quarters, 48)
    inch, part = divmod(rest, 4)
    inches = f"{inch if inch or not part else ''}{_FRACTIONS.get(part, '')}″" if rest else ""
    return " ".join(text for text in (f"{whole}′" if whole else "", inches) if text) or "0"


@dataclass(frozen=True)
class Label:
    """Words about a place along a row; `level` is the line of text that they stand on."""

    middle: float
    words: str
    level: int


def arrange(
    wanted: Sequence[tuple[float, str]], size: float, levels: int, bold: bool = False, gap: float = 14
) -> list[Label]:
    """Labels that do not touch each other, on as few lines as will do; what finds no room is left out."""
    ends = [float("-inf")] * levels
    found = []
    for middle, words in wanted:
        half = width_of(words, size, bold) / 2
        level = next((n for n in range(levels) if middle - half >= ends[n] + gap), None)
        if level is not None:
            ends[level] = middle + half
            found.append(Label(middle, words, level))
    return found


def row(
    paper: Paper, marks: Sequence[tuple[float, float]], y: float, *, name: str, feet: bool, left: float
) -> float:
    """Draw one row at y for marks of (pixel, mm) and return the y below it."""
    paper.line((marks[0][0], y), (marks[-1][0], y), 2)
    for x, _ in marks:
        paper.line((x - TICK, y + TICK), (x + TICK, y - TICK), 3)
        paper.line((x, y - TICK - 3), (x, y + TICK + 3), 1.5, 90)
    paper.text((left, y), name, 26, "right")
    parts = [
        ((a[0] + b[0]) / 2, say(b[1] - a[1], feet)) for a, b in pairwise(marks) if b[1] - a[1] > 0.5
    ]  # fmt: skip
    placed = arrange(parts, SIZE, 3)
    for label in placed:
        paper.text((label.middle, y + 30 + label.level * LEVEL), label.words, SIZE, "middle")
    return y + 30 + (max((label.level for label in placed), default=0) + 1) * LEVEL + 8


def upright(paper: Paper, x: float, bottom: float, top: float, words: str) -> None:
    """A height beside the wall."""
    paper.line((x, bottom), (x, top), 2)
    for y in (bottom, top):
        paper.line((x - TICK, y + TICK), (x + TICK, y - TICK), 3)
    paper.text((x - 24, (bottom + top) / 2), words, SIZE, "middle", upright=True)
