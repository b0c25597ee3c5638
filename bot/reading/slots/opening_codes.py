"""'3068 door': a door or window by the feet and inches that its four figures stand for."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene, plain, show

INCHES = 12


def opening_codes(scene: Scene) -> None:
    """Where walls are measured in feet: the first two figures are the width, the others the height."""
    if not scene.feet:
        return
    american = scene.region.units.get("wall") == "ft"
    for i, item in enumerate(scene.items):
        sizes = _sides(item)
        beside = [x for x in (scene.at(i + 1), scene.at(i - 1)) if x is not None]
        door, window = (any(x.tagged("noun", noun) for x in beside) for noun in ("door", "window"))
        if sizes is None or not (door or (window and american)):
            continue
        wide, high = sizes
        least, most = scene.sense.door_feet_high
        if door and not least <= high.value <= most:
            continue
        item.kind, item.sizes = "dims", [wide, high]
        told = f"{show(plain(wide, 'ft'))} wide and {show(plain(high, 'ft'))} high"
        scene.assume("openings", item.text, f"'{item.text}' was taken as {told}.")


def _sides(item: Item) -> tuple[Measure, Measure] | None:
    """Width and height in feet; None where the figures stand for none."""
    text = item.text
    if item.kind != "measure" or item.size.unit or item.used or len(text) != 4 or not text.isdigit():
        return None
    a, b, c, d = map(int, text)
    if not a or not c:
        return None
    wide, high = (
        replace(item.size, values=(feet + inches / INCHES,), unit="ft", decimal=True, lent=True)
        for feet, inches in ((a, b), (c, d))
    )
    return wide, high
