"""Parts into buckets, bags and boxes: the same measure for every part. Pure sums, no figures of the trade."""

from __future__ import annotations


def gauge(cement: float, lime: float, sand: float, of: str = "cement", count: float = 1) -> dict[str, float]:
    """Measures of every part for `count` measures of one; raises ValueError where the mix has none of it."""
    parts = {"cement": cement, "lime": lime, "sand": sand}
    if parts.get(of, 0) <= 0:
        raise ValueError(f"the mix has no {of}")
    return {name: part * count / parts[of] for name, part in parts.items() if part > 0}


def bag_volume(mass: float, density: float) -> float:
    """Litres in a bag of `mass` kg at a loose density in kg/m³."""
    return mass / density * 1000


def bulking(damp: float, flooded: float) -> float:
    """Bulking in per cent from the jar test: height of the damp sand, height once flooded and stirred."""
    return (damp - flooded) / flooded * 100


def damp_for(dry: float, percent: float) -> float:
    """Measures of damp sand that hold `dry` measures of dry sand."""
    return dry * (1 + percent / 100)


def dry_in(damp: float, percent: float) -> float:
    """Measures of dry sand held by `damp` measures of damp sand."""
    return damp / (1 + percent / 100)


def sand_span(cement: float, lime: float, least: float, most: float) -> dict[str, float]:
    """Parts of sand for a binder of cement and lime, from least to most times their sum."""
    return {"min": (cement + lime) * least, "max": (cement + lime) * most}
