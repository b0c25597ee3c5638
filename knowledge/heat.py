"""Thermal resistance of a wall by the combined method of EN ISO 6946. Resistances in m²·K/W.

A layer is a list of (share of area, resistance): one pair where it is all of one stuff.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import prod

from knowledge.questions import Model

Layer = Sequence[tuple[float, float]]


class Sums(Model):
    """Upper and lower limit, what is between them, and the U-value."""

    upper: float
    lower: float
    total: float
    u: float


def layer(thickness: float, conductivity: float) -> float:
    """Resistance of an even layer; thickness in m, conductivity in W/(m·K)."""
    return thickness / conductivity


def weighted(share: float, conductivity: float, rest: float) -> float:
    """Conductivity of a layer of two stuffs by their areas; `rest` is the conductivity of what is left."""
    return share * conductivity + (1 - share) * rest


def combined(layers: Sequence[Layer], inside: float, outside: float) -> Sums:
    """Heat straight through every path (upper), layer by layer (lower), and the mean of both."""
    upper = 1 / sum(
        prod(share for share, _ in path) / (inside + outside + sum(r for _, r in path))
        for path in product(*layers)
    )  # fmt: skip
    lower = inside + outside + sum(1 / sum(share / r for share, r in one) for one in layers)
    total = (upper + lower) / 2
    return Sums(upper=upper, lower=lower, total=total, u=1 / total)


def mortar_share(length: float, height: float, joint: float) -> float:
    """Share of mortar in the face of a wall, full perpends."""
    return 1 - length * height / ((length + joint) * (height + joint))
