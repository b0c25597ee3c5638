"""Boards stood on end along a wall: columns, what openings save, and boards to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from knowledge.cutting import EPS, packed


@dataclass(frozen=True)
class Gap:
    """An opening in metres; `left` None where its place is not known, `sill` None likewise."""

    width: float
    height: float
    left: float | None = None
    sill: float | None = None
    count: int = 1


def columns(length: float, height: float, width: float, triangle: bool = False) -> list[tuple[float, float]]:
    """(width, most height) in m of every column of boards, left to right; a gable's apex is in the middle."""
    whole = int((length + EPS) // width)
    starts = [n * width for n in range(whole)]
    found = [(start, min(start + width, length)) for start in starts]
    if length - whole * width > EPS:
        found.append((whole * width, length))

    def tall(start: float, end: float) -> float:
        if not triangle or start <= length / 2 <= end:
            return height
        return 2 * height * (end if end < length / 2 else length - start) / length

    return [(end - start, tall(start, end)) for start, end in found]


def saved(gap: Gap, width: float) -> int:
    """Whole columns that stand inside an opening, sure to be so where its place is not known."""
    if gap.left is None or gap.count > 1:
        return max(0, int((gap.width + EPS) // width) - 1) * gap.count
    first = -int(-(gap.left - EPS) // width)
    return max(0, int((gap.left + gap.width + EPS) // width) - first)


def boards(
    length: float, height: float, width: float, tall: float, *, walls: int = 1, gaps: tuple[Gap, ...] = (),
    triangle: bool = False,
) -> int:  # fmt: skip
    """Boards of width × tall for like walls; off-cuts in height are used, in width only side by side."""
    cols = columns(length, height, width, triangle)
    full = [h for w, h in cols if w > width - EPS]
    narrow = [(w, h) for w, h in cols if w <= width - EPS]
    strips: list[float] = []
    for gap in () if triangle else gaps:
        for _ in range(min(saved(gap, width), len(full))):
            full.pop()
            over = height - gap.height if gap.sill is None else height - gap.height - gap.sill
            strips += [piece for piece in (over, gap.sill or 0.0) if piece > EPS]
    total = packed(_cuts(Counter(full + strips), tall, walls), tall)
    for w, h in narrow:
        beside = max(1, int((width + EPS) // w))
        total += -(-packed(_cuts({h: 1}, tall, walls), tall) // beside)
    return total


def _cuts(heights: Mapping[float, int], tall: float, walls: int) -> Counter[float]:
    """Columns in pieces no taller than a board, of all walls."""
    cuts: Counter[float] = Counter()
    for height, count in heights.items():
        whole = int((height + EPS) // tall)
        rest = height - whole * tall
        if whole:
            cuts[tall] += whole * count * walls
        if rest > EPS:
            cuts[rest] += count * walls
    return cuts
