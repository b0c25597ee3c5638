"""Numbers that are degrees, where the weather alone is spoken of."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show


def of_the_air(scene: Scene, item: Item) -> bool:
    """'its 8 now', 'can I lay at 4': by the words beside it; of several such the lowest."""
    degrees = [x for i, x in enumerate(scene.items) if x.kind == "measure" and _degrees(scene, i, x)]
    return item in degrees and item.size.value == min(x.size.value for x in degrees)


def as_it_is(scene: Scene) -> None:
    """'it was -3 now 4': the air of now, and no more that of before."""
    if scene.topics != ["weather"] or not scene.says("weather.was"):
        return
    was = next(i for i, x in enumerate(scene.items) if x.says("weather.was"))
    sizes = [i for i, x in enumerate(scene.items) if _of_air(x) and i > was]
    if len(sizes) != 2 or not any(x.says("weather.now") for x in scene.items[sizes[0] : sizes[1]]):
        return
    scene.aside(scene.items[sizes[0]], "what the air was before")
    now = scene.items[sizes[1]]
    if not now.size.unit and not now.size.negative:
        value = plain(now.size, scene.degrees)
        scene.assume("temperature", value, f"'{now.text}' was taken as {show(value)}.")
        scene.claim("temperature", value, now)


def _of_air(item: Item) -> bool:
    return item.kind == "measure" and not item.used and item.size.unit in {"", "°C", "°F"}


def _degrees(scene: Scene, i: int, item: Item) -> bool:
    before, beside = scene.at(i - 1), (scene.at(i + 1), scene.at(scene.right(i)))
    said = before is not None and before.says("weather.degrees_before")
    said = said or any(x is not None and x.says("weather.degrees_behind") for x in beside)
    bare = not item.size.unit and not item.used and abs(item.size.value) <= scene.sense.hottest
    return bare and (said or item.size.negative)
