"""Volume of mortar in a wall, and cement, lime and sand in a volume of mortar. Metres, m³, kg; pure sums."""

from __future__ import annotations


def units_per_area(length: float, height: float, joint: float) -> float:
    """Bricks or blocks in a square metre of face, joints counted in."""
    return 1 / ((length + joint) * (height + joint))


def unit_mortar(length: float, height: float, thickness: float, joint: float) -> float:
    """Mortar to one solid unit laid on a full bed, m³."""
    return thickness * ((length + joint) * (height + joint) - length * height)


def leaves(wall: float, unit: float, joint: float) -> int:
    """Whole units side by side in the thickness of a wall: a one-brick wall has two half bricks.

    Half a joint is let pass: nine inches are a little less than two bricks of 110 mm and their joint.
    """
    return max(1, int((wall + joint + joint / 2 + 1e-9) // (unit + joint))) if unit > 0 else 1


def wall_mortar(
    area: float, *, length: float, height: float, unit: float, wall: float, joint: float
) -> float:
    """Mortar of a wall face on full beds, the joint between its leaves counted in, m³, no waste."""
    side_by_side = leaves(wall, unit, joint)
    width = min(unit, wall) if side_by_side > 1 else wall
    solid = units_per_area(length, height, joint) * length * height * width * side_by_side
    return area * (wall - solid)


def raw_parts(raw: float, cement: float, lime: float, sand: float) -> dict[str, float]:
    """A volume of dry stuff, split by the parts."""
    whole = cement + lime + sand
    return {"cement": raw * cement / whole, "lime": raw * lime / whole, "sand": raw * sand / whole}


def by_dry_factor(volume: float, factor: float, cement: float, lime: float, sand: float) -> dict[str, float]:
    """Volumes by one fixed factor from mortar to dry stuff, whatever the mix."""
    return raw_parts(volume * factor, cement, lime, sand)


def by_sand(
    volume: float, sand_per_volume: float, cement: float, lime: float, sand: float
) -> dict[str, float]:
    """Volumes where the sand fills the mortar and cement and lime go into its voids."""
    measure = volume * sand_per_volume / sand
    return {"cement": measure * cement, "lime": measure * lime, "sand": measure * sand}


def cement_mass(
    volume: float, *, sand_per_volume: float, cement: float, lime: float, sand: float, density: float
) -> float:
    """Kilograms of cement in a volume of mortar, by its sand."""
    return by_sand(volume, sand_per_volume, cement, lime, sand)["cement"] * density


def with_waste(volume: float, percent: float) -> float:
    """The volume to make so that `volume` ends in the wall."""
    return volume * (1 + percent / 100)
