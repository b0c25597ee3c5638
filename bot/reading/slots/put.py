"""One part of a slot that has several."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene


def small_unit(item: Item) -> str:
    """The unit of a small size that is said without one: '5/8' is told in inches."""
    return "in" if "/" in item.text else "mm"


def put(scene: Scene, slot: str, part: str, value: Any, *sources: Item) -> None:
    """Fill one part of a compound slot (block, crack, roll, board, padstone)."""
    had = scene.heard.slots.get(slot, {})
    if part in had and had[part] != value:
        scene.doubt(
            slot,
            f"I read two values for the {slot} {part}. Which one?",
            [
                (str(v.get("value", v) if isinstance(v, dict) else v), {slot: {**had, part: v}})
                for v in (had[part], value)
            ],
            *sources,
        )
        return
    scene.heard.slots[slot] = {**had, part: value}
    for item in sources:
        if item.kind != "phrase":
            item.used = slot
        scene.heard.evidence.setdefault(slot, []).append((item.start, item.end))
