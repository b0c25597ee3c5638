"""A bare number at the word 'area': so many square metres, or feet where these are the region's."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show

SQUARE = {"m": "m²", "ft": "ft²"}


def by_area(scene: Scene) -> None:
    """'area 40', 'area is 55', '30 area'."""
    if not scene.tagged("dim", "area") or "area" in scene.heard.slots:
        return
    for i, item in enumerate(scene.items):
        if not item.tagged("dim", "area") or item.says("walls.building"):
            continue
        before, behind = scene.at(i - 1), scene.at(scene.right(i))
        if before is not None and before.says("walls.building"):
            continue
        size = next((x for x in (behind, before) if x is not None and _bare(x)), None)
        if size is None:
            continue
        further = scene.at(scene.items.index(size) + 1)
        if (
            size is behind
            and further is not None
            and further.tagged("dim")
            and not further.tagged("dim", "area")
        ):
            continue  # 'area 6 long'
        value = plain(size.size, SQUARE[scene.region.units.get("wall", "m")])
        scene.assume("area", value["unit"], f"'{size.text}' was taken as {show(value)}.")
        scene.claim("area", value, size)
        return


def _bare(item: Item) -> bool:
    return item.kind == "measure" and not item.used and not item.size.unit and item.size.value > 0
