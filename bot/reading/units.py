"""What a number without a unit may be, by slot and region: candidates are struck out, never rescued."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Measure
from bot.reading.scene import Scene, plain
from knowledge.units import convert, kind

LENGTH = kind("m")
# What a size of each kind may be, in metres: only ever used to strike a reading out.
FEET = {
    "wall": ("ft",),
    "opening": ("ft", "in"),
    "unit": ("in", "ft"),
    "board": ("ft", "in"),
    "plate": ("in",),
}


def candidates(scene: Scene, size: Measure, use: str) -> list[dict[str, Any]]:
    """Every reading of a measure that the region allows for this use (wall, opening, unit, ...)."""
    if size.unit == "%":
        return []
    if size.unit:
        if kind(size.unit) != LENGTH:
            return []
        values = size.values
        if len(values) > 1:
            kept = [v for v in values if _believable(scene, v, size.unit, use)]
            values = tuple(kept) or values
        return [dict(plain(size, size.unit), value=round(-v if size.negative else v, 9)) for v in values]
    if size.negative:
        return [plain(size, "m")]
    table = scene.region.bare.get(use, scene.region.bare["wall"])
    found = []
    for value in size.values:
        for unit, span in table.items():
            if unit in {"ft", "in"} and not scene.feet:
                continue
            if span["least"] <= value <= span["most"]:
                found.append(dict(plain(size, unit), value=round(value, 9)))
        if scene.feet and not size.decimal:
            for unit in FEET.get(use, ()):
                if unit not in table and _believable(scene, value, unit, use):
                    found.append(dict(plain(size, unit), value=round(value, 9)))
    if scene.feet and any(f["unit"] in {"ft", "in"} for f in found) and not size.decimal:
        found = [f for f in found if f["unit"] in {"ft", "in"}]
        if use == "opening":
            found = [f for f in found if _believable(scene, f["value"], f["unit"], use)]
    distinct: list[dict[str, Any]] = []
    for one in found:
        if not any(
            abs(convert(one["value"], one["unit"], d["unit"]) - d["value"]) < 1e-9 * max(1, d["value"])
            for d in distinct
        ):
            distinct.append(one)
    return distinct


def _believable(scene: Scene, value: float, unit: str, use: str) -> bool:
    span = scene.region.bare.get("believable", {}).get(use)
    if span is None:
        return True
    if kind(unit) != LENGTH:  # '3.6N high boards'
        return False
    metres = convert(value, unit, "m")
    return bool(span["least"] <= metres <= span["most"])


def believable(scene: Scene, value: dict[str, Any], use: str) -> bool:
    """Whether a reading lies within what such a size can be."""
    return _believable(scene, value["value"], value["unit"], use)


def pair(scene: Scene, sizes: list[Measure], use: str) -> list[tuple[dict[str, Any], ...]]:
    """Readings of a pair or triple: a unit said for one is lent to the others; of bare ones units agree."""
    said = [s.unit for s in sizes if s.unit]
    if said and any(not s.unit for s in sizes):
        unit = said[-1]
        for size in sizes:
            if not size.unit:
                alone = candidates(scene, size, use)
                lent = Measure(**{k: getattr(size, k) for k in Measure.__slots__})
                lent.unit, lent.lent = unit, True
                options = candidates(scene, lent, use)
                if alone and not all(believable(scene, o, use) for o in options):
                    continue
                if not alone or all(believable(scene, o, use) for o in options):
                    size.unit, size.lent = unit, True
    each = [candidates(scene, s, use) for s in sizes]
    found: list[tuple[dict[str, Any], ...]] = [()]
    for options in each:
        found = [(*head, option) for head in found for option in options]
    if not said and found and all(found[0]):
        alike = [f for f in found if len({x["unit"] for x in f}) == 1]
        if (
            not alike and scene.feet and use == "wall"
        ):  # inches of a block make no feet of a pair with a decimal
            scene.feet = False
            alike = [f for f in pair(scene, sizes, use) if len({x["unit"] for x in f}) == 1]
            scene.feet = True
        found = alike or found
    return found
