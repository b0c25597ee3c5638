"""Strips of mesh over a face: how many, how long, and what the laps add. Metres and m²; pure sums."""

from __future__ import annotations

from knowledge.shown import whole


def with_laps(net: float, width: float, lap: float) -> float:
    """Area to order for a net area where every strip gives up one lap of its width."""
    return net / (1 - lap / width)


def strips(across: float, width: float, lap: float) -> int:
    """Strips side by side to cover a breadth, neighbours lapped."""
    return max(1, whole((across - lap) / (width - lap)))


def run(along: float, roll: float, lap: float) -> float:
    """Length of one strip with the laps of the pieces that it is made of."""
    pieces = max(1, whole((along - lap) / (roll - lap)))
    return along + (pieces - 1) * lap


def lay(
    length: float, height: float, *, width: float, roll: float, lap: float
) -> dict[str, tuple[int, float]]:
    """Strips and the length of each, upright and lengthwise."""
    return {
        "vertical": (strips(length, width, lap), run(height, roll, lap)),
        "horizontal": (strips(height, width, lap), run(length, roll, lap)),
    }
