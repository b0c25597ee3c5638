"""Bare numbers that are degrees, where the weather alone is spoken of."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def of_the_air(scene: Scene, item: Item) -> bool:
    """'its 8 now', 'can I lay at 4': by the words beside it; of several such the lowest."""
    degrees = [x for i, x in enumerate(scene.items) if x.kind == "measure" and _degrees(scene, i, x)]
    return item in degrees and item.size.value == min(x.size.value for x in degrees)


def _degrees(scene: Scene, i: int, item: Item) -> bool:
    before, beside = scene.at(i - 1), (scene.at(i + 1), scene.at(scene.right(i)))
    said = before is not None and before.says("weather.degrees_before")
    said = said or any(x is not None and x.says("weather.degrees_behind") for x in beside)
    bare = not item.size.unit and not item.used and abs(item.size.value) <= scene.sense.hottest
    return bare and (said or item.size.negative)
