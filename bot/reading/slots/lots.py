"""Measures by the lot, where the region has them: 5 brass of plaster, 2 brass of sand."""

from __future__ import annotations

from bot.reading.scene import Scene, show

COVERED = {"render", "mesh", "boards"}  # work that goes by the face


def take_lots(scene: Scene) -> None:
    """The number takes the unit of its lot, and that is said."""
    items = scene.items
    words = [i for i, x in enumerate(items) if i and x.low in scene.region.lots]
    for i in reversed(words):
        item, lot = items[i - 1], scene.region.lots[items[i].low]
        if item.kind != "measure" or item.size.unit:
            continue
        by_face = any(x.tagged("topic", topic) for x in items for topic in COVERED)
        size = item.size
        size.values = tuple(round(value * lot.of, 6) for value in size.values)
        size.unit, size.decimal = lot.area if by_face else lot.volume, False
        item.text, item.end = scene.heard.text[item.start : items[i].end], items[i].end
        del items[i]
        taken = {"value": size.value, "unit": size.unit}
        for slot in ("area",) if by_face else ("wall_volume", "mortar_volume"):
            scene.assume(slot, taken, f"'{item.text}' was taken as {show(taken)}.")
