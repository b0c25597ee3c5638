"""A bare number at the word 'area': so many square metres, or feet where these are the region's."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.word_order import counts_coats

SQUARE = {"m": "m²", "ft": "ft²"}


def by_area(scene: Scene) -> None:
    """'area 40', 'area is 55', '30 area'."""
    if "area" in scene.heard.slots:
        return
    if scene.tagged("dim", "square"):
        _squares(scene)
    if not scene.tagged("dim", "area"):
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
        at = scene.items.index(size)
        further = scene.at(at + 1)
        sized = further is not None and further.tagged("dim") and not further.tagged("dim", "area")
        if size is behind and (sized or counts_coats(scene, at)):
            continue  # 'area 6 long', 'area two coats'
        value = plain(size.size, SQUARE[scene.region.units.get("wall", "m")])
        scene.assume("area", value["unit"], f"'{size.text}' was taken as {show(value)}.")
        scene.claim("area", value, size)
        return


def _squares(scene: Scene) -> None:
    """'30 square': square metres or feet, where it is no side of an opening or of a block."""
    told = ("window", "door", "opening", "board", "padstone", "column")
    if scene.openings_told or not scene.nouns.isdisjoint(told):
        return
    for i, item in enumerate(scene.items[:-1]):
        behind, further = scene.items[i + 1], scene.at(i + 2)
        if not _bare(item) or not behind.tagged("dim", "square") or _called(further):
            continue
        value = plain(item.size, SQUARE[scene.region.units.get("wall", "m")])
        scene.assume("area", value["unit"], f"'{item.text} {behind.text}' was taken as {show(value)}.")
        scene.claim("area", value, item)
        return


def _called(further: Item | None) -> bool:
    """'3 square wall', '215 square block': how the thing is called."""
    return further is not None and (further.tagged("noun", "wall") or further.tagged("noun", "block"))


def _bare(item: Item) -> bool:
    return item.kind == "measure" and not item.used and not item.size.unit and item.size.value > 0
