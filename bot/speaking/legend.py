"""The legend in words, and the remarks under a drawing."""

from __future__ import annotations

from collections.abc import Callable

from bot.speaking import signs
from bot.speaking.fonts import length as width_of
from bot.speaking.strokes import Paper
from knowledge.figure import Figure

_SIZE, _SAMPLE, _STEP = 30, 64, 44
Sign = Callable[[Paper, float, float], None]


def legend(paper: Paper, wall: Figure, y: float) -> float:
    """Each sign that was drawn, beside what it means; the y below them."""
    x = 28.0
    for sign, words in _signs(wall):
        wide = _SAMPLE + 16 + width_of(words, _SIZE) + 44
        if x > 28 and x + wide > paper.width - 10:
            x, y = 28.0, y + _STEP
        sign(paper, x, y + 16)
        paper.text((x + _SAMPLE + 16, y + 16), words, _SIZE)
        x += wide
    return y + _STEP + 8 if x > 28 else y


def _signs(wall: Figure) -> list[tuple[Sign, str]]:
    ties = {tie.kind for tie in wall.ties}
    found: list[tuple[Sign, str]] = []
    if wall.joints:
        found.append((_joint, "movement joint"))
    if "slip" in ties:
        found.append((lambda p, x, y: signs.slip(p, x + _SAMPLE / 2, y), "slip tie, sleeve on one side"))
    if wall.strands:
        found.append((_run, "bed joint reinforcement"))
    if wall.patches:
        found.append((_patch, "mesh patch at a corner"))
    if "cavity" in ties:
        found.append((lambda p, x, y: signs.cavity_tie(p, x + _SAMPLE / 2, y), "cavity wall tie"))
    return found


def _joint(paper: Paper, x: float, y: float) -> None:
    signs.movement_joint(paper, x + _SAMPLE / 2, y - 17, y + 17)


def _run(paper: Paper, x: float, y: float) -> None:
    signs.reinforcement(paper, (x, y), (x + _SAMPLE, y))


def _patch(paper: Paper, x: float, y: float) -> None:
    signs.mesh(paper, ((x + 8, y - 13), (x + 56, y - 13), (x + 56, y + 13), (x + 8, y + 13)))


def remarks(paper: Paper, said: list[str], y: float) -> float:
    """Sentences under the drawing, broken into lines; the y below them."""
    size = 27
    for sentence in said:
        line = ""
        for word in sentence.split():
            longer = f"{line} {word}".strip()
            if width_of(longer, size) > paper.width - 56:
                paper.text((28, y + 14), line, size)
                y, line = y + 34, word
            else:
                line = longer
        paper.text((28, y + 14), line, size)
        y += 36
    return y
