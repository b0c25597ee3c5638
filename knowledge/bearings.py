"""Concentrated load on masonry after EN 1996-1-1 6.1.3. Forces in N, lengths in mm, stresses in N/mm².

Every factor is handed in: they stand in the rule book.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import radians, tan

from knowledge.questions import Model
from knowledge.tabled import between


class Enhancement(Model):
    """How much more a small area takes than the whole wall: as computed, its upper limit, and what counts."""

    raw: float
    cap: float
    used: float


def shape_factor(
    table: Sequence[Sequence[float]], widths: Sequence[float], height: float, least: float
) -> float:
    """Normalising factor of a unit by height and least width; rows of (height, factor by width ...)."""
    by_height = [(row[0], between(list(zip(widths, row[1:], strict=True)), least)) for row in table]
    return between(by_height, height)


def masonry_strength(
    k: float, unit: float, mortar: float, unit_power: float, mortar_power: float = 0.0
) -> float:  # fmt: skip
    """Characteristic strength: K f_b^a f_m^b; b is 0 in thin joints."""
    return float(k * unit**unit_power * mortar**mortar_power)


def spread_length(
    bearing: float, height: float, angle: float, edge: float | None = None, far: float | None = None
) -> float:  # fmt: skip
    """Length at mid-height that carries: the load spreads by `angle` (degrees, from vertical) to both sides.

    `edge` and `far` are distances from the loaded area to the ends of the wall; None: no end within reach.
    """
    side = height / 2 * tan(radians(angle))
    return bearing + sum(side if end is None else min(side, end) for end in (edge, far))


def enhancement(
    edge: float, height: float, ratio: float, *, formula: dict[str, float], limits: dict[str, float]
) -> Enhancement:
    """The factor β; `ratio` is loaded to effective area, `edge` the way to the nearer end of the wall."""
    share = min(ratio, limits["ratio"])
    raw = (1 + formula["edge"] * edge / height) * (formula["base"] - formula["ratio"] * share)
    cap = min(limits["cap_base"] + edge / (2 * height), limits["cap"])
    return Enhancement(raw=raw, cap=cap, used=max(limits["floor"], min(raw, cap)))


def resistance(factor: float, area: float, strength: float, partial: float) -> float:
    """N_Rdc = β A_b f_k / γ_M in N."""
    return factor * area * strength / partial


def design_load(permanent: float, variable: float, factors: tuple[float, float]) -> float:
    """Load with its partial factors."""
    return factors[0] * permanent + factors[1] * variable


def eccentricity(thickness: float, depth: float) -> float:
    """Of a bearing flush with one face of the wall, from the middle of the wall, in mm."""
    return (thickness - depth) / 2


def spread_depth(pad: float, bearing: float, angle: float) -> float:
    """Depth of a pad that a load spreads through from `bearing` in the middle to its whole length."""
    return max(0.0, (pad - bearing) / 2 / tan(radians(angle)))


def spread_through(bearing: float, depth: float, angle: float, sides: int = 2) -> float:
    """Length reached under a pad of this depth, to one side at the end of a wall."""
    return bearing + sides * depth * tan(radians(angle))
