"""How much masonry moves, and how wide a joint must be for it. Plain sums; every coefficient is given.

Lengths in and out share one unit; strains are plain numbers, so 0.6 mm/m is 0.0006.
"""

from __future__ import annotations


def thermal(length: float, coefficient: float, change: float) -> float:
    """Change of length by temperature: coefficient per degree × length × degrees."""
    return coefficient * length * change


def moisture(length: float, strain: float) -> float:
    """Change of length by drying or wetting."""
    return strain * length


def strain(moisture_strain: float, coefficient: float, change: float) -> float:
    """Moisture and temperature together, as a strain."""
    return moisture_strain + coefficient * change


def wall_shrinkage(unit_shrinkage: float, share: float = 0.5) -> float:
    """Shrinkage of concrete masonry from that of its units (MSJC 1.8.5: half)."""
    return share * unit_shrinkage


def restrained_stress(free_strain: float, stiffness: float) -> float:
    """Stress where the strain is held back fully; in the unit of the stiffness."""
    return free_strain * stiffness


def creep(length: float, stress: float, coefficient: float) -> float:
    """Shortening under lasting load: coefficient per unit of stress."""
    return coefficient * stress * length


def spacing_for_width(width: float, squeeze: float, total_strain: float) -> float:
    """How far apart joints of one width may be; `squeeze` is the share of it that the sealant gives."""
    return width * squeeze / total_strain


def width_for_spacing(spacing: float, width_per_length: float) -> float:
    """Joint width in the unit of `width_per_length` × spacing (clay brick: about 1.3 mm for each metre)."""
    return spacing * width_per_length


def sealant_width(movement: float, capability: float, other: float = 0.0, tolerance: float = 0.0) -> float:
    """Joint width (ASTM C1472 style): 100 / capability % × (movement + other) + tolerance."""
    return 100 / capability * (movement + other) + tolerance


def width_by_accommodation(movement: float, factor: float) -> float:
    """Least joint width where the factor (%) counts the whole movement on the width as built."""
    return movement / (factor / 100)


def sealed_range(width: float, capability: float) -> tuple[float, float]:
    """How far a sealant follows: ± capability % on the width as built (ISO 11600)."""
    return width * (1 - capability / 100), width * (1 + capability / 100)


def sealant_depth(width: float, share: float, least: float, most: float | None = None) -> float:
    """Depth of sealant: a share of the width within its limits."""
    depth = max(share * width, least)
    return depth if most is None else min(depth, most)


def steel_per_height(area: float, spacing: float) -> float:
    """Area of steel for one unit of height, from the area in one bed and the spacing of beds."""
    return area / spacing


def lesser(height: float, ratio: float, most: float) -> float:
    """Panel length by a length to height ratio and by an absolute limit, whichever is less."""
    return min(ratio * height, most)
